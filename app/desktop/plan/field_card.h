// What the field in hand means, what is usual, how to measure it; and its uncertainty, which may be set here.
#pragma once

#include "core/plan/plan_fields.h"

#include <QWidget>

class QLineEdit;

namespace rw {

class PlanSession;
class TextLabel;

class FieldCard : public QWidget {
    Q_OBJECT
public:
    explicit FieldCard(PlanSession& session);
    void show(const PlanField* field);
    void refresh();
    [[nodiscard]] bool hasUncertainty(const PlanField& field) const; // of this kind one can be stated
    void editUncertainty(const PlanField& field);                    // shows it and goes to its ±
    [[nodiscard]] const PlanField* field() const { return field_; }
    void setRoomForText(bool room); // without it only name and ± are shown

signals:
    // Tab or Shift+Tab out of the ± of the field on show; Escape and Enter go back to its value.
    void uncertaintyLeft(const PlanField* field, bool next);
    void valueWanted(const PlanField* field);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void setUncertainty();

    PlanSession& session_;
    const PlanField* field_ = nullptr;
    TextLabel *title_ = nullptr, *meaning_ = nullptr, *measure_ = nullptr, *source_ = nullptr;
    QLineEdit* uncertainty_ = nullptr;
    TextLabel* uncertaintyUnit_ = nullptr;
    QWidget* uncertaintyRow_ = nullptr;
};

} // namespace rw
