#include "app/desktop/shell/foot_line.h"

#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QProgressBar>
#include <QPushButton>

namespace rw {

FootLine::FootLine(Jobs& jobs, QWidget* parent)
    : QWidget(parent)
    , jobs_(jobs) {
    setObjectName(QStringLiteral("foot"));
    setAttribute(Qt::WA_StyledBackground);
    setFixedHeight(4 * gridStep);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(3 * gridStep, 0, 2 * gridStep, 0);
    layout->setSpacing(2 * gridStep);
    said_ = new ShortLabel(Type::Small, Tone::Soft, this);
    said_->setObjectName(QStringLiteral("said"));
    layout->addWidget(said_, 1);

    work_ = new QWidget(this);
    auto* row = new QHBoxLayout(work_);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(gridStep);
    workText_ = new TextLabel(QString(), Type::Small);
    bar_ = new QProgressBar;
    bar_->setTextVisible(false);
    bar_->setFixedWidth(20 * gridStep);
    bar_->setAccessibleName(tr("Progress"));
    stop_ = new QPushButton(tr("Stop"));
    stop_->setObjectName(QStringLiteral("stopJob"));
    stop_->setFont(rw::font(Type::Small));
    stop_->setFixedHeight(3 * gridStep);
    stop_->setStyleSheet(QStringLiteral("padding: 0 10px;"));
    row->addWidget(workText_);
    row->addWidget(bar_);
    row->addWidget(stop_);
    layout->addWidget(work_);

    connect(stop_, &QPushButton::clicked, this, [this] { jobs_.stop(shownJob_); });
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

} // namespace rw
