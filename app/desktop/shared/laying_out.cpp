#include "app/desktop/shared/widgets.h"

#include <QDialog>
#include <QLineEdit>
#include <QStackedWidget>
#include <QToolButton>

namespace rw {

namespace {

template<class Layout>
Layout* spaced(QWidget* inside, int spacing, const QMargins& margins) {
    auto* layout = new Layout(inside);
    layout->setContentsMargins(margins);
    layout->setSpacing(spacing);
    return layout;
}

} // namespace

QVBoxLayout* columnIn(QWidget* inside, int spacing, const QMargins& margins) {
    return spaced<QVBoxLayout>(inside, spacing, margins);
}

QHBoxLayout* rowIn(QWidget* inside, int spacing, const QMargins& margins) {
    return spaced<QHBoxLayout>(inside, spacing, margins);
}

QFormLayout* formIn(QWidget* inside) {
    auto* form = new QFormLayout(inside);
    form->setHorizontalSpacing(2 * gridStep);
    form->setVerticalSpacing(gridStep);
    return form;
}

QFormLayout* closeForm() {
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    return form;
}

QLineEdit* addLine(QFormLayout& form, const QString& label, const QString& text, const QString& placeholder) {
    auto* line = named(new QLineEdit(text), QString(label).remove(u'&'));
    line->setPlaceholderText(placeholder);
    form.addRow(label, line);
    return line;
}

Piece slack(int share) { return {static_cast<QWidget*>(nullptr), share}; }

Piece gap(int pixels) {
    Piece piece = slack();
    piece.pixels = pixels;
    return piece;
}

void lay(QBoxLayout& to, std::initializer_list<Piece> pieces) {
    for (const Piece& piece : pieces) {
        if (piece.widget)
            to.addWidget(piece.widget, piece.stretch, piece.alignment);
        else if (piece.layout)
            to.addLayout(piece.layout, piece.stretch);
        else if (piece.pixels > 0)
            to.addSpacing(piece.pixels);
        else
            to.addStretch(piece.stretch);
    }
}

void lay(QSplitter& to, std::initializer_list<QWidget*> widgets) {
    for (QWidget* widget : widgets)
        to.addWidget(widget);
}

void lay(QStackedWidget& to, std::initializer_list<QWidget*> widgets) {
    for (QWidget* widget : widgets)
        to.addWidget(widget);
}

void setVisible(bool visible, std::initializer_list<QWidget*> widgets) {
    for (QWidget* widget : widgets)
        widget->setVisible(visible);
}

void scroll(QScrollArea& area, QWidget* inside, Qt::FocusPolicy focus) {
    area.setWidgetResizable(true);
    area.setFrameShape(QFrame::NoFrame);
    area.setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area.setFocusPolicy(focus);
    area.setWidget(inside);
}

QScrollArea* scrolled(QWidget* inside, Qt::FocusPolicy focus) {
    auto* area = new QScrollArea;
    scroll(*area, inside, focus);
    return area;
}

QSplitter* splitter(Qt::Orientation orientation, std::initializer_list<QWidget*> parts, int handle) {
    auto* made = new QSplitter(orientation);
    made->setChildrenCollapsible(false);
    made->setHandleWidth(handle);
    if (handle > 1) made->setObjectName(QStringLiteral("air"));
    lay(*made, parts);
    return made;
}

QToolButton* smallButton(const QString& text, const QString& tip) {
    auto* button = new QToolButton;
    button->setText(text);
    button->setFont(rw::font(Type::Small));
    button->setFocusPolicy(Qt::StrongFocus);
    if (!tip.isEmpty()) button->setToolTip(tip);
    return button;
}

QAction* action(QObject* owner, const QString& text, const QString& tip, std::function<void()> does,
                const QKeySequence& keys) {
    auto* made = new QAction(text, owner);
    made->setStatusTip(tip);
    if (!tip.isEmpty()) made->setToolTip(tip);
    made->setShortcut(keys);
    QObject::connect(made, &QAction::triggered, owner, std::move(does));
    return made;
}

QAction* separator(QObject* owner) {
    auto* made = new QAction(owner);
    made->setSeparator(true);
    return made;
}

QVBoxLayout* dialogColumn(QDialog& dialog) {
    return columnIn(&dialog, 2 * gridStep, {3 * gridStep, 3 * gridStep, 3 * gridStep, 2 * gridStep});
}

QDialogButtonBox* dialogButtons(QDialog& dialog, QDialogButtonBox::StandardButtons buttons, const QString& yes) {
    auto* box = new QDialogButtonBox(buttons);
    if (!yes.isEmpty()) box->button(QDialogButtonBox::Ok)->setText(yes);
    QObject::connect(box, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
    QObject::connect(box, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    return box;
}

QWidget* emptyPage(const QString& heading, const QList<QWidget*>& below) {
    constexpr int readable = 60 * gridStep;
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setSpacing(2 * gridStep);
    column->addStretch(2);
    for (QWidget* widget : QList<QWidget*>{new TextLabel(heading, Type::Heading)} + below) {
        if (auto* text = qobject_cast<TextLabel*>(widget)) {
            text->setWordWrap(true);
            text->setAlignment(Qt::AlignHCenter);
            text->setFixedWidth(readable);
        }
        // In a row of its own a wrapped text has the height of its own width; aligned in the column it would be given
        // that of the page's, and lose its last lines.
        column->addLayout(laid(new QHBoxLayout, {slack(), widget, slack()}));
    }
    column->addStretch(3);
    return page;
}

} // namespace rw
