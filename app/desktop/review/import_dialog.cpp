#include "app/desktop/review/import_dialog.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/labels.h"
#include "core/error.h"
#include "core/log/quantity.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileInfo>
#include <QFormLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QTableWidget>
#include <QVBoxLayout>

namespace rw {

namespace {

enum ColumnOf { Name, UsedAs, Unit, Sure, Unreadable, ColumnCount };

QString text(std::string_view view) { return QString::fromUtf8(view.data(), static_cast<qsizetype>(view.size())); }

QString separatorName(const QString& separator) {
    if (separator == QLatin1String("\t")) return ImportDialog::tr("tab");
    if (separator == QLatin1String(" ")) return ImportDialog::tr("spaces");
    if (separator == QLatin1String(",")) return ImportDialog::tr("comma ,");
    return separator == QLatin1String(";") ? ImportDialog::tr("semicolon ;") : separator;
}

QString decimalName(const QString& mark) {
    if (mark == QLatin1String(".")) return ImportDialog::tr("point .");
    return mark == QLatin1String(",") ? ImportDialog::tr("comma ,") : mark;
}

QComboBox* choice(const QString& name) {
    auto* box = new QComboBox;
    box->setAccessibleName(name);
    return box;
}

QString sureness(const ImportColumn& column) {
    if (!column.quantity && column.guess) {
        return ImportDialog::tr("not sure: %1?").arg(text(quantityInfo(*column.guess).name));
    }
    if (!column.quantity) return ImportDialog::tr("not known");
    if (column.confidence >= 0.999) return ImportDialog::tr("certain");
    const QString share = QString::number(column.confidence * 100.0, 'f', 0) + QStringLiteral(" %");
    return column.confidence >= 0.8 ? share : ImportDialog::tr("%1, please check").arg(share);
}

} // namespace

ImportDialog::ImportDialog(ReviewDesk& review, QWidget* parent)
    : QDialog(parent)
    , review_(review)
    , title_(new TextLabel(QString(), Type::Heading))
    , summary_(new TextLabel(QString(), Type::Body, Tone::Soft))
    , refused_(new TextLabel(QString(), Type::Small, Tone::Soft))
    , problem_(new TextLabel(QString(), Type::Body, Tone::Bad))
    , encoding_(choice(tr("Encoding")))
    , separator_(choice(tr("Separator")))
    , decimal_(choice(tr("Decimal mark")))
    , timeForm_(choice(tr("Form of the time")))
    , rate_(new QLineEdit)
    , polePairs_(new QSpinBox)
    , columns_(new QTableWidget)
    , keep_(new QCheckBox(tr("&Keep as my map for logs with this header"))) {
    setWindowTitle(tr("How the log was read"));
    build();
    connect(&review, &ReviewDesk::dataChanged, this, &ImportDialog::refresh);
    connect(&review, &ReviewDesk::complained, this, [this](const QString&, const QString& sentence) {
        problem_->setText(sentence);
        problem_->setVisible(true);
    });
    refresh();
    resize(760, 620);
}

void ImportDialog::build() {
    for (TextLabel* label : {summary_, refused_, problem_})
        label->setWordWrap(true);
    rate_->setPlaceholderText(tr("from the time column"));
    rate_->setAccessibleName(tr("Rows a second"));
    polePairs_->setRange(0, 14);
    polePairs_->setSpecialValueText(tr("not told"));
    polePairs_->setAccessibleName(tr("Pole pairs of the motor"));
    polePairs_->setToolTip(tr("Needed for columns in electrical rpm: magnets of the rotor divided by two"));
    auto* left = new QFormLayout;
    left->addRow(tr("&Encoding"), encoding_);
    left->addRow(tr("&Separator"), separator_);
    left->addRow(tr("&Decimal mark"), decimal_);
    auto* right = new QFormLayout;
    right->addRow(tr("&Time"), timeForm_);
    right->addRow(tr("&Rows a second"), rate_);
    right->addRow(tr("&Pole pairs"), polePairs_);
    for (QFormLayout* form : {left, right}) {
        form->setVerticalSpacing(gridStep);
        form->setHorizontalSpacing(2 * gridStep);
    }
    auto* forms = new QHBoxLayout;
    forms->setSpacing(4 * gridStep);
    forms->addLayout(left, 1);
    forms->addLayout(right, 1);

    columns_->setColumnCount(ColumnCount);
    columns_->setHorizontalHeaderLabels({tr("column"), tr("used as"), tr("unit"), tr("how sure"), tr("unreadable")});
    columns_->verticalHeader()->hide();
    columns_->verticalHeader()->setDefaultSectionSize(4 * gridStep);
    columns_->setShowGrid(false);
    columns_->setSelectionMode(QAbstractItemView::NoSelection);
    columns_->setTabKeyNavigation(false); // Tab goes from field to field, not through cells that only tell
    columns_->setFocusPolicy(Qt::NoFocus);
    columns_->setMinimumHeight(30 * gridStep);
    columns_->horizontalHeader()->setDefaultAlignment(Qt::AlignLeft | Qt::AlignVCenter);
    columns_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    columns_->horizontalHeader()->setSectionResizeMode(UsedAs, QHeaderView::Fixed); // as its choices need
    columns_->horizontalHeader()->setSectionResizeMode(Sure, QHeaderView::Stretch);
    columns_->setAccessibleName(tr("Columns of the log"));

    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close);
    QPushButton* again = buttons->addButton(tr("Read &again"), QDialogButtonBox::ApplyRole);
    buttons->button(QDialogButtonBox::Close)->setAutoDefault(false);
    again->setDefault(true);
    connect(again, &QPushButton::clicked, this, &ImportDialog::readAgain);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);

    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * gridStep, 2 * gridStep, 3 * gridStep, 2 * gridStep);
    column->setSpacing(gridStep);
    column->addWidget(title_);
    column->addWidget(summary_);
    column->addLayout(forms);
    column->addWidget(columns_, 1);
    column->addWidget(refused_);
    column->addWidget(problem_);
    column->addWidget(keep_);
    column->addWidget(buttons);
}

