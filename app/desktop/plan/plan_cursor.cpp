#include "app/desktop/plan/plan_cursor.h"

#include "app/desktop/plan/plan_session.h"

#include <algorithm>

namespace rw {

PlanCursor::PlanCursor(PlanSession& session)
    : session_(session) {
    connect(&session_, &PlanSession::outcomeChanged, this, &PlanCursor::fit);
    connect(&session_, &PlanSession::replaced, this, [this] { distance_.setCursor({}); });
    connect(&session_.desk().units, &Units::changed, this, [this] {
        distance_.setCursor({});
        fit();
    });
    connect(&distance_, &AxisLink::cursorChanged, this, [this] { follow(true); });
    connect(&speed_, &AxisLink::cursorChanged, this, [this] { follow(false); });
}

// The whole strip, and what lies beyond it where the car does not stop in time.
void PlanCursor::fit() {
    const auto outcome = session_.outcome();
    if (!outcome) return;
    const UnitView metre = session_.units().of(Dimension::Distance), mps = session_.units().of(Dimension::Speed);
    const Range strip{0.0, metre.shown(std::max(outcome->marks.end, outcome->marks.stop))};
    if (distance_.bounds() != strip) distance_.setBounds(strip);
    if (outcome->forces.speed.empty()) return;
    const Range speeds{0.0, mps.shown(outcome->forces.speed.back())};
    if (speed_.bounds() != speeds) speed_.setBounds(speeds);
}

std::optional<double> PlanCursor::metres() const {
    if (!distance_.cursor()) return std::nullopt;
    return session_.units().of(Dimension::Distance).inside(*distance_.cursor());
}

void PlanCursor::follow(bool fromDistance) {
    if (following_) return;
    following_ = true;
    if (const auto outcome = session_.outcome()) {
        const UnitView metre = session_.units().of(Dimension::Distance), mps = session_.units().of(Dimension::Speed);
        std::optional<double> other;
        if (fromDistance) {
            if (distance_.cursor())
                other = curveAt(outcome->curve, outcome->curve.speed, metre.inside(*distance_.cursor()));
            speed_.setCursor(other ? std::optional(mps.shown(*other)) : std::nullopt);
        } else {
            if (speed_.cursor()) other = distanceOfSpeed(outcome->curve, mps.inside(*speed_.cursor()));
            distance_.setCursor(other ? std::optional(metre.shown(*other)) : std::nullopt);
        }
    }
    following_ = false;
    emit moved();
}

} // namespace rw
