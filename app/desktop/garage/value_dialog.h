// One value of a part: number or words, uncertainty, source, note, with the field's help.
#pragma once

#include "app/desktop/shared/units.h"
#include "storage/values.h"

#include <QDialog>

#include <string>

class QLineEdit;

namespace rw {

class ComplaintLabel;
class ValueEditor;

class ValueDialog : public QDialog {
    Q_OBJECT
public:
    // key: of the plan field or "gears.count"; value: as it is now.
    ValueDialog(const std::string& key, const Value& value, const Units& units, QWidget* parent = nullptr);
    // What was typed; valid after accept().
    [[nodiscard]] const Value& value() const { return value_; }
    void complain(const QString& sentence);
    void accept() override;

private:
    Value value_;
    ValueEditor* editor_ = nullptr;
    QLineEdit* note_ = nullptr;
    ComplaintLabel* complaint_ = nullptr;
};

} // namespace rw
