// The open-circuit table of a cell, row by row: charge and volts. Checked as in a plan file.
#pragma once

#include "core/plan/plan_input.h"

#include <QDialog>

#include <string>
#include <vector>

class QTableWidget;

namespace rw {

class ComplaintLabel;

// As the garage keeps it, "[[0,3.27],[1,4.2]]". Throws InputError where the text is no such table.
[[nodiscard]] std::vector<OcvPoint> ocvFromText(const std::string& text);
[[nodiscard]] std::string ocvToText(const std::vector<OcvPoint>& table);

class OcvDialog : public QDialog {
    Q_OBJECT
public:
    explicit OcvDialog(const std::vector<OcvPoint>& table, QWidget* parent = nullptr);
    // What was typed; valid after accept().
    [[nodiscard]] const std::vector<OcvPoint>& table() const { return table_; }
    void accept() override;

private:
    void show(const std::vector<OcvPoint>& table);
    void addRow();
    void removeRow();
    [[nodiscard]] std::vector<OcvPoint> read() const; // throws InputError for a person to read

    std::vector<OcvPoint> table_;
    QTableWidget* rows_ = nullptr;
    ComplaintLabel* complaint_ = nullptr;
};

} // namespace rw
