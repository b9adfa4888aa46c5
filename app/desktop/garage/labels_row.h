// One row of the labels page: name with the rule under it, the value (dashed while it is an estimate), unit, usual
// range.
#pragma once

#include "app/desktop/garage/labels_sheet.h"

#include <QWidget>

class QButtonGroup;
class QCheckBox;
class QHBoxLayout;

namespace rw {

class FieldEdit;
class ShortLabel;
class TextLabel;
class UsualRange;

class LabelsRow : public QWidget {
    Q_OBJECT
public:
    LabelsRow(LabelsSheet& sheet, const LabelRowInfo& row);

    [[nodiscard]] const LabelRowInfo& row() const { return row_; }
    [[nodiscard]] QWidget* editor() const; // what takes the focus
    // The estimate that stands in for an empty field; null: none yet.
    void show(const LabelsValue* estimate);
    [[nodiscard]] QString complaint() const { return complaint_; }
    [[nodiscard]] QString standIn() const { return standIn_; }

signals:
    void entered(); // has the focus

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void makeChoice();
    void makeEdit();
    void commit();
    void makeMeasured();
    void complain(const QString& sentence); // empty: nothing is wrong
    void refreshName();

    LabelsSheet& sheet_;
    const LabelRowInfo& row_;
    QHBoxLayout* line_ = nullptr;
    ShortLabel *name_ = nullptr, *rule_ = nullptr;
    TextLabel* unit_ = nullptr;
    FieldEdit* edit_ = nullptr;
    QButtonGroup* choice_ = nullptr;
    UsualRange* range_ = nullptr;
    QCheckBox* measured_ = nullptr; // where a label can be measured better than it is printed
    QString complaint_, standIn_, from_;
};

} // namespace rw
