// A setup from parts of the garage. Says which values are still missing before anything can be planned with it.
#pragma once

#include "storage/garage.h"

#include <QDialog>

#include <array>
#include <optional>

class QComboBox;
class QLineEdit;

namespace rw {

class ComplaintLabel;

class SetupDialog : public QDialog {
    Q_OBJECT
public:
    // chosen: what is on show; the part is taken if it is one.
    SetupDialog(Garage& garage, std::optional<Id> chosen, QWidget* parent = nullptr);
    // Composed of the parts; valid after accept().
    [[nodiscard]] const Setup& setup() const { return setup_; }
    [[nodiscard]] QString complaint() const;
    void accept() override;

private:
    void takeUsualParts(); // those of the vehicle's newest setup

    Garage& garage_;
    Setup setup_;
    QLineEdit* name_ = nullptr;
    std::array<QComboBox*, 7> parts_{};
    ComplaintLabel* complaint_ = nullptr;
};

} // namespace rw
