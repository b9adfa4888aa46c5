#include "app/desktop/shared/ocv_dialog.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"

#include <QHeaderView>
#include <QJsonArray>
#include <QJsonDocument>
#include <QPushButton>
#include <QTableWidget>

#include <algorithm>

namespace rw {

constexpr int chargeColumn = 0, voltColumn = 1;
constexpr double percent = 100.0;

static QTableWidgetItem* cell(const QString& text = {}) {
    auto* item = new QTableWidgetItem(text);
    item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
    return item;
}

std::vector<OcvPoint> ocvFromText(const std::string& text) {
    std::vector<OcvPoint> table;
    const QJsonDocument document = QJsonDocument::fromJson(QByteArray::fromStdString(text));
    for (const auto row : document.array()) {
        const QJsonArray pair = row.toArray();
        if (pair.size() != 2 || !pair[0].isDouble() || !pair[1].isDouble()) table.clear();
        if (pair.size() != 2) break;
        table.push_back({pair[0].toDouble(), pair[1].toDouble()});
    }
    checkOcv(table, {});
    return table;
}

std::string ocvToText(const std::vector<OcvPoint>& table) {
    QJsonArray rows;
    for (const OcvPoint& point : table)
        rows.append(QJsonArray{point.charge, point.volts_perCell});
    return QJsonDocument(rows).toJson(QJsonDocument::Compact).toStdString();
}

OcvDialog::OcvDialog(const std::vector<OcvPoint>& table, QWidget* parent)
    : QDialog(parent)
    , table_(table) {
    setWindowTitle(tr("Open-circuit voltage of a cell"));
    auto* help = paragraph(fieldHelp(*findPlanField("pack.ocv"), Units()), Type::Small, Tone::Soft);
    rows_ = named(new QTableWidget(0, 2), windowTitle());
    rows_->setHorizontalHeaderLabels({tr("charge, %"), tr("volts a cell")});
    rows_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    rows_->verticalHeader()->hide();
    complaint_ = new ComplaintLabel;
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Ok | QDialogButtonBox::Cancel);
    const auto extra = [&](const QString& text, auto slot) {
        QPushButton* button = buttons->addButton(text, QDialogButtonBox::ActionRole);
        button->setAutoDefault(false);
        connect(button, &QPushButton::clicked, this, slot);
    };
    extra(tr("&Add a row"), [this] { addRow(); });
    extra(tr("&Remove row"), [this] { removeRow(); });
    extra(tr("&Usual table"), [this] { show(defaultOcv()); });
    lay(*dialogColumn(*this), {help, grow(rows_), complaint_, buttons});
    resize(56 * gridStep, 64 * gridStep);
    show(table);
}

void OcvDialog::show(const std::vector<OcvPoint>& table) {
    rows_->setRowCount(static_cast<int>(table.size()));
    for (int row = 0; row < rows_->rowCount(); ++row) {
        const OcvPoint& point = table[static_cast<std::size_t>(row)];
        rows_->setItem(row, chargeColumn, cell(QString::number(point.charge * percent, 'g', 10)));
        rows_->setItem(row, voltColumn, cell(QString::number(point.volts_perCell, 'g', 10)));
    }
}

// Behind the row in hand, for a person to fill.
void OcvDialog::addRow() {
    const int row = rows_->currentRow() < 0 ? rows_->rowCount() : rows_->currentRow() + 1;
    rows_->insertRow(row);
    for (const int column : {chargeColumn, voltColumn})
        rows_->setItem(row, column, cell());
    rows_->setCurrentCell(row, chargeColumn);
    rows_->editItem(rows_->item(row, chargeColumn));
}

void OcvDialog::removeRow() {
    if (rows_->currentRow() >= 0) rows_->removeRow(rows_->currentRow());
}

std::vector<OcvPoint> OcvDialog::read() const {
    std::vector<OcvPoint> table;
    for (int row = 0; row < rows_->rowCount(); ++row) {
        const auto number = [this, row](int column) {
            const QString text = rows_->item(row, column)->text();
            try {
                return typedNumber(text);
            } catch (const InputError& error) {
                throw InputError(
                    {}, tr("Row %1: %2.").arg(row + 1).arg(QString::fromStdString(error.message())).toStdString());
            }
        };
        table.push_back({number(chargeColumn) / percent, number(voltColumn)});
    }
    std::sort(table.begin(), table.end(), [](const OcvPoint& a, const OcvPoint& b) { return a.charge < b.charge; });
    checkOcv(table, {});
    return table;
}

void OcvDialog::accept() {
    try {
        rows_->setCurrentItem(nullptr); // what is being typed counts
        table_ = read();
        QDialog::accept();
    } catch (const InputError& error) {
        const QString place = QString::fromStdString(error.place()).remove(u'[').remove(u']');
        const QString sentence = QString::fromStdString(error.message());
        complaint_->tell(place.isEmpty() ? sentence : tr("Row %1 by charge: %2.").arg(place.toInt() + 1).arg(sentence));
    }
}

} // namespace rw
