#include "app/desktop/review/import_dialog.h"

#include "app/desktop/review/column_table.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFileInfo>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>

namespace rw {

namespace {

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

} // namespace

ImportDialog::ImportDialog(ReviewDesk& review, QWidget* parent)
    : ImportDialog(review, nullptr, parent) {}

ImportDialog::ImportDialog(ReviewDesk& review, std::shared_ptr<const RefusedLog> refused, QWidget* parent)
    : QDialog(parent)
    , review_(review)
    , refused_(std::move(refused))
    , title_(new TextLabel(QString(), Type::Heading))
    , summary_(new TextLabel(QString(), Type::Body, Tone::Soft))
    , lines_(new TextLabel(QString(), Type::Small, Tone::Soft))
    , problem_(new ComplaintLabel)
    , encoding_(named(new QComboBox, tr("Encoding")))
    , separator_(named(new QComboBox, tr("Separator")))
    , decimal_(named(new QComboBox, tr("Decimal mark")))
    , timeForm_(named(new QComboBox, tr("Form of the time")))
    , rate_(named(new QLineEdit, tr("Rows a second")))
    , polePairs_(named(new QSpinBox, tr("Pole pairs of the motor")))
    , columns_(new ColumnTable)
    , keep_(new QCheckBox(tr("&Keep as my map for logs with this header"))) {
    setWindowTitle(refused_ ? tr("What the columns are") : tr("How the log was read"));
    build();
    connect(&review, &ReviewDesk::complained, this,
            [this](const QString&, const QString& sentence) { problem_->tell(sentence); });
    connect(&review, &ReviewDesk::mappingWanted, this,
            [this](const std::shared_ptr<const RefusedLog>& still) { problem_->tell(still->sentence); });
    if (refused_) {
        connect(&review, &ReviewDesk::dataChanged, this, [this] {
            if (review_.data() && review_.data()->source == refused_->source) accept();
        });
        refreshRefused();
    } else {
        connect(&review, &ReviewDesk::dataChanged, this, &ImportDialog::refresh);
        refresh();
    }
    resize(860, 640);
}

const ImportReport& ImportDialog::report() const { return refused_ ? refused_->survey.report : shown_->log->report; }

QWidget* ImportDialog::makeForms() {
    rate_->setPlaceholderText(tr("from the time column"));
    polePairs_->setRange(0, 14);
    polePairs_->setSpecialValueText(tr("as the setup says"));
    polePairs_->setToolTip(tr("Needed for columns in electrical rpm: magnets of the rotor divided by two"));
    auto* left = formIn();
    left->addRow(tr("&Encoding"), encoding_);
    left->addRow(tr("&Separator"), separator_);
    left->addRow(tr("&Decimal mark"), decimal_);
    auto* right = formIn();
    right->addRow(tr("&Time"), timeForm_);
    right->addRow(tr("&Rows a second"), rate_);
    right->addRow(tr("&Pole pairs"), polePairs_);
    auto* both = new QWidget;
    lay(*rowIn(both, 4 * gridStep), {grow(left), grow(right)});
    return both;
}

void ImportDialog::build() {
    for (TextLabel* label : {summary_, lines_})
        label->setWordWrap(true);
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Close);
    QPushButton* again = buttons->addButton(refused_ ? tr("&Read it") : tr("Read &again"), QDialogButtonBox::ApplyRole);
    buttons->button(QDialogButtonBox::Close)->setAutoDefault(false);
    again->setDefault(true);
    connect(again, &QPushButton::clicked, this, &ImportDialog::readAgain);
    const bool canKeep = review_.desk().garage.isOpen() && review_.desk().garage.writable();
    keep_->setEnabled(canKeep);
    keep_->setToolTip(canKeep ? QString() : tr("Open a garage that can be written to: maps are kept there."));

    auto* column = dialogColumn(*this);
    column->setSpacing(gridStep);
    lay(*column, {title_, summary_, makeForms(), grow(columns_), lines_, problem_, keep_, buttons});
}

void ImportDialog::refreshRefused() {
    const ImportSurvey& survey = refused_->survey;
    title_->setText(QFileInfo(QString::fromStdString(refused_->source.path)).fileName());
    summary_->setText(survey.likelyTime
                          ? tr("This header names no column that is surely the time. One looks like it and is marked: "
                               "check it, say what the others are, and read the log.")
                          : tr("This header does not tell which column is what. Choose the time, or say how many rows "
                               "a second there are, and at least one more column."));
    lines_->setVisible(false);
    fillText(survey.report, {});
    columns_->setSurvey(survey);
}

