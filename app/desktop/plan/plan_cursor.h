// The one cursor of the plan: a place on the strip, seen on the strip and the speed chart as a distance and on the
// force chart as a speed. Both axes are in the units shown.
#pragma once

#include "plotting/axis_link.h"

#include <QObject>

#include <optional>

namespace rw {

class PlanSession;

class PlanCursor : public QObject {
    Q_OBJECT
public:
    explicit PlanCursor(PlanSession& session);

    [[nodiscard]] AxisLink& distance() { return distance_; }
    [[nodiscard]] AxisLink& speed() { return speed_; }
    [[nodiscard]] std::optional<double> metres() const; // where the cursor stands; none: nowhere

signals:
    void moved();

private:
    void fit();
    void follow(bool fromDistance);

    PlanSession& session_;
    AxisLink distance_, speed_;
    bool following_ = false;
};

} // namespace rw
