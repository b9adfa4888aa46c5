#include "app/desktop/review/pass_panel.h"

#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"

#include <QHeaderView>
#include <QSortFilterProxyModel>

#include <algorithm>
#include <array>
#include <vector>

namespace rw {

namespace {

constexpr std::array dispensable{PassTableModel::Pack, PassTableModel::Cell}; // the table of all figures has them

// Says in the head by what the passes are sorted, unless they stand as they were run.
class PassOrder : public QSortFilterProxyModel {
public:
    using QSortFilterProxyModel::QSortFilterProxyModel;
    [[nodiscard]] QVariant headerData(int section, Qt::Orientation orientation, int role) const override {
        QVariant told = QSortFilterProxyModel::headerData(section, orientation, role);
        const bool rising = sortOrder() == Qt::AscendingOrder;
        const bool asRun = section == PassTableModel::Number && rising;
        if (role != Qt::DisplayRole || orientation != Qt::Horizontal || section != sortColumn() || asRun) return told;
        return (rising ? QStringLiteral("↑ ") : QStringLiteral("↓ ")) + told.toString();
    }
    void sort(int column, Qt::SortOrder order) override {
        QSortFilterProxyModel::sort(column, order);
        emit headerDataChanged(Qt::Horizontal, 0, columnCount() - 1);
    }
};

// "%1": the column's unit. The value as logged.
struct PassColumn {
    const char *head, *help;
    Dimension dimension;
    std::optional<double> (*get)(const ReviewPass&); // none: not of the pass alone
};
using One = const ReviewPass&;
using Told = std::optional<double>;
constexpr std::array<PassColumn, PassTableModel::ColumnCount> passColumns{{
    {QT_TR_NOOP("no."), "", Dimension::Number, nullptr},
    {QT_TR_NOOP("session"), "", Dimension::Number, [](One p) -> Told { return static_cast<double>(p.session + 1); }},
    {"%1", QT_TR_NOOP("Speed over the timed zone where a plan tells it, else the highest"), Dimension::Speed,
     [](One p) -> Told { return bestSpeed(p); }},
    {"%1", QT_TR_NOOP("Highest pack current"), Dimension::Current, [](One p) -> Told { return p.peakCurrent; }},
    {QT_TR_NOOP("V/cell"), QT_TR_NOOP("Lowest pack voltage, per cell where the count is known"), Dimension::Voltage,
     [](One p) -> Told { return p.minCellVoltage ? p.minCellVoltage : p.minVoltage; }},
    {QT_TR_NOOP("motor %1"), QT_TR_NOOP("Highest motor temperature, the soak after the pass counted"),
     Dimension::Temperature, [](One p) -> Told { return hottest(p.motor); }},
    {QT_TR_NOOP("ctrl %1"), QT_TR_NOOP("Highest controller temperature, the soak after the pass counted"),
     Dimension::Temperature, [](One p) -> Told { return hottest(p.controller); }},
    {QT_TR_NOOP("pack %1"), QT_TR_NOOP("Highest pack temperature, the soak after the pass counted"),
     Dimension::Temperature, [](One p) -> Told { return hottest(p.pack); }},
    {QT_TR_NOOP("noted"), QT_TR_NOOP("A speed that was read off, %1"), Dimension::Speed, nullptr},
}};

} // namespace

QString cutWords(ReviewPass::Cut cut) {
    switch (cut) {
    case ReviewPass::Cut::SessionStart:
        return PassTableModel::tr("Cut: the session begins within it");
    case ReviewPass::Cut::SessionEnd:
        return PassTableModel::tr("Cut: its session ends within it");
    case ReviewPass::Cut::LogEnd:
        return PassTableModel::tr("Cut: the log ends within it");
    case ReviewPass::Cut::Restart:
        return PassTableModel::tr("Cut: the controller restarted");
    case ReviewPass::Cut::None:
        break;
    }
    return {};
}

PassTableModel::PassTableModel(ReviewDesk& review, QObject* parent)
    : ValueTableModel(0, parent)
    , review_(review) {
    connect(&review, &ReviewDesk::dataChanged, this, &PassTableModel::show);
    connect(&review.desk().units, &Units::changed, this, &PassTableModel::show);
    show();
}

void PassTableModel::show() {
    shown_ = review_.data();
    QStringList heads, helps;
    for (const PassColumn& column : passColumns) {
        const QString unit = review_.desk().units.symbol(column.dimension);
        const auto words = [&unit](const char* text) {
            const QString whole = tr(text);
            return whole.contains(QStringLiteral("%1")) ? whole.arg(unit) : whole;
        };
        heads << words(column.head);
        helps << (*column.help ? words(column.help) : QString());
    }
    setCells(
        heads, shown_ ? shown_->review->passes.size() : 0,
        [this](std::size_t row, std::size_t column) { return cell(row, column); }, helps);
}

// Sorting asks for many values and no words.
QVariant PassTableModel::data(const QModelIndex& index, int role) const {
    if (role != RawRole || !index.isValid()) return ValueTableModel::data(index, role);
    return rawOf(value(static_cast<std::size_t>(index.row()), static_cast<std::size_t>(index.column())));
}

std::optional<double> PassTableModel::value(std::size_t row, std::size_t column) const {
    const ReviewPass& pass = shown_->review->passes[row];
    if (column == Number) return static_cast<double>(row + 1);
    if (column != Noted) return passColumns[column].get(pass);
    if (row >= shown_->noted.size() || shown_->noted[row].speeds.empty()) return std::nullopt;
    return shown_->noted[row].speeds.front().mps; // through the zone stands before the peak
}

ValueCell PassTableModel::cell(std::size_t row, std::size_t column) const {
    const ReviewPass& pass = shown_->review->passes[row];
    const Units& units = review_.desk().units;
    const std::optional<double> told = value(row, column);
    const Dimension dimension = passColumns[column].dimension;
    ValueCell out{units.figure(dimension, told), rawOf(told)};
    if (column == Number) {
        out.text = QString::number(row + 1) + (pass.complete ? QString() : QStringLiteral(" …"));
        if (!pass.complete) out.help = cutWords(pass.cutBy);
    } else if (column == Session) {
        out.text = QString::number(pass.session + 1);
    } else if (column == Speed) {
        if (!pass.zoneSpeed && pass.speedPeak && pass.speedPeakLowerBound) out.text.prepend(QStringLiteral("≥ "));
        out.help = pass.zoneSpeed   ? tr("Mean over the plan's timed zone")
                   : pass.speedPeak ? tr("Highest measured speed")
                                    : tr("Highest speed of the wheels, by gearing and tyre growth");
    } else if (dimension == Dimension::Temperature) {
        const UnitView heat = viewOf(Quantity::MotorTemperature, units).unit;
        out.text = told ? figure(heat.shown(*told), 0) : QStringLiteral("–");
    }
    return out;
}

void showPassFigures(ValueTableModel& model, const ReviewDesk& review) {
    const auto data = review.data();
    if (!data) return model.setRows({}, {});
    const std::vector<ReviewPass>& passes = data->review->passes;
    QStringList heads{PassPanel::tr("figure"), PassPanel::tr("unit")};
    for (std::size_t pass = 0; pass < passes.size(); ++pass)
        heads << PassPanel::tr("pass %1").arg(pass + 1);
    std::vector<PassFigure> told;
    std::ranges::copy_if(passFigures(), std::back_inserter(told), [&](const PassFigure& figure) {
        return std::ranges::any_of(passes, [&](const ReviewPass& pass) { return figure.get(pass).has_value(); });
    });
    model.setCells(heads, told.size(),
                   [&units = review.desk().units, data, told](std::size_t row, std::size_t column) -> ValueCell {
                       const PassFigure& what = told[row];
                       const UnitView view = figureView(what, units);
                       if (column == 0) return {QString::fromUtf8(what.title)};
                       if (column == 1) return {view.symbol};
                       const std::optional<double> value = what.get(data->review->passes[column - 2]);
                       return {value ? figure(view.shown(*value), view.decimals) : QStringLiteral("–"), rawOf(value)};
                   });
}

PassPanel::PassPanel(ReviewDesk& review)
    : review_(review)
    , table_(named(new FigureTable, tr("Passes")))
    , sorted_(new PassOrder(this)) {
    sorted_->setSourceModel(new PassTableModel(review, this));
    sorted_->setSortRole(PassTableModel::RawRole);
    table_->setModel(sorted_);
    table_->setSortingEnabled(true);
    table_->sortByColumn(PassTableModel::Number, Qt::AscendingOrder);
    table_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    table_->horizontalHeader()->setMinimumSectionSize(3 * gridStep);
    constexpr int measured = 400; // rows of figures alike; thousands would hold the window up
    table_->horizontalHeader()->setResizeContentsPrecision(measured);
    lay(*columnIn(this, gridStep / 2, {0, gridStep, 0, 0}), {new TextLabel(tr("Passes"), Type::Heading), grow(table_)});

    connect(table_->selectionModel(), &QItemSelectionModel::currentRowChanged, this, [this](const QModelIndex& now) {
        if (!following_ && now.isValid()) review_.goToPass(static_cast<std::size_t>(sorted_->mapToSource(now).row()));
    });
    connect(table_, &FigureTable::rowActivated, this, &PassPanel::noteWanted);
    connect(&review, &ReviewDesk::passChosen, this, &PassPanel::followChoice);
    connect(&review, &ReviewDesk::dataChanged, this, &PassPanel::measureColumns);
    connect(&review.desk().units, &Units::changed, this, &PassPanel::measureColumns);
    connect(sorted_, &QAbstractItemModel::headerDataChanged, this, &PassPanel::measureColumns);
    measureColumns();
    connect(table_, &FigureTable::resized, this, &PassPanel::fitColumns);
}

// The ribbon tells the session, the table of all figures the controller; what no pass has takes no room.
void PassPanel::hideUntold() {
    for (const int column : {PassTableModel::Session, PassTableModel::Controller})
        table_->setColumnHidden(column, true);
    table_->setColumnHidden(PassTableModel::Cell, false);
    for (const int column : {PassTableModel::Motor, PassTableModel::Pack, PassTableModel::Noted}) {
        bool told = column == PassTableModel::Motor;
        for (int row = 0; row < sorted_->rowCount() && !told; ++row)
            told = sorted_->index(row, column).data(PassTableModel::RawRole).isValid();
        table_->setColumnHidden(column, !told);
    }
}

void PassPanel::measureColumns() {
    hideUntold();
    needed_.assign(static_cast<std::size_t>(sorted_->columnCount()), 0);
    for (int column = 0; column < sorted_->columnCount(); ++column)
        if (!table_->isColumnHidden(column)) needed_[static_cast<std::size_t>(column)] = table_->neededWidth(column);
    fitColumns();
}

// Every head and figure whole: what is too much gives way, the rest shares the room.
void PassPanel::fitColumns() {
    hideUntold();
    const auto needed = [this](int column) { return needed_[static_cast<std::size_t>(column)]; };
    std::vector<int> shown;
    int left = table_->viewport()->width();
    for (int column = 0; column < sorted_->columnCount(); ++column) {
        if (table_->isColumnHidden(column)) continue;
        shown.push_back(column);
        left -= needed(column);
    }
    for (const int column : dispensable) {
        if (left >= 0 || std::erase(shown, column) == 0) continue;
        left += needed(column);
        table_->setColumnHidden(column, true);
    }
    for (const int column : shown)
        table_->setColumnWidth(column,
                               needed(column) + std::max(0, left) / std::max(1, static_cast<int>(shown.size())));
}

void PassPanel::followChoice() {
    following_ = true;
    const auto pass = review_.pass();
    if (pass) {
        table_->selectRow(sorted_->mapFromSource(sorted_->sourceModel()->index(static_cast<int>(*pass), 0)).row());
    } else {
        table_->clearSelection();
        table_->setCurrentIndex({});
    }
    following_ = false;
}

} // namespace rw
