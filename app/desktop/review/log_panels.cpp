#include "app/desktop/review/log_panels.h"

#include "app/desktop/review/review_charts.h"
#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/chart.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFileInfo>
#include <QListWidget>
#include <QMenu>
#include <QShowEvent>
#include <QSignalBlocker>
#include <QToolButton>

#include <algorithm>

namespace rw {

namespace {

// Seldom of use at first sight; one click brings them.
const std::vector<Quantity>& hiddenAtFirst() {
    static const std::vector<Quantity> quantities{
        Quantity::Brake,     Quantity::AccelerationX, Quantity::AccelerationY, Quantity::AccelerationZ,
        Quantity::Elevation, Quantity::Charge,        Quantity::Power,         Quantity::ReceiverVoltage};
    return quantities;
}

enum { LogRole = Qt::UserRole, PassRole };
constexpr std::size_t ticksAtFirst = 3;

} // namespace

LanesPanel::LanesPanel(ReviewDesk& review)
    : review_(review)
    , lanes_(new LanesView)
    , chooser_(new QMenu(tr("&Lanes"), this))
    , hidden_(hiddenAtFirst()) {
    lanes_->setLink(&review.axis());
    auto* choose = named(new QToolButton, tr("Choose which lanes are shown"));
    choose->setText(tr("Choose lanes ▾"));
    choose->setPopupMode(QToolButton::InstantPopup);
    choose->setMenu(chooser_);
    auto* hint = new TextLabel(tr("Wheel zooms, drag pans, click sets a mark, Escape clears"), Type::Small, Tone::Soft);
    lay(*columnIn(this, gridStep / 2), {grow(scrolled(lanes_)), laid(rowOf(), {choose, slack(), hint})});
    connect(&review, &ReviewDesk::dataChanged, this, &LanesPanel::refresh);
    connect(&review.desk().units, &Units::changed, this, &LanesPanel::refresh);
    refresh();
}

void LanesPanel::refresh() {
    LanesContent content;
    if (const auto current = review_.data()) content = lanesOf(*current, review_.desk().units, hidden_);
    content.empty = tr("Every lane is hidden. Choose some below.");
    lanes_->setContent(std::move(content));
    fillChooser();
}

void LanesPanel::fillChooser() {
    chooser_->clear();
    const auto current = review_.data();
    if (!current) return;
    for (const LaneSource& source : current->columns) {
        QAction* action = chooser_->addAction(viewOf(source.quantity, review_.desk().units).name);
        action->setCheckable(true);
        action->setChecked(std::ranges::find(hidden_, source.quantity) == hidden_.end());
        connect(action, &QAction::toggled, this, [this, quantity = source.quantity](bool shown) {
            std::erase(hidden_, quantity);
            if (!shown) hidden_.push_back(quantity);
            // The menu that emits this is filled anew: only once it has finished.
            QMetaObject::invokeMethod(this, &LanesPanel::refresh, Qt::QueuedConnection);
        });
    }
}

QStringList LanesPanel::hiddenKeys() const {
    QStringList keys;
    for (const Quantity quantity : hidden_)
        keys << QString::fromUtf8(quantityKey(quantity));
    return keys;
}

void LanesPanel::setHiddenKeys(const QStringList& keys) {
    hidden_.clear();
    for (const QString& key : keys)
        if (const auto quantity = quantityFromKey(key.toStdString())) hidden_.push_back(*quantity);
    refresh();
}

OverlayPanel::OverlayPanel(ReviewDesk& review)
    : review_(review)
    , passes_(named(new QListWidget, tr("Passes laid over each other")))
    , quantity_(named(new QComboBox, tr("Quantity")))
    , over_(named(new QComboBox, tr("Over time or distance")))
    , plan_(new QCheckBox(tr("Plan")))
    , chart_(new Chart) {
    over_->addItem(tr("over time"), static_cast<int>(CompareAxis::Time));
    over_->addItem(tr("over distance"), static_cast<int>(CompareAxis::Distance));
    plan_->setChecked(true);
    plan_->setToolTip(tr("The prediction of the setup on the bench as one more trace"));

    auto* head = laid(rowOf(), {quantity_, over_, plan_, slack()});
    auto* right = laid(columnOf(), {head, grow(chart_)});
    auto* left = laid(columnOf(), {new TextLabel(tr("Passes, at most 8"), Type::Small, Tone::Soft), grow(passes_)});
    passes_->setFixedWidth(26 * gridStep);
    lay(*rowIn(this, 2 * gridStep, {0, gridStep, 0, 0}), {left, grow(right)});

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
    return std::ranges::find(chosen_, std::pair(log, static_cast<int>(pass))) != chosen_.end();
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
