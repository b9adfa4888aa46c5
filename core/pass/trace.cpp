#include "core/pass/trace.h"

#include <algorithm>

namespace rw::pass {

Instant instantOf(const Model& model, double time, const State& y, const Regime& regime, const Solution& s, Phase phase,
                  bool cutoffActed) {
    Instant i;
    i.time = time;
    i.distance = y[X];
    i.speed = phase == Phase::Rest || !regime.moving ? 0.0 : y[V];
    i.acceleration = phase == Phase::Rest || !regime.moving ? 0.0 : s.acceleration;
    const bool throttleOpen = phase == Phase::Standing || phase == Phase::RunUp || phase == Phase::Timed;
    i.throttle = throttleOpen ? model.throttle(time, regime.full || time >= model.fullThrottleTime()) : 0.0;
    i.duty = s.duty;
    i.packVoltage = s.packVoltage;
    i.packCurrent = s.packCurrent;
    i.motorCurrent = s.motorCurrent;
    i.motorSpeed = s.motorSpeed;
    i.wheelSpeed = s.wheelSpeed;
    i.winding = y[TW];
    i.motorCase = y[TH];
    i.controller = y[TC];
    i.pack = y[TP];
    const AxleLoads loads = model.loads(s, regime.moving);
    i.frontLoad = loads.front;
    i.rearLoad = loads.rear;
    i.charge = y[Z];
    i.polarisation = y[U1];
    i.tyreForce = s.tyreForce;
    i.drag = s.drag;
    i.rolling = s.rolling;
    i.brake = s.brake;
    i.slip = s.slip;
    i.shaftTorque = s.torque;
    i.limit = regime.open ? regime.limit : (cutoffActed && throttleOpen ? Limit::Cutoff : Limit::None);
    i.phase = phase;
    return i;
}

} // namespace rw::pass
