#include "app/desktop/garage/labels_outlook.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/widgets.h"
#include "core/plan/limits.h"
#include "plotting/look.h"
#include "plotting/range.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double lineHeight = 2.0 * gridStep, labelWidth = 10.0 * gridStep, axisHeight = 3.0 * gridStep, unitGap = 10.0;

QColor paler(QColor color, float alpha) {
    color.setAlphaF(alpha);
    return color;
}

constexpr std::size_t runs = 600; // a band to a few per cent, in a blink

QString percent(double share) { return figure(100.0 * share, 0); }

TextLabel* addPair(QVBoxLayout& column, TextLabel* left, TextLabel* right) {
    column.addLayout(laid(rowOf(), {grow(left), Piece(right, 0, Qt::AlignRight)}));
    return right;
}

} // namespace

SpeedBands::SpeedBands(bool numbered)
    : numbered_(numbered) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void SpeedBands::setContent(const BandAxis& axis, std::vector<BandLine> lines, const QString& unit) {
    axis_ = axis, lines_ = std::move(lines), unit_ = unit;
    setFixedHeight(sizeHint().height());
    update();
}

QSize SpeedBands::sizeHint() const {
    const double height = static_cast<double>(lines_.size()) * lineHeight + (numbered_ ? axisHeight : 0.0);
    return {24 * gridStep, static_cast<int>(height)};
}

void SpeedBands::paintEvent(QPaintEvent*) {
    if (!(axis_.high > axis_.low)) return;
    const Look& look = Look::of(this);
    QPainter painter(this);
    painter.setFont(rw::font(Type::Small));
    const double right = width() - labelWidth;
    const auto at = [&](double speed) { return (speed - axis_.low) / (axis_.high - axis_.low) * right; };
    const QColor blue = look.hue(Hue::Speed);
    const double bottom = static_cast<double>(lines_.size()) * lineHeight;
    if (axis_.target) {
        painter.setPen(QPen(look.ink, 1.0, Qt::DotLine));
        painter.drawLine(QPointF(at(*axis_.target), 0.0), QPointF(at(*axis_.target), bottom));
    }
    double y = 0.0;
    for (const BandLine& line : lines_) {
        const auto bar = [&](std::optional<double> low, std::optional<double> high, const QColor& color, double thick) {
            if (low && high)
                painter.fillRect(QRectF(at(*low), y + 0.5 * (lineHeight - thick), at(*high) - at(*low), thick), color);
        };
        bar(line.paleLow, line.paleHigh, paler(blue, 0.28F), line.low ? 8.0 : 5.0);
        bar(line.low, line.high, paler(blue, 0.85F), 8.0);
        if (line.tick) painter.fillRect(QRectF(at(*line.tick) - 1.0, y + 2.0, 2.0, lineHeight - 4.0), look.ink);
        painter.setPen(look.soft);
        painter.drawText(
            QRectF(right + 4.0, y, labelWidth - 4.0, lineHeight), Qt::AlignLeft | Qt::AlignVCenter,
            painter.fontMetrics().elidedText(line.label, Qt::ElideRight, static_cast<int>(labelWidth) - 4));
        y += lineHeight;
    }
    if (!numbered_) return;
    painter.setPen(look.rule);
    painter.drawLine(QPointF(0.0, bottom + 4.0), QPointF(right, bottom + 4.0));
    painter.setPen(look.soft);
    for (const double speed : ticks({axis_.low, axis_.high}, 4)) {
        painter.drawLine(QPointF(at(speed), bottom + 4.0), QPointF(at(speed), bottom + 7.0));
        if (at(speed) > right - unitGap) continue; // the unit stands there
        drawFigures(painter, QRectF(at(speed) - 30.0, bottom + 7.0, 60.0, axisHeight - 7.0),
                    Qt::AlignHCenter | Qt::AlignVCenter, QString::number(speed, 'g', 4));
    }
    painter.drawText(QRectF(right + 4.0, bottom, labelWidth, axisHeight), Qt::AlignLeft | Qt::AlignVCenter, unit_);
}

LabelsOutcome foretellLabels(const LabelsInput& labels, std::stop_token stop) {
    LabelsOutcome out;
    out.estimated = estimatePlan(labels);
    const PlanResult plan = simulatePlan(out.estimated.plan);
    if (!plan.passes.empty()) out.zoneMean = plan.passes.front().zoneMean;
    out.margins = plan.margins;
    out.spread = spreadPlan(out.estimated.plan, {runs, 1, {.stop = std::move(stop), .progress = {}, .threads = 0}});
    return out;
}

