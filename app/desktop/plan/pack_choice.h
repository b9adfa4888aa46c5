// Which pack lies in the car: one step takes another one of the garage, with all its values.
#pragma once

#include <QComboBox>

namespace rw {

class PlanSession;

class PackChoice : public QComboBox {
    Q_OBJECT
public:
    explicit PackChoice(PlanSession& session, QWidget* parent = nullptr);
    // Puts a pack of the garage into the car as one step of undo; where both packs' masses are known the vehicle's
    // changes with them.
    void take(const QString& packId);

private:
    void fill();

    PlanSession& session_;
};

} // namespace rw
