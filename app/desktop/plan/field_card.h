// What the field in hand means, what is usual, how to measure it; and its uncertainty, which may be set here.
#pragma once

#include <QWidget>

class QLineEdit;

namespace rw {

class PlanSession;
class TextLabel;
struct PlanField;

class FieldCard : public QWidget {
    Q_OBJECT
public:
    explicit FieldCard(PlanSession& session, QWidget* parent = nullptr);
    void show(const PlanField* field);
    void refresh();

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
