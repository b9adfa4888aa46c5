// The window's widgets and how they are put together: small texts in their type roles, all plain (nothing that a person
// typed is read as markup); rows and columns and what stands in them, names, pages that scroll, what every dialog has
// around what it asks, and what a workspace shows while it has nothing to show.
#pragma once

#include "plotting/look.h"

#include <QAbstractButton>
#include <QAction>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QTimer>
#include <QVBoxLayout>

#include <functional>

class QLineEdit;
class QStackedWidget;
class QToolButton;

namespace rw {

// How a text is coloured; follows light and dark by itself.
enum class Tone { Ink, Soft, Accent, Warn, Bad };

class TextLabel : public QLabel {
    Q_OBJECT
public:
    explicit TextLabel(const QString& text, Type type = Type::Body, Tone tone = Tone::Ink);
    void setTone(Tone tone);
    void tell(const QString& text); // hidden where there is nothing to tell

protected:
    void changeEvent(QEvent* event) override;

private:
    void recolour();
    Tone tone_;
};

// A text that is wrapped.
[[nodiscard]] TextLabel* paragraph(const QString& text = {}, Type type = Type::Body, Tone tone = Tone::Ink);

// Why a dialog does not close yet; hidden until there is something to tell.
class ComplaintLabel : public TextLabel {
    Q_OBJECT
public:
    ComplaintLabel();
};

// One line whose end is shortened with "…" where there is no room; the whole text is in the tool tip then.
class ShortLabel : public QWidget {
    Q_OBJECT
public:
    explicit ShortLabel(Type type = Type::Body, Tone tone = Tone::Ink);
    void setText(const QString& strong, const QString& rest = {});
    [[nodiscard]] QString text() const { return strong_ + rest_; }
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {5 * gridStep, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    bool event(QEvent* event) override;

private:
    [[nodiscard]] double fullWidth() const;
    Type type_;
    Tone tone_;
    QString strong_, rest_;
};

// A figure with its unit in a lighter weight, and a softer note behind it: "42.8 m/s  41.3 … 44.1".
class FigureLabel : public QWidget {
    Q_OBJECT
public:
    explicit FigureLabel(Type type);
    void setFigure(const QString& figure, const QString& unit = {}, const QString& note = {});
    [[nodiscard]] QString text() const;
    void setAlignment(Qt::Alignment alignment);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    Type type_;
    Qt::Alignment alignment_ = Qt::AlignRight;
    QString figure_, unit_, note_;
};

[[nodiscard]] QColor toneColour(const Look& look, Tone tone);
// A thin horizontal or vertical rule.
[[nodiscard]] QFrame* thinRule(Qt::Orientation orientation = Qt::Horizontal);

// A heading that folds what is under it: title left, a summary in soft ink right. Space, Enter or a click turns it.
class FoldHead : public QAbstractButton {
    Q_OBJECT
public:
    // small: for "more" inside a group.
    FoldHead(const QString& title, bool small);
    void setSummary(const QString& summary);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString summary_;
    bool small_;
};

inline constexpr int usualSpacing = -1; // the style's own

// A column or a row inside a widget, or of its own (Of); no margins unless told.
[[nodiscard]] QVBoxLayout* columnIn(QWidget* inside, int spacing = usualSpacing, const QMargins& margins = {});
[[nodiscard]] QHBoxLayout* rowIn(QWidget* inside, int spacing = usualSpacing, const QMargins& margins = {});
[[nodiscard]] inline QVBoxLayout* columnOf(int spacing = usualSpacing) { return columnIn(nullptr, spacing); }
[[nodiscard]] inline QHBoxLayout* rowOf(int spacing = usualSpacing) { return rowIn(nullptr, spacing); }
// A form with the house's distances; close: of a dialog that asks for little.
[[nodiscard]] QFormLayout* formIn(QWidget* inside = nullptr);
[[nodiscard]] QFormLayout* closeForm();
// A line to type into as a row of a form: under the label's words, without their key, for readers.
QLineEdit* addLine(QFormLayout& form, const QString& label, const QString& text = {}, const QString& placeholder = {});

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

void setVisible(bool visible, std::initializer_list<QWidget*> widgets);

// Scrolls up and down; as wide as there is room. By default the Tab key goes to what is inside, not to the page itself.
[[nodiscard]] QScrollArea* scrolled(QWidget* inside, Qt::FocusPolicy focus = Qt::NoFocus);
void scroll(QScrollArea& area, QWidget* inside, Qt::FocusPolicy focus = Qt::NoFocus); // the same, of one that is there
// Parts that a person can shift, none of them away. A wide handle is a gap without a line.
[[nodiscard]] QSplitter* splitter(Qt::Orientation orientation, std::initializer_list<QWidget*> parts, int handle = 1);
template<class Owner, class Does>
[[nodiscard]] QPushButton* button(const QString& text, Owner* owner, Does does) {
    auto* made = new QPushButton(text);
    QObject::connect(made, &QPushButton::clicked, owner, does);
    return made;
}
// A small button beside or over what it acts on.
[[nodiscard]] QToolButton* smallButton(const QString& text, const QString& tip = {});
// An action of a menu; and what parts actions there.
[[nodiscard]] QAction* action(QObject* owner, const QString& text, const QString& tip, std::function<void()> does,
                              const QKeySequence& keys = {});
[[nodiscard]] QAction* separator(QObject* owner);
// Does it once, so long after the timer was started last.
template<class Owner>
void once(QTimer& timer, int milliseconds, Owner* owner, void (Owner::*does)()) {
    timer.setSingleShot(true);
    timer.setInterval(milliseconds);
    QObject::connect(&timer, &QTimer::timeout, owner, does);
}
// The dialog's column, with its margins.
[[nodiscard]] QVBoxLayout* dialogColumn(QDialog& dialog);
// Its buttons: they accept() and reject() it. yes: the words of the one that accepts, where its own say too little.
[[nodiscard]] QDialogButtonBox* dialogButtons(QDialog& dialog, QDialogButtonBox::StandardButtons buttons,
                                              const QString& yes = {});

// A heading and what to do, one under the other in the middle. Texts among what stands below (TextLabel) are wrapped to
// a readable width.
[[nodiscard]] QWidget* emptyPage(const QString& heading, const QList<QWidget*>& below);

} // namespace rw
