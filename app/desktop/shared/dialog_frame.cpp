#include "app/desktop/shared/dialog_frame.h"

#include "plotting/look.h"

#include <QDialog>
#include <QPushButton>
#include <QVBoxLayout>

namespace rw {

QVBoxLayout* dialogColumn(QDialog& dialog) {
    auto* column = new QVBoxLayout(&dialog);
    column->setContentsMargins(3 * gridStep, 3 * gridStep, 3 * gridStep, 2 * gridStep);
    column->setSpacing(2 * gridStep);
    return column;
}

QDialogButtonBox* dialogButtons(QDialog& dialog, QDialogButtonBox::StandardButtons buttons, const QString& yes) {
    auto* box = new QDialogButtonBox(buttons);
    if (!yes.isEmpty()) box->button(QDialogButtonBox::Ok)->setText(yes);
    QObject::connect(box, &QDialogButtonBox::accepted, &dialog, &QDialog::accept);
    QObject::connect(box, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    return box;
}

} // namespace rw
