// A new part of the garage in one dialog: kind, name, the values without which nothing can be planned, the rest folded
// away. What a value means, what is usual and how to measure it stands below the value in hand.
#pragma once

#include "app/desktop/shared/units.h"
#include "storage/values.h"

#include <QDialog>

#include <vector>

class QComboBox;
class QGridLayout;
class QLabel;
class QLineEdit;
class QScrollArea;

namespace rw {

class ComplaintLabel;
class TextLabel;
class ValueEditor;
struct PlanField;

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

} // namespace rw
