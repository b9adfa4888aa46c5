#include "app/desktop/garage/value_dialog.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_text.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/ocv_dialog.h"
#include "app/desktop/shared/widgets.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "plotting/look.h"

#include <QComboBox>
#include <QPushButton>

namespace rw {

namespace {

// As many digits as the value means.
QString meant(const Value& value, const UnitView& unit) {
    return meantText(unit.shown(*value.number), value.uncertainty.value_or(0.0) * unit.factor);
}

} // namespace

ValueEditor::ValueEditor(const std::string& key, const Value& value, const Units& units, QObject* parent)
    : QObject(parent)
    , key_(key)
    , field_(findPlanField(key))
    , value_(value) {
    if (field_) unit_ = fieldUnit(*field_, units);
    makeEditor(units);
    uncertainty_ = new QLineEdit(value.uncertainty ? meantUncertainty(*value.uncertainty * unit_.factor) : QString());
    shownUncertainty_ = uncertainty_->text();
    uncertainty_->setPlaceholderText(tr("none"));
    uncertainty_->setAlignment(Qt::AlignRight);
    uncertainty_->setEnabled(edit_ != nullptr);
    source_ = new QComboBox;
    for (const Source source :
         {Source::MakersSheet, Source::Label, Source::Measured, Source::Fitted, Source::Estimated, Source::Guess})
        source_->addItem(QString::fromUtf8(sourceName(source)), static_cast<int>(source));
    source_->setCurrentIndex(source_->findData(static_cast<int>(value.source)));
    source_->setFocusPolicy(Qt::StrongFocus);
    const QString label = keyLabel(key);
    editor()->setAccessibleName(label);
    uncertainty_->setAccessibleName(tr("Standard uncertainty of %1").arg(label));
    source_->setAccessibleName(tr("Source of %1").arg(label));
    editor()->setToolTip(keyHelp(key, units));
    uncertainty_->setToolTip(keyHelp(key, units));
}

void ValueEditor::makeEditor(const Units& units) {
    if (field_ && field_->kind == FieldKind::Choice) {
        choice_ = new QComboBox;
        choice_->addItem(QStringLiteral("–"), QString());
        for (const std::string_view word : field_->choices)
            choice_->addItem(QString::fromUtf8(word), QString::fromUtf8(word));
        choice_->setCurrentIndex(std::max(0, choice_->findData(QString::fromStdString(value_.text))));
        choice_->setFocusPolicy(Qt::StrongFocus);
    } else if (field_ && field_->kind == FieldKind::OcvTable) {
        table_ =
            new QPushButton(value_.text.empty() ? tr("usual table…") : tr("%1…").arg(valueText(key_, value_, units)));
        table_->setAutoDefault(false);
        connect(table_, &QPushButton::clicked, this, &ValueEditor::editTable);
    } else {
        edit_ = new QLineEdit(value_.number ? meant(value_, unit_) : QString::fromStdString(value_.text));
        shown_ = edit_->text();
        edit_->setAlignment(Qt::AlignRight);
        if (field_ && field_->defaultValue)
            edit_->setPlaceholderText(meantText(unit_.shown(*field_->defaultValue)));
        else if (field_)
            edit_->setPlaceholderText(QString::fromUtf8(field_->defaultText));
    }
}

QWidget* ValueEditor::editor() const {
    if (table_) return table_;
    return choice_ ? static_cast<QWidget*>(choice_) : edit_;
}

bool ValueEditor::empty() const {
    if (edit_) return edit_->text().trimmed().isEmpty();
    return choice_ ? choice_->currentData().toString().isEmpty() : value_.text.empty();
}

void ValueEditor::editTable() {
    OcvDialog dialog(value_.text.empty() ? defaultOcv() : ocvFromText(value_.text), table_->window());
    if (dialog.exec() != QDialog::Accepted) return;
    value_.text = ocvToText(dialog.table());
    table_->setText(tr("%1 points…").arg(dialog.table().size()));
}

double ValueEditor::number() const {
    if (!field_ || field_->kind == FieldKind::WholeList) return typedNumber(edit_->text());
    const double value = unit_.inside(typedNumber(edit_->text()));
    checkTyped(*field_, unit_, value);
    return value;
}

Value ValueEditor::read() const {
    Value value = value_;
    value.source = static_cast<Source>(source_->currentData().toInt());
    if (choice_) value.text = choice_->currentData().toString().toStdString();
    if (!edit_) return value;
    value.number.reset();
    value.uncertainty.reset();
    if (field_ && field_->kind == FieldKind::WholeList) {
        value.text = edit_->text().trimmed().toStdString();
        return value;
    }
    // What was not typed over keeps the digits that are not shown.
    if (value_.number && edit_->text() == shown_)
        value.number = value_.number;
    else if (!empty())
        value.number = number();
    if (uncertainty_->text().trimmed().isEmpty()) return value;
    if (value_.uncertainty && uncertainty_->text() == shownUncertainty_) {
        value.uncertainty = value_.uncertainty;
        return value;
    }
    const double spread = typedNumber(uncertainty_->text()) / unit_.factor;
    if (!(spread >= 0.0)) throw InputError({}, tr("An uncertainty is 0 or more.").toStdString());
    value.uncertainty = spread;
    return value;
}

ValueDialog::ValueDialog(const std::string& key, const Value& value, const Units& units, QWidget* parent)
    : QDialog(parent)
    , value_(value)
    , editor_(new ValueEditor(key, value, units, this)) {
    setWindowTitle(keyLabel(key));
    setMinimumWidth(52 * gridStep);
    auto* help = paragraph(keyHelp(key, units), Type::Small, Tone::Soft);
    help->setVisible(!help->text().isEmpty());
    auto* form = closeForm();
    const QString symbol = editor_->symbol();
    const auto labelled = [&symbol](const QString& label) {
        return symbol.isEmpty() ? label : tr("%1, %2").arg(label, symbol);
    };
    form->addRow(labelled(tr("&Value")), editor_->editor());
    form->addRow(labelled(tr("Standard &uncertainty")), editor_->uncertainty());
    form->addRow(tr("&Source"), editor_->source());
    note_ = addLine(*form, tr("&Note"), QString::fromStdString(value.note), tr("how and when you know it"));
    complaint_ = new ComplaintLabel;
    lay(*dialogColumn(*this),
        {help, form, complaint_, dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel)});
    editor_->editor()->setFocus();
    if (auto* edit = qobject_cast<QLineEdit*>(editor_->editor())) edit->selectAll();
}

