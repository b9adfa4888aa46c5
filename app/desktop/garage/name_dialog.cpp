#include "app/desktop/garage/name_dialog.h"

#include "app/desktop/shared/dialog_frame.h"

#include "plotting/look.h"

#include <QFormLayout>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>

namespace rw {

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
    auto* column = dialogColumn(*this);
    auto* form = new QFormLayout;
    form->setSpacing(gridStep);
    name_ = new QLineEdit(QString::fromStdString(name));
    name_->setAccessibleName(tr("Name"));
    notes_ = new QPlainTextEdit(QString::fromStdString(notes));
    notes_->setAccessibleName(tr("Notes"));
    notes_->setTabChangesFocus(true);
    notes_->setFixedHeight(12 * gridStep);
    form->addRow(tr("&Name"), name_);
    if (description != nullptr) {
        description_ = new QLineEdit(QString::fromStdString(*description));
        description_->setPlaceholderText(tr("one line for lists"));
        description_->setAccessibleName(tr("Description"));
        form->addRow(tr("&Description"), description_);
    }
    form->addRow(tr("N&otes"), notes_);
    column->addLayout(form);
    auto* buttons = dialogButtons(*this, QDialogButtonBox::Save | QDialogButtonBox::Cancel);
    column->addWidget(buttons);
    const auto check = [this, buttons] {
        buttons->button(QDialogButtonBox::Save)->setEnabled(!name_->text().trimmed().isEmpty());
    };
    connect(name_, &QLineEdit::textChanged, this, check);
    check();
}

std::string NameDialog::name() const { return name_->text().trimmed().toStdString(); }
std::string NameDialog::description() const {
    return description_ == nullptr ? std::string() : description_->text().trimmed().toStdString();
}
std::string NameDialog::notes() const { return notes_->toPlainText().toStdString(); }

} // namespace rw
