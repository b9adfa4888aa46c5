#include "app/desktop/plan/plan_columns.h"

#include "app/desktop/plan/edge_rail.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QSplitter>
#include <QToolButton>
#include <QVBoxLayout>

namespace rw {

namespace {

constexpr int roomForThree = 120 * gridStep;
constexpr int roomForTwo = 108 * gridStep; // the bench beside a middle whose tabs are all in sight

} // namespace

PlanColumns::PlanColumns(SetupPanel& setup, QWidget& middle, HoldPanel& hold, QWidget* parent)
    : QWidget(parent)
    , setup_(setup)
    , hold_(hold) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    makeAnswerRow();
    column->addWidget(answerRow_);
    columns_ = new QSplitter(Qt::Horizontal);
    columns_->setChildrenCollapsible(false);
    columns_->setHandleWidth(1);
    columns_->addWidget(&setup_);
    columns_->addWidget(&middle);
    columns_->addWidget(&hold_);
    columns_->setStretchFactor(1, 1);
    setup_.setMinimumWidth(39 * gridStep);
    hold_.setMinimumWidth(34 * gridStep); // its longest row in one line
    columns_->setSizes({40 * gridStep, 98 * gridStep, 34 * gridStep});
    makeRails();
    auto* row = new QHBoxLayout;
    row->setSpacing(0);
    row->addWidget(benchRail_);
    row->addWidget(columns_, 1);
    row->addWidget(limitsRail_);
    column->addLayout(row, 1);
}

void PlanColumns::makeRails() {
    benchRail_ = new EdgeRail(Qt::LeftEdge);
    benchRail_->setObjectName(QStringLiteral("benchRail"));
    limitsRail_ = new EdgeRail(Qt::RightEdge);
    limitsRail_->setObjectName(QStringLiteral("limitsRail"));
    setBenchWords({});
    for (EdgeRail* rail : {benchRail_, limitsRail_}) {
        rail->hide();
        connect(rail, &EdgeRail::toggled, this, &PlanColumns::place);
    }
}

void PlanColumns::setBenchWords(const QString& words) { benchRail_->setWords(tr("On the bench"), words); }

void PlanColumns::makeAnswerRow() {
    answerRow_ = new QWidget;
    auto* row = new QHBoxLayout(answerRow_);
    row->setContentsMargins(20, gridStep / 2, 2 * gridStep, gridStep / 2);
    answer_ = new ShortLabel;
    limits_ = new QToolButton;
    limits_->setObjectName(QStringLiteral("showLimits"));
    limits_->setText(tr("Limits"));
    limits_->setCheckable(true);
    limits_->setFocusPolicy(Qt::StrongFocus);
    limits_->setToolTip(tr("The limits in place of the bench, and back"));
    row->addWidget(answer_, 1);
    row->addWidget(limits_);
    answerRow_->hide();
    connect(limits_, &QToolButton::toggled, this, &PlanColumns::place);
    connect(&hold_, &HoldPanel::answered, this, [this] {
        answer_->setText({}, hold_.sentence());
        limitsRail_->setWords(tr("Will it hold?"), hold_.sentence());
    });
}

void PlanColumns::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    place();
}

void PlanColumns::place() {
    const bool narrow = width() < roomForThree;
    const bool folded = alone_ || width() < roomForTwo;
    answerRow_->setVisible(narrow && !alone_);
    benchRail_->setVisible(folded);
    limitsRail_->setVisible(alone_);
    hold_.setVisible(alone_ ? limitsRail_->isChecked() : !narrow || limits_->isChecked());
    const bool benchGivesWay = !alone_ && narrow && limits_->isChecked();
    setup_.setVisible((!folded || benchRail_->isChecked()) && !benchGivesWay);
    emit placed();
}

void PlanColumns::showBench() {
    limits_->setChecked(false);
    benchRail_->setChecked(true);
    place();
}

bool PlanColumns::limitsShown() const { return !hold_.isHidden(); }

void PlanColumns::setAlone(bool alone) {
    if (alone == alone_) return;
    alone_ = alone;
    benchRail_->setChecked(false);
    limitsRail_->setChecked(false);
    place();
}

QByteArray PlanColumns::saveState() const { return columns_->saveState(); }
void PlanColumns::restoreState(const QByteArray& state) { columns_->restoreState(state); }

} // namespace rw
