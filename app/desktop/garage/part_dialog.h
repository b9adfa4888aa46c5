// New things of the garage, each in one dialog: a part with the values without which nothing can be planned, the rest
// folded away; a setup from parts.
#pragma once

#include "app/desktop/shared/units.h"
#include "storage/garage.h"
#include "storage/values.h"

#include <QDialog>

#include <array>
#include <optional>
#include <vector>

class QComboBox;
class QGridLayout;
class QLineEdit;
class QScrollArea;

namespace rw {

class ComplaintLabel;
class TextLabel;
class ValueEditor;

class PartDialog : public QDialog {
    Q_OBJECT
public:
    PartDialog(ItemKind kind, const Units& units, QWidget* parent = nullptr);
    ~PartDialog() override;
    // What was typed; valid after accept().
    [[nodiscard]] const Part& part() const { return parts_.front(); }
    // Several gears where a list or a range of teeth was typed ("20-30"), each named after its teeth.
    [[nodiscard]] const std::vector<Part>& parts() const { return parts_; }
    [[nodiscard]] ValueEditor* editor(const std::string& key) const; // null: not one of this kind's
    void accept() override;

private:
    void fill(); // the rows of the kind
    void orderTabs();
    void addRow(const std::string& key, QGridLayout& grid);
    void showHelp(QWidget* focused);
    void complain(const QString& sentence, QWidget* where);
    [[nodiscard]] ItemKind kind() const;
    [[nodiscard]] std::vector<Part> read() const; // throws InputError with what to call the field as its place

    const Units& units_;
    std::vector<Part> parts_;
    std::vector<ValueEditor*> editors_;
    QComboBox* kind_ = nullptr;
    QLineEdit *name_ = nullptr, *description_ = nullptr;
    QScrollArea* area_ = nullptr;
    TextLabel* help_ = nullptr;
    ComplaintLabel* complaint_ = nullptr;
};

// A setup from parts of the garage. Says which values are still missing before anything can be planned with it.
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
