// The widgets for one value of a part: number or word, standard uncertainty, source; typed in the unit that the person
// reads, checked by the field table. Laid out by whoever makes it.
#pragma once

#include "app/desktop/shared/units.h"
#include "storage/values.h"

#include <QObject>
#include <QString>

#include <optional>
#include <string>

class QComboBox;
class QLineEdit;
class QPushButton;

namespace rw {

struct PlanField;

class ValueEditor : public QObject {
    Q_OBJECT
public:
    // key: of the plan field or "gears.count"; value: as it is now. The widgets get their parent from a layout.
    ValueEditor(const std::string& key, const Value& value, const Units& units, QObject* parent);

    [[nodiscard]] const std::string& key() const { return key_; }
    [[nodiscard]] const PlanField* field() const { return field_; } // none for "gears.count" and thresholds
    [[nodiscard]] QString symbol() const { return unit_.symbol; }   // "" for a pure number
    [[nodiscard]] QWidget* editor() const;                          // the value itself
    [[nodiscard]] QLineEdit* uncertainty() const { return uncertainty_; }
    [[nodiscard]] QComboBox* source() const { return source_; }
    // Nothing was typed or chosen.
    [[nodiscard]] bool empty() const;
    // What was typed, note as given. Throws InputError without a place: one sentence for a person.
    [[nodiscard]] Value read() const;

private:
    void makeEditor(const Units& units);
    void editTable();
    [[nodiscard]] double number() const;

    std::string key_;
    const PlanField* field_;
    Value value_;
    UnitView unit_;
    QString shown_, shownUncertainty_; // rounded to what they mean
    QLineEdit* edit_ = nullptr;
    QComboBox* choice_ = nullptr;
    QPushButton* table_ = nullptr;
    QLineEdit* uncertainty_ = nullptr;
    QComboBox* source_ = nullptr;
};

} // namespace rw
