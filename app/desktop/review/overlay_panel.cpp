#include "app/desktop/review/overlay_panel.h"

#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/labels.h"
#include "plotting/chart.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QListWidget>
#include <QShowEvent>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include <algorithm>

namespace rw {

namespace {

enum { LogRole = Qt::UserRole, PassRole };
constexpr int mostTraces = 8; // as many as there are colours

} // namespace

OverlayPanel::OverlayPanel(ReviewDesk& review, QWidget* parent)
    : QWidget(parent)
    , review_(review)
    , passes_(new QListWidget)
    , quantity_(new QComboBox)
    , over_(new QComboBox)
    , plan_(new QCheckBox(tr("Plan")))
    , chart_(new Chart) {
    passes_->setAccessibleName(tr("Passes laid over each other"));
    quantity_->setAccessibleName(tr("Quantity"));
    over_->setAccessibleName(tr("Over time or distance"));
    over_->addItem(tr("over time"), static_cast<int>(CompareAxis::Time));
    over_->addItem(tr("over distance"), static_cast<int>(CompareAxis::Distance));
    plan_->setChecked(true);
    plan_->setToolTip(tr("The prediction of the setup on the bench as one more trace"));

    auto* head = new QHBoxLayout;
    head->addWidget(quantity_);
    head->addWidget(over_);
    head->addWidget(plan_);
    head->addStretch();
    auto* right = new QVBoxLayout;
    right->addLayout(head);
    right->addWidget(chart_, 1);
    auto* left = new QVBoxLayout;
    left->addWidget(new TextLabel(tr("Passes, at most %1").arg(mostTraces), Type::Small, Tone::Soft));
    left->addWidget(passes_, 1);
    passes_->setFixedWidth(26 * gridStep);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, gridStep, 0, 0);
    row->setSpacing(2 * gridStep);
    row->addLayout(left);
    row->addLayout(right, 1);

    connect(&review, &ReviewDesk::logsChanged, this, [this] { fillPasses(); });
    connect(&review, &ReviewDesk::dataChanged, this, [this] { fillQuantities(); });
    connect(&review.desk().units, &Units::changed, this, &OverlayPanel::draw);
    connect(passes_, &QListWidget::itemChanged, this, &OverlayPanel::draw);
    connect(quantity_, &QComboBox::currentIndexChanged, this, &OverlayPanel::draw);
    connect(over_, &QComboBox::currentIndexChanged, this, &OverlayPanel::draw);
    connect(plan_, &QCheckBox::toggled, this, &OverlayPanel::draw);
    fillQuantities();
    fillPasses();
}

void OverlayPanel::showEvent(QShowEvent* event) {
    QWidget::showEvent(event);
    if (stale_)
        fillPasses(); // draws
    else
        draw();
}

void OverlayPanel::fillQuantities() {
    const QSignalBlocker quiet(quantity_);
    const QVariant before = quantity_->currentData();
    quantity_->clear();
    if (const auto current = review_.data()) {
        for (const LaneSource& source : current->columns) {
            quantity_->addItem(viewOf(source.quantity, review_.desk().units).name, static_cast<int>(source.quantity));
        }
        // Speed comes from the wheels where nothing measures it.
        if (quantity_->findData(static_cast<int>(Quantity::Speed)) < 0) {
            quantity_->insertItem(0, viewOf(Quantity::Speed, review_.desk().units).name,
                                  static_cast<int>(Quantity::Speed));
        }
    }
    quantity_->setCurrentIndex(std::max(0, quantity_->findData(before)));
    draw();
}

void OverlayPanel::fillPasses() {
    stale_ = !isVisible();
    if (stale_) return;
    const QSignalBlocker quiet(passes_);
    std::vector<std::pair<int, int>> chosen;
    for (int i = 0; i < passes_->count(); ++i) {
        const QListWidgetItem* item = passes_->item(i);
        if (item->checkState() == Qt::Checked)
            chosen.emplace_back(item->data(LogRole).toInt(), item->data(PassRole).toInt());
    }
    passes_->clear();
    const bool several = review_.logs().size() > 1;
    for (const auto& log : review_.logs()) {
        for (std::size_t pass = 0; pass < log->review->passes.size(); ++pass) {
            QString name = tr("pass %1").arg(pass + 1);
            if (several)
                name += QStringLiteral(" · ") + QFileInfo(QString::fromStdString(log->source.path)).completeBaseName();
            auto* item = new QListWidgetItem(name);
            item->setData(LogRole, log->id);
            item->setData(PassRole, static_cast<int>(pass));
            item->setToolTip(QStringLiteral("<p>%1</p>").arg(name.toHtmlEscaped()));
            const std::pair<int, int> key(log->id, static_cast<int>(pass));
            const bool first = chosen.empty() && passes_->count() < 3;
            const bool kept = std::find(chosen.begin(), chosen.end(), key) != chosen.end();
            item->setCheckState(first || kept ? Qt::Checked : Qt::Unchecked);
            passes_->addItem(item); // only now: each change of an item in a list is told to all who look
        }
    }
    draw();
}

void OverlayPanel::draw() {
    if (!isVisible()) return; // drawn when it is looked at
    ChartContent content;
    content.empty = tr("Tick passes on the left to lay them over each other.");
    const auto quantity = static_cast<Quantity>(quantity_->currentData().toInt());
    const auto axis = static_cast<CompareAxis>(over_->currentData().toInt());
    const Units& units = review_.desk().units;
    const QuantityView view = viewOf(quantity, units);
    const UnitView distance = units.of(Dimension::Distance);
    const bool overTime = axis == CompareAxis::Time;
    content.x = {.title = overTime ? tr("from open throttle") : tr("distance"),
                 .unit = overTime ? QStringLiteral("s") : distance.symbol,
                 .decimals = overTime ? 2 : 0};
    content.y = {
        .title = view.name, .unit = view.unit.symbol, .decimals = view.unit.decimals, .fromZero = view.fromZero};
    const auto add = [&](const PassTrace& trace, const QString& name, int colour, bool muted) {
        ChartSeries series{.name = name, .hue = colour, .muted = muted};
        const std::vector<double>& places = overTime ? trace.time : trace.distance;
        if (places.size() != trace.value.size() || places.empty()) return;
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (!series.x.empty() && places[i] * (overTime ? 1.0 : distance.factor) <= series.x.back())
                continue; // standing still
            series.x.push_back(overTime ? places[i] : distance.shown(places[i]));
            series.y.push_back(view.unit.shown(trace.value[i]));
        }
        if (muted) series.line = LineKind::Dashed;
        content.series.push_back(std::move(series));
    };
    int traces = 0;
    for (int i = 0; i < passes_->count() && traces < mostTraces; ++i) {
        const QListWidgetItem* item = passes_->item(i);
        if (item->checkState() != Qt::Checked) continue;
        for (const auto& log : review_.logs()) {
            if (log->id != item->data(LogRole).toInt()) continue;
            const auto pass = static_cast<std::size_t>(item->data(PassRole).toInt());
            if (pass >= log->review->passes.size()) continue;
            add(passTrace(*log->log, *log->review, log->options, pass, quantity, 3.0), item->text(), traces++, false);
        }
    }
    if (const auto current = review_.data(); current && plan_->isChecked() && traces > 0 && current->options.plan) {
        add(planTrace(*current->options.plan, quantity), tr("planned"), 0, true);
    }
    if (content.series.empty() && traces > 0)
        content.empty = tr("The log tells no distance: lay the passes over time.");
    chart_->setContent(std::move(content));
}

} // namespace rw
