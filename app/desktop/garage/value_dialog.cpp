#include "app/desktop/garage/value_dialog.h"

#include "app/desktop/garage/value_editor.h"
#include "app/desktop/shared/dialog_frame.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/labels.h"
#include "core/error.h"

#include <QComboBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QVBoxLayout>

namespace rw {

ValueDialog::ValueDialog(const std::string& key, const Value& value, const Units& units, QWidget* parent)
    : QDialog(parent)
    , value_(value)
    , editor_(new ValueEditor(key, value, units, this)) {
    setWindowTitle(keyLabel(key));
    setMinimumWidth(52 * gridStep);
    auto* column = dialogColumn(*this);
    auto* help = new TextLabel(keyHelp(key, units), Type::Small, Tone::Soft);
    help->setWordWrap(true);
    help->setVisible(!help->text().isEmpty());
    column->addWidget(help);
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    note_ = new QLineEdit(QString::fromStdString(value.note));
    note_->setPlaceholderText(tr("how and when you know it"));
    note_->setAccessibleName(tr("Note"));
    const QString symbol = editor_->symbol();
    const auto labelled = [&symbol](const QString& label) {
        return symbol.isEmpty() ? label : tr("%1, %2").arg(label, symbol);
    };
    form->addRow(labelled(tr("&Value")), editor_->editor());
    form->addRow(labelled(tr("Standard &uncertainty")), editor_->uncertainty());
    form->addRow(tr("&Source"), editor_->source());
    form->addRow(tr("&Note"), note_);
    column->addLayout(form);
    complaint_ = new ComplaintLabel;
    column->addWidget(complaint_);
    column->addWidget(dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel));
    editor_->editor()->setFocus();
    if (auto* edit = qobject_cast<QLineEdit*>(editor_->editor())) edit->selectAll();
}

void ValueDialog::complain(const QString& sentence) { complaint_->say(sentence); }

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

} // namespace rw
