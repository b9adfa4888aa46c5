#include "app/desktop/shell/notices.h"

#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/widgets.h"

#include <QKeyEvent>
#include <QPainter>
#include <QProgressBar>
#include <QToolButton>

namespace rw {

FootLine::FootLine(Jobs& jobs, QWidget* parent)
    : QWidget(parent)
    , jobs_(jobs) {
    setObjectName(QStringLiteral("foot"));
    setAttribute(Qt::WA_StyledBackground);
    setFixedHeight(4 * gridStep);
    auto* layout = rowIn(this, 2 * gridStep, {3 * gridStep, 0, 2 * gridStep, 0});
    said_ = tagged(new ShortLabel(Type::Small, Tone::Soft), "said");
    layout->addWidget(said_, 1);

    work_ = new QWidget(this);
    workText_ = new TextLabel(QString(), Type::Small);
    bar_ = named(new QProgressBar, tr("Progress"));
    bar_->setTextVisible(false);
    bar_->setFixedWidth(20 * gridStep);
    stop_ = tagged(button(tr("Stop"), this, [this] { jobs_.stop(shownJob_); }), "stopJob");
    stop_->setFont(rw::font(Type::Small));
    stop_->setFixedHeight(3 * gridStep);
    stop_->setStyleSheet(QStringLiteral("padding: 0 10px;"));
    lay(*rowIn(work_, gridStep), {workText_, bar_, stop_});
    layout->addWidget(work_);

    connect(&jobs_, &Jobs::changed, this, &FootLine::showJobs);
    showJobs();
}

void FootLine::say(const QString& sentence) { said_->setText({}, sentence); }

// The newest job is shown: it is the one that was just asked for.
void FootLine::showJobs() {
    const auto& running = jobs_.running();
    work_->setVisible(!running.empty());
    if (running.empty()) return;
    const Jobs::Job& job = running.back();
    shownJob_ = job.id;
    const int others = static_cast<int>(running.size()) - 1;
    workText_->setText(others == 0 ? job.text : tr("%1, and %2 more").arg(job.text).arg(others));
    bar_->setRange(0, job.share < 0.0 ? 0 : 1000);
    bar_->setValue(static_cast<int>(job.share * 1000.0));
    stop_->setEnabled(job.stop != nullptr);
}

NoticeBar::NoticeBar(QWidget* parent)
    : QWidget(parent) {
    setObjectName(QStringLiteral("notice"));
    title_ = new TextLabel(QString(), Type::Strong, Tone::Bad);
    sentence_ = paragraph();
    sentence_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    auto* close = new QToolButton;
    close->setText(tr("Dismiss"));
    close->setToolTip(tr("Close this notice (Esc)"));
    close->setFocusPolicy(Qt::StrongFocus);
    lay(*rowIn(this, 2 * gridStep, {3 * gridStep, gridStep, 2 * gridStep, gridStep}), {title_, grow(sentence_), close});
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
