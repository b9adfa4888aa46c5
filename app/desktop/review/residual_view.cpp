#include "app/desktop/review/residual_view.h"

#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/widgets.h"

#include <QComboBox>
#include <QSignalBlocker>

#include <algorithm>
#include <set>

namespace rw {

namespace {

constexpr int overHeight = 21 * gridStep, belowHeight = 14 * gridStep;
constexpr int leftMargin = 7 * gridStep, rightMargin = 2 * gridStep; // both charts: their axes lie over each other

// Stretches that the estimate left out.
void addLeftOut(ChartContent& content, const LearnTrace& trace, double zero, const QString& label) {
    for (std::size_t i = 0; i < trace.used.size();) {
        std::size_t end = i;
        while (end < trace.used.size() && (trace.used[end] != 0) == (trace.used[i] != 0))
            ++end;
        if (trace.used[i] == 0)
            content.regions.push_back({.from = trace.time[i] - zero,
                                       .to = trace.time[std::min(end, trace.time.size() - 1)] - zero,
                                       .label = content.regions.empty() ? label : QString()});
        i = end;
    }
}

} // namespace

ResidualCharts residualCharts(const DayTaught& day, const LearnTrace& trace, const Units& units) {
    const QuantityView view = viewOf(trace.quantity, units);
    const double zero = day.data->review->passes[trace.pass.pass].start;
    ResidualCharts charts;
    ChartSeries log{.name = ResidualView::tr("logged"), .hue = view.hue};
    ChartSeries model{.name = ResidualView::tr("model"), .hue = view.hue, .muted = true, .line = LineKind::Dashed};
    ChartSeries difference{.hue = view.hue};
    for (std::size_t i = 0; i < trace.time.size(); ++i) {
        for (ChartSeries* series : {&log, &model, &difference})
            series->x.push_back(trace.time[i] - zero);
        log.y.push_back(view.unit.shown(trace.measured[i]));
        model.y.push_back(view.unit.shown(trace.model[i]));
        difference.y.push_back((trace.measured[i] - trace.model[i]) * view.unit.factor);
    }
    const auto noise = std::ranges::find(day.report.residuals, trace.quantity, &LearnedResidual::quantity);
    if (noise != day.report.residuals.end() && !difference.x.empty()) {
        const double band = noise->noise * view.unit.factor;
        charts.below.bands.push_back({.name = ResidualView::tr("noise"),
                                      .x = {difference.x.front(), difference.x.back()},
                                      .low = {-band, -band},
                                      .high = {band, band},
                                      .hue = view.hue});
    }
    addLeftOut(charts.over, trace, zero, ResidualView::tr("left out"));
    addLeftOut(charts.below, trace, zero, {});
    charts.over.y = {.title = view.name, .unit = view.unit.symbol, .decimals = view.unit.decimals};
    charts.below.y = {
        .title = ResidualView::tr("difference"), .unit = view.unit.symbol, .decimals = view.unit.decimals + 1};
    charts.below.x = {.title = ResidualView::tr("from open throttle"), .unit = QStringLiteral("s"), .decimals = 1};
    charts.over.x = {.title = QString(), .unit = QString(), .decimals = 1};
    charts.over.series = {std::move(log), std::move(model)};
    charts.below.series = {std::move(difference)};
    return charts;
}

ResidualView::ResidualView(const Units& units)
    : units_(units)
    , quantity_(named(new QComboBox, tr("Quantity of the comparison")))
    , pass_(named(new QComboBox, tr("Pass of the comparison")))
    , over_(new Chart)
    , below_(new Chart) {
    over_->setFixedHeight(overHeight);
    below_->setFixedHeight(belowHeight);
    for (Chart* chart : {over_, below_}) {
        chart->setLink(&axis_);
        chart->setMargins(leftMargin, rightMargin);
    }
    auto* head = new QHBoxLayout;
    lay(*head, {new TextLabel(tr("Where model and log part"), Type::Heading), slack(), quantity_, pass_});
    lay(*columnIn(this, 0), {head, over_, below_});
    connect(quantity_, &QComboBox::currentIndexChanged, this, &ResidualView::draw);
    connect(pass_, &QComboBox::currentIndexChanged, this, &ResidualView::draw);
    connect(&units_, &Units::changed, this, &ResidualView::draw);
}

void ResidualView::setDay(std::shared_ptr<const DayTaught> day) {
    day_ = std::move(day);
    {
        const QSignalBlocker quiet(quantity_), quietToo(pass_);
        const QVariant before = quantity_->currentData();
        quantity_->clear();
        pass_->clear();
        std::set<Quantity> quantities;
        std::set<std::size_t> passes;
        for (const LearnTrace& trace : day_->report.traces) {
            if (quantities.insert(trace.quantity).second)
                quantity_->addItem(viewOf(trace.quantity, units_).name, static_cast<int>(trace.quantity));
            if (passes.insert(trace.pass.pass).second)
                pass_->addItem(tr("pass %1").arg(trace.pass.pass + 1), static_cast<int>(trace.pass.pass));
        }
        quantity_->setCurrentIndex(std::max(0, quantity_->findData(before)));
    }
    draw();
}

void ResidualView::draw() {
    if (!day_) return;
    for (const LearnTrace& trace : day_->report.traces) {
        if (static_cast<int>(trace.quantity) != quantity_->currentData().toInt() ||
            static_cast<int>(trace.pass.pass) != pass_->currentData().toInt() || trace.time.empty())
            continue;
        ResidualCharts charts = residualCharts(*day_, trace, units_);
        const double zero = day_->data->review->passes[trace.pass.pass].start;
        axis_.setBounds({trace.time.front() - zero, trace.time.back() - zero});
        over_->setContent(std::move(charts.over));
        below_->setContent(std::move(charts.below));
        return;
    }
    ChartContent none;
    none.empty = tr("This quantity was not followed in this pass.");
    over_->setContent(none);
    below_->setContent({});
}

} // namespace rw
