// How widgets are put together: rows and columns and what stands in them, names, pages that scroll, what every dialog
// has around what it asks, and what a workspace shows while it has nothing to show.
#pragma once

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QScrollArea>
#include <QSplitter>
#include <QVBoxLayout>

class QStackedWidget;
class QToolButton;

namespace rw {

inline constexpr int usualSpacing = -1; // the style's own

// A column or a row inside a widget, or of its own (Of); no margins unless told.
[[nodiscard]] QVBoxLayout* columnIn(QWidget* inside, int spacing = usualSpacing, const QMargins& margins = {});
[[nodiscard]] QHBoxLayout* rowIn(QWidget* inside, int spacing = usualSpacing, const QMargins& margins = {});
[[nodiscard]] inline QVBoxLayout* columnOf(int spacing = usualSpacing) { return columnIn(nullptr, spacing); }
[[nodiscard]] inline QHBoxLayout* rowOf(int spacing = usualSpacing) { return rowIn(nullptr, spacing); }
// A form with the house's distances.
[[nodiscard]] QFormLayout* formIn(QWidget* inside = nullptr);

// What stands in a row or column: a widget, another layout, or a gap.
struct Piece {
    Piece(QWidget* one, int share = 0, Qt::Alignment where = {})
        : widget(one)
        , stretch(share)
        , alignment(where) {}
    Piece(QLayout* one, int share = 0)
        : layout(one)
        , stretch(share) {}
    QWidget* widget = nullptr;
    QLayout* layout = nullptr;
    int stretch = 0, pixels = 0;
    Qt::Alignment alignment;
};
// Takes the room that is left, as a part of it.
template<class Part>
[[nodiscard]] Piece grow(Part* part, int share = 1) {
    return {part, share};
}
[[nodiscard]] Piece slack(int share = 0);
[[nodiscard]] Piece gap(int pixels);
void lay(QBoxLayout& to, std::initializer_list<Piece> pieces);
void lay(QSplitter& to, std::initializer_list<QWidget*> widgets);
void lay(QStackedWidget& to, std::initializer_list<QWidget*> widgets);
template<class Layout>
Layout* laid(Layout* layout, std::initializer_list<Piece> pieces) {
    lay(*layout, pieces);
    return layout;
}

// A widget by a name that tests and style sheets find it by, and by the one that readers say.
template<class Widget>
Widget* tagged(Widget* widget, const char* object) {
    widget->setObjectName(QLatin1String(object));
    return widget;
}
template<class Widget>
Widget* named(Widget* widget, const QString& spoken, const char* object = nullptr) {
    widget->setAccessibleName(spoken);
    return object ? tagged(widget, object) : widget;
}

// Scrolls up and down; as wide as there is room. By default the Tab key goes to what is inside, not to the page itself.
[[nodiscard]] QScrollArea* scrolled(QWidget* inside, Qt::FocusPolicy focus = Qt::NoFocus);
// Parts that a person can shift, none of them away. A wide handle is a gap without a line.
[[nodiscard]] QSplitter* splitter(Qt::Orientation orientation, std::initializer_list<QWidget*> parts, int handle = 1);
// A small button beside or over what it acts on.
[[nodiscard]] QToolButton* smallButton(const QString& text, const QString& tip = {});
// The dialog's column, with its margins.
[[nodiscard]] QVBoxLayout* dialogColumn(QDialog& dialog);
// Its buttons: they accept() and reject() it. yes: the words of the one that accepts, where its own say too little.
[[nodiscard]] QDialogButtonBox* dialogButtons(QDialog& dialog, QDialogButtonBox::StandardButtons buttons,
                                              const QString& yes = {});

// A heading and what to do, one under the other in the middle. Texts among what stands below (TextLabel) are wrapped to
// a readable width.
[[nodiscard]] QWidget* emptyPage(const QString& heading, const QList<QWidget*>& below);

} // namespace rw