void ImportDialog::refresh() {
    const auto current = review_.data();
    problem_->setVisible(false);
    if (!current) return;
    const ImportReport& report = current->log->report;
    title_->setText(QFileInfo(QString::fromStdString(current->source.path)).fileName());
    summary_->setText(
        tr("%1 rows kept, %2 refused; %3 header, %4 comment and %5 empty lines. Every line is accounted for.")
            .arg(report.rows)
            .arg(report.refusedCount)
            .arg(report.headerLines)
            .arg(report.commentLines)
            .arg(report.emptyLines));
    QStringList refused;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, report.refused.size()); ++i) {
        refused << tr("line %1: %2").arg(report.refused[i].line).arg(QString::fromStdString(report.refused[i].why));
    }
    refused_->setText(refused.isEmpty() ? QString() : tr("Refused: %1").arg(refused.join(QStringLiteral("; "))));
    refused_->setVisible(!refused.isEmpty());
    const bool canKeep = review_.desk().garage.isOpen() && review_.desk().garage.writable();
    keep_->setEnabled(canKeep);
    keep_->setToolTip(canKeep ? QString() : tr("Open a garage that can be written to: maps are kept there."));
    fillText(*current);
    fillColumns(report);
}

void ImportDialog::fillText(const ReviewData& current) {
    const ImportReport& report = current.log->report;
    const auto fill = [](QComboBox* box, const QString& detected, const std::vector<std::pair<QString, int>>& choices,
                         int chosen) {
        box->clear();
        box->addItem(ImportDialog::tr("detected: %1").arg(detected), -1);
        for (const auto& [name, value] : choices)
            box->addItem(name, value);
        box->setCurrentIndex(std::max(0, box->findData(chosen)));
    };
    TextOverrides told = current.import.text;
    if (current.import.map) {
        const TextOverrides& own = current.import.map->text;
        if (!told.encoding) told.encoding = own.encoding;
        if (!told.separator) told.separator = own.separator;
        if (!told.decimal) told.decimal = own.decimal;
        if (!told.timeForm) told.timeForm = own.timeForm;
    }
    std::vector<std::pair<QString, int>> encodings;
    for (int i = 0; i <= static_cast<int>(TextEncoding::Latin1); ++i)
        encodings.emplace_back(text(encodingName(static_cast<TextEncoding>(i))), i);
    fill(encoding_, QString::fromStdString(report.encoding), encodings,
         told.encoding ? static_cast<int>(*told.encoding) : -1);
    fill(separator_, separatorName(QString::fromStdString(report.separator)),
         {{tr("comma ,"), ','}, {tr("semicolon ;"), ';'}, {tr("tab"), '\t'}, {tr("spaces"), ' '}},
         told.separator.value_or(-1));
    fill(decimal_, decimalName(QString::fromStdString(report.decimal)), {{tr("point ."), '.'}, {tr("comma ,"), ','}},
         told.decimal.value_or(-1));
    std::vector<std::pair<QString, int>> forms;
    for (int i = 0; i < static_cast<int>(TimeForm::Rate); ++i)
        forms.emplace_back(text(timeFormName(static_cast<TimeForm>(i))), i);
    fill(timeForm_, QString::fromStdString(report.timeForm), forms,
         told.timeForm ? static_cast<int>(*told.timeForm) : -1);
    const std::optional<double> rate = current.import.rate_Hz;
    rate_->setText(rate ? QString::number(*rate) : QString());
    polePairs_->setValue(current.import.polePairs.value_or(0));
}

