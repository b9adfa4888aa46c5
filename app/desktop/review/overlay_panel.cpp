#include "app/desktop/review/overlay_panel.h"

#include "app/desktop/review/review_overlay.h"
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
constexpr std::size_t ticksAtFirst = 3;

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
    left->addWidget(new TextLabel(tr("Passes, at most 8"), Type::Small, Tone::Soft));
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
    connect(passes_, &QListWidget::itemChanged, this, &OverlayPanel::noteTicks);
    connect(quantity_, &QComboBox::currentIndexChanged, this, &OverlayPanel::draw);
    connect(over_, &QComboBox::currentIndexChanged, this, &OverlayPanel::draw);
    connect(plan_, &QCheckBox::toggled, this, &OverlayPanel::draw);
    fillQuantities();
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
        for (const Quantity quantity : overlayQuantities(*current))
            quantity_->addItem(viewOf(quantity, review_.desk().units).name, static_cast<int>(quantity));
    }
    quantity_->setCurrentIndex(std::max(0, quantity_->findData(before)));
    fillPasses();
}

bool OverlayPanel::ticked(int log, std::size_t pass) const {
    return std::find(chosen_.begin(), chosen_.end(), std::pair(log, static_cast<int>(pass))) != chosen_.end();
}

void OverlayPanel::addPasses(const ReviewData& log, bool several) {
    for (std::size_t pass = 0; pass < log.review->passes.size(); ++pass) {
        QString name = tr("pass %1").arg(pass + 1);
        if (several)
            name += QStringLiteral(" · ") + QFileInfo(QString::fromStdString(log.source.path)).completeBaseName();
        auto* item = new QListWidgetItem(name);
        item->setData(LogRole, log.id);
        item->setData(PassRole, static_cast<int>(pass));
        item->setToolTip(QStringLiteral("<p>%1</p>").arg(name.toHtmlEscaped()));
        item->setCheckState(ticked(log.id, pass) ? Qt::Checked : Qt::Unchecked);
        passes_->addItem(item); // only now: each change of an item in a list is told to all who look
    }
}

// The log in hand stands first; when another one is taken in hand its first passes are ticked, unless the person has
// ticked some of it before.
void OverlayPanel::fillPasses() {
    stale_ = !isVisible();
    if (stale_) return;
    const QSignalBlocker quiet(passes_);
    passes_->clear();
    const auto current = review_.data();
    if (!current) return draw();
    const auto ofHand = [id = current->id](const std::pair<int, int>& one) { return one.first == id; };
    if (shown_ != current->id && std::ranges::none_of(chosen_, ofHand)) {
        chosen_.clear();
        for (std::size_t pass = 0; pass < std::min(ticksAtFirst, current->review->passes.size()); ++pass)
            chosen_.emplace_back(current->id, static_cast<int>(pass));
    }
    shown_ = current->id;
    addPasses(*current, review_.logs().size() > 1);
    for (const auto& log : review_.logs())
        if (log->id != current->id) addPasses(*log, true);
    draw();
}

void OverlayPanel::noteTicks() {
    chosen_.clear();
    for (int i = 0; i < passes_->count(); ++i) {
        const QListWidgetItem* item = passes_->item(i);
        if (item->checkState() == Qt::Checked)
            chosen_.emplace_back(item->data(LogRole).toInt(), item->data(PassRole).toInt());
    }
    draw();
}

void OverlayPanel::draw() {
    if (!isVisible()) return; // drawn when it is looked at
    std::vector<OverlayPass> passes;
    for (int i = 0; i < passes_->count(); ++i) {
        const QListWidgetItem* item = passes_->item(i);
        if (item->checkState() != Qt::Checked) continue;
        const auto pass = static_cast<std::size_t>(item->data(PassRole).toInt());
        for (const auto& log : review_.logs())
            if (log->id == item->data(LogRole).toInt() && pass < log->review->passes.size())
                passes.push_back({*log, pass, item->text()});
    }
    const OverlayWish wish{static_cast<Quantity>(quantity_->currentData().toInt()),
                           static_cast<CompareAxis>(over_->currentData().toInt()), plan_->isChecked()};
    ChartContent content = overlayOf(passes, wish, review_.desk().units);
    if (passes.empty()) content.empty = tr("Tick passes on the left to lay them over each other.");
    chart_->setContent(std::move(content));
}

} // namespace rw