void ImportDialog::refresh() {
    shown_ = review_.data();
    problem_->setVisible(false);
    if (!shown_) return;
    const ImportReport& read = report();
    title_->setText(QFileInfo(QString::fromStdString(shown_->source.path)).fileName());
    summary_->setText(
        tr("%1 rows kept, %2 refused; %3 header, %4 comment and %5 empty lines. Every line is accounted for.")
            .arg(read.rows)
            .arg(read.refusedCount)
            .arg(read.headerLines)
            .arg(read.commentLines)
            .arg(read.emptyLines));
    QStringList refused;
    for (const RefusedRow& line : std::span(read.refused).first(std::min<std::size_t>(3, read.refused.size())))
        refused << tr("line %1: %2").arg(line.line).arg(QString::fromStdString(line.why));
    lines_->tell(refused.isEmpty() ? QString() : tr("Refused: %1").arg(refused.join(QStringLiteral("; "))));
    fillText(read, shown_->import);
    polePairs_->setValue(shown_->context.said.polePairs.value_or(0));
    columns_->setReport(read, shown_->import.map);
}

void ImportDialog::fillText(const ImportReport& report, const ImportOptions& used) {
    const auto fill = [](QComboBox* box, const QString& detected, const std::vector<std::pair<QString, int>>& choices,
                         int chosen) {
        box->clear();
        box->addItem(ImportDialog::tr("detected: %1").arg(detected), -1);
        for (const auto& [name, value] : choices)
            box->addItem(name, value);
        box->setCurrentIndex(std::max(0, box->findData(chosen)));
    };
    TextOverrides told = used.text;
    if (used.map) {
        const TextOverrides& own = used.map->text;
        if (!told.encoding) told.encoding = own.encoding;
        if (!told.separator) told.separator = own.separator;
        if (!told.decimal) told.decimal = own.decimal;
        if (!told.timeForm) told.timeForm = own.timeForm;
    }
    std::vector<std::pair<QString, int>> encodings;
    encodings.reserve(static_cast<std::size_t>(TextEncoding::Latin1) + 1);
    for (int i = 0; i <= static_cast<int>(TextEncoding::Latin1); ++i)
        encodings.emplace_back(QString::fromUtf8(encodingName(static_cast<TextEncoding>(i))), i);
    fill(encoding_, QString::fromStdString(report.encoding), encodings,
         told.encoding ? static_cast<int>(*told.encoding) : -1);
    fill(separator_, separatorName(QString::fromStdString(report.separator)),
         {{tr("comma ,"), ','}, {tr("semicolon ;"), ';'}, {tr("tab"), '\t'}, {tr("spaces"), ' '}},
         told.separator.value_or(-1));
    fill(decimal_, decimalName(QString::fromStdString(report.decimal)), {{tr("point ."), '.'}, {tr("comma ,"), ','}},
         told.decimal.value_or(-1));
    std::vector<std::pair<QString, int>> forms;
    forms.reserve(static_cast<std::size_t>(TimeForm::Rate));
    for (int i = 0; i < static_cast<int>(TimeForm::Rate); ++i)
        forms.emplace_back(QString::fromUtf8(timeFormName(static_cast<TimeForm>(i))), i);
    fill(timeForm_, QString::fromStdString(report.timeForm), forms,
         told.timeForm ? static_cast<int>(*told.timeForm) : -1);
    const std::optional<double> rate = used.rate_Hz;
    rate_->setText(rate ? QString::number(*rate) : QString());
}

ColumnMap ImportDialog::map() const {
    ColumnMap own = columnMapFrom(report());
    own.columns = columns_->mapped();
    const auto told = [](const QComboBox* box) -> std::optional<int> {
        const int value = box->currentData().toInt();
        return value < 0 ? std::nullopt : std::optional(value);
    };
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
    if (!refused_ && !review_.data()) return;
    try {
        const ImportOptions wanted = options();
        problem_->setVisible(false);
        if (keep_->isChecked()) keepMap(*wanted.map);
        if (refused_)
            review_.readMapped(refused_->source, wanted);
        else
            review_.readAgain(wanted);
    } catch (const InputError& error) {
        problem_->tell(QString::fromUtf8(error.what()));
    }
}

void ImportDialog::keepMap(const ColumnMap& map) {
    const Part part = mapPart(title_->text().toStdString(), map);
    review_.desk().garage.attempt(tr("Keeping the column map"), [&](Garage& garage) {
        for (Part before : garage.parts(ItemKind::ColumnMap)) { // the same header again: the newer word counts
            if (!mapFits(readColumnMap(before.document, before.name), report())) continue;
            before.document = part.document;
            return garage.update(before);
        }
        garage.add(part);
    });
}

} // namespace rw
