#include "app/desktop/plan/plan_columns.h"

#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/look.h"

#include <QPainter>
#include <QToolButton>

namespace rw {

constexpr int roomForThree = 120 * gridStep;
constexpr int roomForTwo = 108 * gridStep; // the bench beside a middle whose tabs are all in sight

EdgeRail::EdgeRail(Qt::Edge edge)
    : edge_(edge) {
    setCheckable(true);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
    setCursor(Qt::PointingHandCursor);
    setAttribute(Qt::WA_Hover);
    setToolTip(tr("Show it, and fold it away again"));
}

QSize EdgeRail::sizeHint() const { return {4 * gridStep, 30 * gridStep}; }

void EdgeRail::setWords(const QString& strong, const QString& rest) {
    strong_ = strong, rest_ = rest;
    setAccessibleName(strong);
    setAccessibleDescription(rest);
    update();
}

void EdgeRail::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    if (isChecked() || underMouse() || hasFocus()) painter.fillRect(rect(), look.wash);
    painter.setPen(QPen(look.rule, 1.0));
    const double side = edge_ == Qt::LeftEdge ? width() - 0.5 : 0.5;
    painter.drawLine(QPointF(side, 0.0), QPointF(side, height()));
    if (hasFocus()) {
        painter.setPen(QPen(look.accent, 1.0));
        painter.drawRect(QRectF(rect()).adjusted(1.5, 1.5, -1.5, -1.5));
    }
    // Read downwards, as on the back of a book.
    painter.translate(width(), 0.0);
    painter.rotate(90.0);
    const QRectF line(2.0 * gridStep, 0.0, height() - 4.0 * gridStep, width());
    setInk(painter, Type::SmallStrong, look.ink);
    painter.drawText(line, Qt::AlignLeft | Qt::AlignVCenter, strong_);
    const double taken = painter.fontMetrics().horizontalAdvance(strong_ + QStringLiteral("  "));
    setInk(painter, Type::Small, look.soft);
    painter.drawText(line.adjusted(taken, 0.0, 0.0, 0.0), Qt::AlignLeft | Qt::AlignVCenter,
                     painter.fontMetrics().elidedText(rest_, Qt::ElideRight, static_cast<int>(line.width() - taken)));
}

PlanColumns::PlanColumns(SetupPanel& setup, QWidget& middle, HoldPanel& hold)
    : setup_(setup)
    , hold_(hold) {
    makeAnswerRow();
    columns_ = splitter(Qt::Horizontal, {&setup_, &middle, &hold_});
    columns_->setStretchFactor(1, 1);
    setup_.setMinimumWidth(39 * gridStep);
    hold_.setMinimumWidth(34 * gridStep); // its longest row in one line
    columns_->setSizes({40 * gridStep, 98 * gridStep, 34 * gridStep});
    makeRails();
    lay(*columnIn(this, 0), {answerRow_, grow(laid(rowOf(0), {benchRail_, grow(columns_), limitsRail_}))});
}

void PlanColumns::makeRails() {
    benchRail_ = tagged(new EdgeRail(Qt::LeftEdge), "benchRail");
    limitsRail_ = tagged(new EdgeRail(Qt::RightEdge), "limitsRail");
    setBenchWords({});
    for (EdgeRail* rail : {benchRail_, limitsRail_}) {
        rail->hide();
        connect(rail, &EdgeRail::toggled, this, &PlanColumns::place);
    }
}

void PlanColumns::setBenchWords(const QString& words) { benchRail_->setWords(tr("On the bench"), words); }

void PlanColumns::makeAnswerRow() {
    answerRow_ = new QWidget;
    answer_ = new ShortLabel;
    limits_ = tagged(new QToolButton, "showLimits");
    limits_->setText(tr("Limits"));
    limits_->setCheckable(true);
    limits_->setFocusPolicy(Qt::StrongFocus);
    limits_->setToolTip(tr("The limits in place of the bench, and back"));
    lay(*rowIn(answerRow_, usualSpacing, {20, gridStep / 2, 2 * gridStep, gridStep / 2}), {grow(answer_), limits_});
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

} // namespace rw