LabelsOutlook::LabelsOutlook(const Units& units)
    : units_(units) {
    auto* outer = columnIn(this, gridStep);
    why_ = tagged(paragraph({}, Type::Body, Tone::Soft), "labelsWhy");
    body_ = new QWidget;
    auto* column = columnIn(body_, 4);
    makeTop(*column);
    makeLimits(*column);
    makeAsks(*column);
    column->addStretch();
    lay(*outer, {new TextLabel(tr("Through the timed zone"), Type::Strong), why_, grow(body_), slack()});
    body_->hide();
}

void LabelsOutlook::makeTop(QVBoxLayout& column) {
    speed_ = tagged(new FigureLabel(Type::Figure), "labelsSpeed");
    speed_->setAlignment(Qt::AlignLeft);
    band_ = tagged(new TextLabel({}, Type::Body), "labelsBand");
    bands_ = new SpeedBands(true);
    chance_ = new TextLabel({}, Type::Body);
    auto* line = laid(new QHBoxLayout, {grow(speed_), Piece(band_, 0, Qt::AlignBottom | Qt::AlignRight)});
    lay(column, {line, bands_, chance_, gap(gridStep)});
}

void LabelsOutlook::makeLimits(QVBoxLayout& column) {
    column.addWidget(new TextLabel(tr("Tightest limits"), Type::Strong));
    for (LimitLine& line : limits_) {
        line.name = new TextLabel({}, Type::Small);
        line.figures = addPair(column, line.name, new TextLabel({}, Type::Small));
        line.bar = new SpeedBands(false);
        column.addWidget(line.bar);
    }
    notJudged_ = paragraph({}, Type::Small, Tone::Soft);
    lay(column, {notJudged_, gap(gridStep)});
}

void LabelsOutlook::makeAsks(QVBoxLayout& column) {
    column.addWidget(new TextLabel(tr("Measuring these three would narrow it most"), Type::Strong));
    for (AskLine& line : asks_) {
        column.addWidget(thinRule(Qt::Horizontal));
        line.name = new TextLabel({}, Type::SmallStrong);
        line.figures = addPair(column, line.name, new TextLabel({}, Type::Small));
        line.how = new ShortLabel(Type::Small, Tone::Soft);
        line.bar = new SpeedBands(false);
        lay(column, {line.how, line.bar});
    }
}

void LabelsOutlook::show(std::shared_ptr<const LabelsOutcome> outcome, const QString& moved, const QString& why) {
    if (outcome && outcome_) {
        const Band &was = outcome_->spread.worth.bestTogether.before, &is = outcome->spread.worth.bestTogether.before;
        if (was.p05 != is.p05 || was.p95 != is.p95) {
            earlier_.push_back({latest_, was});
            if (earlier_.size() > 2) earlier_.erase(earlier_.begin());
            latest_ = moved;
        }
    } else if (outcome) {
        latest_ = tr("first plan");
    }
    outcome_ = std::move(outcome);
    why_->tell(why);
    redraw();
}

QString LabelsOutlook::bandText(const Band& band) const {
    return tr("%1 … %2").arg(units_.figure(Dimension::Speed, band.p05, 0),
                             units_.figure(Dimension::Speed, band.p95, 0));
}

BandAxis LabelsOutlook::axis() const {
    const UnitView unit = units_.of(Dimension::Speed);
    BandAxis out{1e9, -1e9, {}};
    const auto hold = [&](std::optional<double> speed) {
        if (!speed) return;
        out.low = std::min(out.low, unit.shown(*speed)), out.high = std::max(out.high, unit.shown(*speed));
    };
    const auto& before = outcome_->spread.worth.bestTogether.before;
    hold(before.p05), hold(before.p95);
    for (const Earlier& earlier : earlier_)
        hold(earlier.band.p05), hold(earlier.band.p95);
    if (const auto target = outcome_->estimated.plan.drive.target_mps) {
        hold(target);
        out.target = unit.shown(*target);
    }
    const double margin = 0.05 * (out.high - out.low);
    out.low -= margin, out.high += margin;
    return out;
}

