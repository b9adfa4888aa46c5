#include "app/desktop/review/column_table.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/log/quantity.h"

#include <QHeaderView>
#include <QSignalBlocker>

namespace rw {

namespace {

constexpr int exampleCells = 3;

QString sureness(const ImportColumn& column) {
    if (!column.doubt.empty()) return QString::fromStdString(column.doubt);
    if (!column.quantity && column.guess)
        return ColumnTable::tr("not sure: %1?").arg(QString::fromUtf8(quantityInfo(*column.guess).name));
    if (!column.quantity) return ColumnTable::tr("not known");
    if (column.unreadable > 0) return ColumnTable::tr("%1 cells cannot be read").arg(column.unreadable);
    if (column.confidence >= 0.999) return ColumnTable::tr("certain");
    const QString share = QString::number(column.confidence * 100.0, 'f', 0) + QStringLiteral(" %");
    return column.confidence >= 0.8 ? share : ColumnTable::tr("%1, please check").arg(share);
}

} // namespace

ColumnTable::ColumnTable() {
    setColumnCount(ColumnCount);
    setHorizontalHeaderLabels(
        {tr("column"), tr("first values"), tr("used as"), tr("unit"), tr("factor"), tr("how sure")});
    verticalHeader()->hide();
    verticalHeader()->setDefaultSectionSize(4 * gridStep);
    setShowGrid(false);
    setSelectionMode(QAbstractItemView::NoSelection);
    setTabKeyNavigation(false); // Tab goes from field to field, not through cells that only tell
    setFocusPolicy(Qt::NoFocus);
    setMinimumHeight(30 * gridStep);
    setAccessibleName(tr("Columns of the log"));
    QHeaderView& head = *horizontalHeader();
    head.setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    head.setSectionResizeMode(QHeaderView::ResizeToContents);
    for (const int fields : {UsedAs, Unit, Factor})
        head.setSectionResizeMode(fields, QHeaderView::Fixed);
    head.setSectionResizeMode(Sure, QHeaderView::Stretch);
    head.resizeSection(Unit, 12 * gridStep);
    head.resizeSection(Factor, 8 * gridStep);
}

void ColumnTable::setReport(const ImportReport& report, const std::optional<ColumnMap>& map) {
    setColumnHidden(First, true);
    setRowCount(static_cast<int>(report.columns.size()));
    for (int row = 0; row < rowCount(); ++row) {
        const ImportColumn& column = report.columns[static_cast<std::size_t>(row)];
        const MappedColumn* said = map ? map->find(column.name) : nullptr;
        fill(row, {column, column.quantity, {}, sureness(column), said == nullptr ? 1.0 : said->factor});
    }
}

void ColumnTable::setSurvey(const ImportSurvey& survey) {
    setColumnHidden(First, false);
    setRowCount(static_cast<int>(survey.report.columns.size()));
    for (int row = 0; row < rowCount(); ++row) {
        const auto at = static_cast<std::size_t>(row);
        const ImportColumn& column = survey.report.columns[at];
        const bool time = survey.likelyTime == at;
        QStringList cells;
        for (std::size_t i = 0; at < survey.firstCells.size() && i < survey.firstCells[at].size() && i < exampleCells;
             ++i)
            cells << QString::fromStdString(survey.firstCells[at][i]).left(24);
        fill(row, {column, time ? std::optional(Quantity::Time) : column.quantity, cells.join(QStringLiteral("  ")),
                   time ? tr("likely the time") : sureness(column)});
    }
}

void ColumnTable::makeFields(int row, const QString& name) {
    auto* used = named(new QComboBox, tr("%1 is used as").arg(name));
    used->addItem(tr("not used"), -1);
    for (const QuantityInfo& info : quantityTable())
        used->addItem(QString::fromUtf8(info.name), static_cast<int>(info.quantity));
    setCellWidget(row, UsedAs, used);
    if (row == 0) horizontalHeader()->resizeSection(UsedAs, used->sizeHint().width() + gridStep);
    auto* unit = named(new QComboBox, tr("Unit of %1").arg(name));
    unit->setEditable(true);
    unit->setInsertPolicy(QComboBox::NoInsert);
    setCellWidget(row, Unit, unit);
    auto* factor = named(new QLineEdit, tr("Factor of %1").arg(name));
    factor->setAlignment(Qt::AlignRight);
    factor->setToolTip(tr("What one of the log's counts is of that unit: 0.1 where 215 A stands as 2150"));
    setCellWidget(row, Factor, factor);
    connect(used, &QComboBox::currentIndexChanged, this, [this, row] { offerUnits(row); });
}

void ColumnTable::fill(int row, const Row& what) {
    const auto cell = [&](int at, const QString& words, bool strong) {
        auto* item = new QTableWidgetItem(words);
        item->setFlags(Qt::ItemIsEnabled);
        item->setToolTip(words.toHtmlEscaped());
        if (strong) item->setFont(rw::font(Type::Strong));
        setItem(row, at, item);
    };
    const QString name = QString::fromStdString(what.column.name);
    const bool time = what.used == Quantity::Time;
    cell(Name, name, time);
    cell(First, what.first, false);
    cell(Sure, what.sure, time && what.column.quantity != Quantity::Time);
    makeFields(row, name);
    QComboBox& used = usedAs(row);
    const QSignalBlocker quiet(used);
    used.setCurrentIndex(used.findData(what.used ? static_cast<int>(*what.used) : -1));
    offerUnits(row);
    unit(row).setEditText(QString::fromStdString(what.column.unit));
    factor(row).setText(QString::number(what.factor));
    if (what.column.likelyFactor) factor(row).setPlaceholderText(QString::number(*what.column.likelyFactor));
}

// The units in which logs write the quantity; what the header said stays.
void ColumnTable::offerUnits(int row) {
    QComboBox& box = unit(row);
    const QString before = box.currentText();
    box.clear();
    const int quantity = usedAs(row).currentData().toInt();
    box.setEnabled(quantity >= 0);
    factor(row).setEnabled(quantity >= 0);
    if (quantity >= 0)
        for (const std::string_view one : unitChoices(static_cast<Quantity>(quantity)))
            box.addItem(QString::fromUtf8(one));
    box.setCurrentIndex(-1);
    box.setEditText(before);
}

std::vector<MappedColumn> ColumnTable::mapped() const {
    std::vector<MappedColumn> columns;
    for (int row = 0; row < rowCount(); ++row) {
        MappedColumn column;
        column.name = item(row, Name)->text().toStdString();
        const int quantity = usedAs(row).currentData().toInt();
        if (quantity >= 0) column.quantity = static_cast<Quantity>(quantity);
        column.unit = unit(row).currentText().trimmed().toStdString();
        const QString told = factor(row).text().trimmed();
        column.factor = told.isEmpty() ? 1.0 : typedNumber(told);
        if (!(column.factor > 0.0))
            throw InputError(column.name,
                             tr("\"%1\" is no factor above 0; 1 leaves the unit as it is").arg(told).toStdString());
        columns.push_back(std::move(column));
    }
    return columns;
}

} // namespace rw
