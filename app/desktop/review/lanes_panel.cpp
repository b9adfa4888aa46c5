#include "app/desktop/review/lanes_panel.h"

#include "app/desktop/review/review_lanes.h"
#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QMenu>
#include <QToolButton>
#include <QVBoxLayout>

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

} // namespace

LanesPanel::LanesPanel(ReviewDesk& review, QWidget* parent)
    : QWidget(parent)
    , review_(review)
    , lanes_(new LanesView)
    , chooser_(new QMenu(tr("&Lanes"), this))
    , hint_(new TextLabel(QString(), Type::Small, Tone::Soft))
    , hidden_(hiddenAtFirst()) {
    lanes_->setLink(&review.axis());
    auto* scroll = new QScrollArea;
    scroll->setWidget(lanes_);
    scroll->setWidgetResizable(true);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setFocusPolicy(Qt::NoFocus);

    auto* choose = new QToolButton;
    choose->setText(tr("Choose lanes ▾"));
    choose->setPopupMode(QToolButton::InstantPopup);
    choose->setMenu(chooser_);
    choose->setAccessibleName(tr("Choose which lanes are shown"));
    hint_->setText(tr("Wheel zooms, drag pans, click sets a mark, Escape clears"));
    auto* foot = new QHBoxLayout;
    foot->addWidget(choose);
    foot->addStretch();
    foot->addWidget(hint_);

    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(gridStep / 2);
    column->addWidget(scroll, 1);
    column->addLayout(foot);

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
        action->setChecked(std::find(hidden_.begin(), hidden_.end(), source.quantity) == hidden_.end());
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
    for (const Quantity quantity : hidden_) {
        const std::string_view key = quantityKey(quantity);
        keys << QString::fromUtf8(key.data(), static_cast<qsizetype>(key.size()));
    }
    return keys;
}

void LanesPanel::setHiddenKeys(const QStringList& keys) {
    hidden_.clear();
    for (const QString& key : keys) {
        if (const auto quantity = quantityFromKey(key.toStdString())) hidden_.push_back(*quantity);
    }
    refresh();
}

} // namespace rw