void LabelsOutlook::redraw() {
    const bool told = outcome_ && outcome_->spread.worth.bestTogether.before.p05;
    body_->setVisible(told);
    if (!told) return;
    const BandAxis shared = axis();
    drawTop(shared);
    drawLimits();
    drawAsks(shared);
}

void LabelsOutlook::drawTop(const BandAxis& axis) {
    const UnitView unit = units_.of(Dimension::Speed);
    const Band& now = outcome_->spread.worth.bestTogether.before;
    speed_->setFigure(units_.figure(Dimension::Speed, outcome_->zoneMean, 0), unit.symbol);
    band_->setText(tr("%1 nine in ten").arg(bandText(now)));
    std::vector<BandLine> lines;
    for (const Earlier& earlier : earlier_)
        lines.push_back({unit.shown(earlier.band.p05), unit.shown(earlier.band.p95), {}, {}, {}, earlier.label});
    lines.push_back({{}, {}, unit.shown(now.p05), unit.shown(now.p95), unit.shown(outcome_->zoneMean), tr("now")});
    bands_->setContent(axis, std::move(lines), unit.symbol);
    const auto chance = outcome_->spread.targetProbability;
    chance_->tell(chance ? tr("makes the target: %1 %").arg(percent(*chance)) : QString());
}

void LabelsOutlook::drawLimits() {
    std::size_t next = 0;
    for (const Margin& margin : outcome_->margins) {
        if (next == limits_.size()) break;
        const LimitRow& row = limitRow(margin.limit);
        const auto& all = outcome_->spread.limits;
        const auto found = std::ranges::find(all, margin.limit, &SpreadLimit::limit);
        if (found == all.end()) continue;
        LimitLine& line = limits_[next++];
        line.name->setText(QString::fromUtf8(row.title));
        const bool broken = margin.margin < 0.0;
        line.figures->setText(broken ? tr("%1 % over").arg(percent(-margin.margin))
                                     : tr("%1 % left, %2 … %3")
                                           .arg(percent(margin.margin), percent(found->margin.p05.value_or(0.0)),
                                                percent(found->margin.p95.value_or(0.0))));
        line.figures->setTone(broken ? Tone::Bad : Tone::Ink);
        const auto used = [](std::optional<double> left) { return left ? std::optional(1.0 - *left) : left; };
        line.bar->setContent({0.0, 1.25, 1.0},
                             {{used(found->margin.p95), used(found->margin.p05), {}, {}, used(margin.margin), {}}}, {});
    }
    QStringList unjudged;
    for (const LimitRow& row : limitTable())
        if (!row.allowed(outcome_->estimated.plan)) unjudged << QString::fromUtf8(row.shortName);
    unjudged.removeDuplicates();
    notJudged_->tell(unjudged.isEmpty()
                         ? QString()
                         : tr("Not judged, no rating given: %1.").arg(unjudged.join(QStringLiteral(", "))));
}

void LabelsOutlook::drawAsks(const BandAxis& axis) {
    const UnitView unit = units_.of(Dimension::Speed);
    const std::vector<Worth> ask = worthAsking(outcome_->spread.worth);
    const BandChange& together = outcome_->spread.worth.bestTogether;
    for (std::size_t i = 0; i < asks_.size(); ++i) {
        AskLine& line = asks_[i];
        const bool all = i + 1 == asks_.size();
        const bool visible = all ? ask.size() > 1 : i < ask.size();
        rw::setVisible(visible, {line.name, line.how, line.figures, line.bar});
        if (!visible) continue;
        const BandChange& change = all ? together : ask[i].zoneMean;
        line.name->setText(all ? tr("All of them") : fieldLabel(*findPlanField(ask[i].key)));
        line.how->setText({}, all ? tr("pale: now, %1; solid: then").arg(bandText(together.before))
                                  : QString::fromUtf8(ask[i].method));
        line.figures->setText(tr("%1   %2 → %3 wide")
                                  .arg(bandText(change.after), figure(change.before.width() * unit.factor, 0),
                                       figure(change.after.width() * unit.factor, 0)));
        line.bar->setContent(axis,
                             {{unit.shown(change.before.p05), unit.shown(change.before.p95),
                               unit.shown(change.after.p05), unit.shown(change.after.p95), std::nullopt, QString()}},
                             {});
    }
}

} // namespace rw
