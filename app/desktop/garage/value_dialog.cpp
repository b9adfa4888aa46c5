#include "app/desktop/garage/value_dialog.h"

#include "app/desktop/garage/garage_text.h"
#include "app/desktop/labels.h"
#include "app/desktop/plan/field_view.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QLocale>
#include <QVBoxLayout>

namespace rw {

namespace {

double numberFrom(const QString& text, const QString& what) {
    QString plain = text.trimmed();
    plain.replace(QChar(0x2212), QLatin1Char('-')).remove(QChar(QChar::Nbsp)).replace(QLatin1Char(','), QLatin1Char('.'));
    bool ok = false;
    const double number = QLocale::c().toDouble(plain, &ok);
    if (!ok) throw InputError({}, QObject::tr("%1: expected a number.").arg(what).toStdString());
    return number;
}

} // namespace

ValueDialog::ValueDialog(const std::string& key, const Value& value, const Units& units, QWidget* parent)
    : QDialog(parent)
    , key_(key)
    , value_(value) {
    setWindowTitle(keyLabel(key));
    setMinimumWidth(52 * gridStep);
    const PlanField* field = findPlanField(key);
    QString symbol;
    if (field) {
        const UnitView unit = fieldUnit(*field, units);
        symbol = unit.symbol;
        factor_ = unit.factor;
        offset_ = unit.offset;
    }
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(3 * gridStep, 3 * gridStep, 3 * gridStep, 2 * gridStep);
    column->setSpacing(2 * gridStep);
    auto* help = new TextLabel(keyHelp(key), Type::Small, Tone::Soft);
    help->setWordWrap(true);
    help->setVisible(!help->text().isEmpty());
    column->addWidget(help);
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    const auto row = [&](const QString& label, QWidget* widget) {
        widget->setAccessibleName(label);
        form->addRow(label, widget);
    };
    number_ = new QLineEdit(value.number ? QLocale::c().toString(*value.number * factor_ + offset_, 'g', 12)
                                         : QString::fromStdString(value.text));
    uncertainty_ = new QLineEdit(value.uncertainty ? QLocale::c().toString(*value.uncertainty * factor_, 'g', 6) : QString());
    uncertainty_->setPlaceholderText(tr("none"));
    source_ = new QComboBox;
    for (const Source source : {Source::MakersSheet, Source::Measured, Source::Fitted, Source::Guess})
        source_->addItem(fromUtf8(sourceName(source)), static_cast<int>(source));
    source_->setCurrentIndex(static_cast<int>(value.source));
    note_ = new QLineEdit(QString::fromStdString(value.note));
    note_->setPlaceholderText(tr("how and when you know it"));
    row(symbol.isEmpty() ? tr("Value") : tr("Value, %1").arg(symbol), number_);
    row(tr("Standard uncertainty"), uncertainty_);
    row(tr("Source"), source_);
    row(tr("Note"), note_);
    column->addLayout(form);
    complaint_ = new TextLabel(QString(), Type::Body, Tone::Bad);
    complaint_->setWordWrap(true);
    complaint_->hide();
    column->addWidget(complaint_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Save | QDialogButtonBox::Cancel);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &ValueDialog::tryAccept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    number_->selectAll();
}

Value ValueDialog::read() const {
    Value value = value_;
    const PlanField* field = findPlanField(key_);
    const bool words = field && (field->kind == FieldKind::Choice || field->kind == FieldKind::WholeList ||
                                 field->kind == FieldKind::OcvTable);
    if (words) {
        value.text = number_->text().trimmed().toStdString();
    } else if (number_->text().trimmed().isEmpty()) {
        value.number.reset();
    } else {
        value.number = (numberFrom(number_->text(), tr("Value")) - offset_) / factor_;
        if (field) checkFieldValue(*field, *value.number, {});
    }
    value.uncertainty.reset();
    if (!uncertainty_->text().trimmed().isEmpty()) {
        const double spread = numberFrom(uncertainty_->text(), tr("Standard uncertainty")) / factor_;
        if (spread < 0.0) throw InputError({}, tr("Standard uncertainty: expected 0 or more.").toStdString());
        value.uncertainty = spread;
    }
    value.source = static_cast<Source>(source_->currentData().toInt());
    value.note = note_->text().toStdString();
    return value;
}

void ValueDialog::tryAccept() {
    try {
        value_ = read();
        accept();
    } catch (const InputError& error) {
        complaint_->setText(QString::fromUtf8(error.what()));
        complaint_->show();
        number_->setFocus();
    }
}

} // namespace rw
