// One value of a part: number or words, uncertainty, source, note. Typed in the unit that the person reads.
#pragma once

#include "app/desktop/units.h"
#include "storage/values.h"

#include <QDialog>

#include <string>

class QComboBox;
class QDialogButtonBox;
class QLineEdit;

namespace rw {

class TextLabel;

class ValueDialog : public QDialog {
    Q_OBJECT
public:
    // key: of the plan field or "gears.count"; value: as it is now.
    ValueDialog(const std::string& key, const Value& value, const Units& units, QWidget* parent = nullptr);
    // What was typed; valid after accept().
    [[nodiscard]] const Value& value() const { return value_; }

private:
    void tryAccept();
    [[nodiscard]] Value read() const;  // throws InputError for a person to read

    std::string key_;
    Value value_;
    double factor_ = 1.0, offset_ = 0.0;
    QLineEdit *number_ = nullptr, *uncertainty_ = nullptr, *note_ = nullptr;
    QComboBox* source_ = nullptr;
    TextLabel* complaint_ = nullptr;
};

} // namespace rw