void ImportDialog::fillColumns(const ImportReport& report) {
    columns_->setRowCount(static_cast<int>(report.columns.size()));
    for (int row = 0; row < columns_->rowCount(); ++row) {
        const ImportColumn& column = report.columns[static_cast<std::size_t>(row)];
        const auto cell = [&](int at, const QString& words) {
            auto* item = new QTableWidgetItem(words);
            item->setFlags(Qt::ItemIsEnabled);
            item->setToolTip(words.toHtmlEscaped());
            columns_->setItem(row, at, item);
        };
        const QString name = QString::fromStdString(column.name);
        cell(Name, name);
        auto* used = choice(tr("%1 is used as").arg(name));
        used->addItem(tr("not used"), -1);
        for (const QuantityInfo& info : quantityTable())
            used->addItem(text(info.name), static_cast<int>(info.quantity));
        used->setCurrentIndex(used->findData(column.quantity ? static_cast<int>(*column.quantity) : -1));
        columns_->setCellWidget(row, UsedAs, used);
        if (row == 0) columns_->horizontalHeader()->resizeSection(UsedAs, used->sizeHint().width() + gridStep);
        auto* unit = new QLineEdit(QString::fromStdString(column.unit));
        unit->setAccessibleName(tr("Unit of %1").arg(name));
        unit->setMaximumWidth(9 * gridStep);
        columns_->setCellWidget(row, Unit, unit);
        cell(Sure, sureness(column));
        cell(Unreadable, column.unreadable == 0 ? QString() : QString::number(column.unreadable));
    }
}

ColumnMap ImportDialog::map() const {
    ColumnMap own = columnMapFrom(review_.data()->log->report);
    for (int row = 0; row < columns_->rowCount(); ++row) {
        MappedColumn& column = own.columns[static_cast<std::size_t>(row)];
        const int quantity = qobject_cast<QComboBox*>(columns_->cellWidget(row, UsedAs))->currentData().toInt();
        column.quantity = quantity < 0 ? std::nullopt : std::optional(static_cast<Quantity>(quantity));
        column.unit = qobject_cast<QLineEdit*>(columns_->cellWidget(row, Unit))->text().trimmed().toStdString();
    }
    const auto told = [](const QComboBox* box) -> std::optional<int> {
        const int value = box->currentData().toInt();
        return value < 0 ? std::nullopt : std::optional(value);
    };
    own.text = {};
    if (const auto value = told(encoding_)) own.text.encoding = static_cast<TextEncoding>(*value);
    if (const auto value = told(separator_)) own.text.separator = static_cast<char>(*value);
    if (const auto value = told(decimal_)) own.text.decimal = static_cast<char>(*value);
    if (const auto value = told(timeForm_)) own.text.timeForm = static_cast<TimeForm>(*value);
    return own;
}

ImportOptions ImportDialog::options() const {
    ImportOptions options;
    options.map = map();
    options.text = options.map->text;
    if (!rate_->text().trimmed().isEmpty()) {
        bool number = false;
        const double rate = rate_->text().trimmed().replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&number);
        if (!number || !(rate > 0.0)) {
            throw InputError(tr("Rows a second").toStdString(),
                             tr("\"%1\" is no number above 0; leave it empty to use the time column")
                                 .arg(rate_->text())
                                 .toStdString());
        }
        options.rate_Hz = options.map->rate_Hz = rate;
    }
    if (polePairs_->value() > 0) options.polePairs = options.map->polePairs = polePairs_->value();
    return options;
}

void ImportDialog::readAgain() {
    if (!review_.data()) return;
    try {
        const ImportOptions wanted = options();
        if (keep_->isChecked()) keepMap();
        review_.readAgain(wanted);
    } catch (const InputError& error) {
        problem_->setText(QString::fromUtf8(error.what()));
        problem_->setVisible(true);
    }
}

void ImportDialog::keepMap() {
    Part part;
    part.id.kind = ItemKind::ColumnMap;
    part.name = tr("Columns of %1").arg(title_->text()).left(180).toStdString();
    part.document = writeColumnMap(*options().map);
    review_.desk().garage.attempt(tr("Keeping the column map"), [&](Garage& garage) {
        for (Part before : garage.parts(ItemKind::ColumnMap)) { // the same header again: the newer word counts
            if (!mapFits(readColumnMap(before.document, before.name), review_.data()->log->report)) continue;
            before.document = part.document;
            return garage.update(before);
        }
        garage.add(part);
    });
}

} // namespace rw
