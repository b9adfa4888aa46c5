#include "app/desktop/shell/notice_bar.h"

#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QPainter>
#include <QToolButton>

namespace rw {

NoticeBar::NoticeBar(QWidget* parent)
    : QWidget(parent) {
    setObjectName(QStringLiteral("notice"));
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(3 * gridStep, gridStep, 2 * gridStep, gridStep);
    layout->setSpacing(2 * gridStep);
    title_ = new TextLabel(QString(), Type::Strong, Tone::Bad);
    sentence_ = new TextLabel(QString());
    sentence_->setWordWrap(true);
    sentence_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto* close = new QToolButton;
    close->setText(tr("Dismiss"));
    close->setToolTip(tr("Close this notice (Esc)"));
    close->setFocusPolicy(Qt::StrongFocus);
    layout->addWidget(title_);
    layout->addWidget(sentence_, 1);
    layout->addWidget(close);
    connect(close, &QToolButton::clicked, this, &QWidget::hide);
    hide();
}

void NoticeBar::complain(const QString& title, const QString& sentence) {
    title_->setText(title);
    sentence_->setText(sentence);
    setAccessibleName(text());
    show();
}

QString NoticeBar::text() const { return title_->text() + QStringLiteral(": ") + sentence_->text(); }

void NoticeBar::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    painter.fillRect(rect(), look.sheet);
    painter.fillRect(QRect(0, 0, 4, height()), look.bad);
    painter.fillRect(QRect(0, height() - 1, width(), 1), look.rule);
}

void NoticeBar::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape)
        hide();
    else
        QWidget::keyPressEvent(event);
}

} // namespace rw