void ValueDialog::complain(const QString& sentence) { complaint_->tell(sentence); }

void ValueDialog::accept() {
    try {
        value_ = editor_->read();
        value_.note = note_->text().toStdString();
        QDialog::accept();
    } catch (const InputError& error) {
        complain(QString::fromStdString(error.message()));
        editor_->editor()->setFocus();
    }
}

NameDialog::NameDialog(const Part& part, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Name and description"));
    build(part.name, &part.description, part.notes);
}

NameDialog::NameDialog(const Outing& outing, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Name and notes"));
    build(outing.name, nullptr, outing.notes);
}

void NameDialog::build(const std::string& name, const std::string* description, const std::string& notes) {
    setMinimumWidth(60 * gridStep);
    auto* form = closeForm();
    name_ = addLine(*form, tr("&Name"), QString::fromStdString(name));
    notes_ = named(new QPlainTextEdit(QString::fromStdString(notes)), tr("Notes"));
    notes_->setTabChangesFocus(true);
    notes_->setFixedHeight(12 * gridStep);
    if (description != nullptr)
        description_ =
            addLine(*form, tr("&Description"), QString::fromStdString(*description), tr("one line for lists"));
    form->addRow(tr("N&otes"), notes_);
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel);
    lay(*dialogColumn(*this), {form, buttons});
    const auto check = [this, buttons] {
        buttons->button(QDialogButtonBox::Save)->setEnabled(!name_->text().trimmed().isEmpty());
    };
    connect(name_, &QLineEdit::textChanged, this, check);
    check();
}

std::string NameDialog::description() const {
    return description_ == nullptr ? std::string() : description_->text().trimmed().toStdString();
}

} // namespace rw
