// One field of the setup: label, mark and way back where it is changed, value, unit; and a complaint under it.
#pragma once

#include "core/plan/plan_fields.h"

#include <QWidget>

#include <memory>

class QComboBox;
class QPushButton;
class QToolButton;

namespace rw {

class FieldEdit;
class PlanSession;
class ShortLabel;
class TextLabel;

class FieldRow : public QWidget {
    Q_OBJECT
public:
    FieldRow(PlanSession& session, const PlanField& field);

    [[nodiscard]] const PlanField& field() const { return field_; }
    [[nodiscard]] QWidget* editor() const;
    [[nodiscard]] QString complaint() const;
    // Shows the session's value anew; what is being typed is left alone.
    void refresh();

signals:
    void entered(const PlanField* field); // has the focus or the pointer
    void uncertaintyWanted(const PlanField* field);

protected:
    void enterEvent(QEnterEvent* event) override;

private:
    void makeEdit();
    void makeChoice();
    void makeTable();
    void editTable();
    void typed(const QString& text);
    void chosen(int index);
    void step(int steps);
    void leave();
    void takeBackTyping();
    void change(PlanInput next);
    void complain(const QString& sentence);

    PlanSession& session_;
    const PlanField& field_;
    std::shared_ptr<const PlanInput> beforeTyping_; // null: nothing typed since the field was entered
    bool typing_ = false;                           // the change under way comes from this line
    ShortLabel* label_ = nullptr;
    QToolButton* back_ = nullptr;
    FieldEdit* edit_ = nullptr;
    QComboBox* choice_ = nullptr;
    QPushButton* table_ = nullptr;
    TextLabel* unit_ = nullptr;
    TextLabel* complaint_ = nullptr;
};

} // namespace rw
