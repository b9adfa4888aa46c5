// What every dialog has around what it asks.
#pragma once

#include <QDialogButtonBox>

class QDialog;
class QVBoxLayout;

namespace rw {

// The dialog's column, with its margins.
[[nodiscard]] QVBoxLayout* dialogColumn(QDialog& dialog);
// Its buttons: they accept() and reject() it. yes: the words of the one that accepts, where its own say too little.
[[nodiscard]] QDialogButtonBox* dialogButtons(QDialog& dialog, QDialogButtonBox::StandardButtons buttons,
                                              const QString& yes = {});

} // namespace rw
