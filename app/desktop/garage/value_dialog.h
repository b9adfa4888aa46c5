// Dialogs for one thing of the garage: a value with its uncertainty, source and note; a name with description and
// notes.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/plan_fields.h"
#include "storage/values.h"

#include <QDialog>
#include <QLineEdit>
#include <QObject>
#include <QPlainTextEdit>
#include <QString>

#include <string>

class QComboBox;
class QPushButton;

namespace rw {

class ComplaintLabel;

// The widgets for one value of a part: number or word, standard uncertainty, source; typed in the unit that the person
// reads, checked by the field table. Laid out by whoever makes it.
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

// What a part or an outing is called, the line that lists show, and notes.
class NameDialog : public QDialog {
    Q_OBJECT
public:
    explicit NameDialog(const Part& part, QWidget* parent = nullptr);
    explicit NameDialog(const Outing& outing, QWidget* parent = nullptr); // has no description
    [[nodiscard]] std::string name() const { return name_->text().trimmed().toStdString(); }
    [[nodiscard]] std::string description() const;
    [[nodiscard]] std::string notes() const { return notes_->toPlainText().toStdString(); }

private:
    void build(const std::string& name, const std::string* description, const std::string& notes);

    QLineEdit *name_ = nullptr, *description_ = nullptr;
    QPlainTextEdit* notes_ = nullptr;
};

} // namespace rw
