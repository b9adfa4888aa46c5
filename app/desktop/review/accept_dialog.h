// Learned values into the garage: a new revision of the setup, and the parts whose own values change as well. Parts are
// shared, so it says who else uses them and asks.
#pragma once

#include "app/desktop/review/day_taught.h"
#include "storage/garage.h"

#include <QDialog>

#include <vector>

class QCheckBox;
class QLineEdit;

namespace rw {

class AcceptDialog : public QDialog {
    Q_OBJECT
public:
    // Throws GarageError where the setup cannot be read.
    AcceptDialog(Garage& garage, const DayTaught& day, QWidget* parent = nullptr);
    [[nodiscard]] FitAcceptance acceptance() const;

private:
    void addPart(Garage& garage, const Setup& setup, Id part, const LearnReport& report);
    struct Asked {
        Id part;
        QCheckBox* box = nullptr;
    };
    std::vector<Asked> parts_;
    QLineEdit* reason_ = nullptr;
};

} // namespace rw
