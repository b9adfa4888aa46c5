#include "core/pass/model.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw::pass {

namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();
}

// Forces at one speed, before the acceleration is known.
struct Model::Road {
    double drag = 0.0, liftFront = 0.0, rolling = 0.0;
    double resist = 0.0; // drag + rolling + slope
    double total = 0.0;  // vertical load on both axles, not clipped
};

double Model::throttle(double time, bool full) const { return full ? 1.0 : std::min(time / fullAt_, 1.0); }

double Model::shaftDuty(double time, const Regime& regime) const {
    if (regime.driven) return regime.lineDuty + regime.lineSlope * (time - regime.lineFrom);
    return setup_->controller.endpoint * throttle(time, regime.full);
}

bool Model::chopping(const Regime& regime) const {
    const bool whole = regime.driven ? regime.lineDuty == 1.0 && regime.lineSlope == 0.0
                                     : regime.full && setup_->controller.endpoint == 1.0;
    return !(regime.limit == Limit::None && whole);
}

Model::Road Model::road(double speed, bool headOn) const {
    const Chassis& c = setup_->chassis;
    const double air = speed + setup_->strip.headWind;
    const double square = air * air;
    Road r;
    r.drag = dragFactor_ * (headOn ? square : -square);
    r.liftFront = liftFrontFactor_ * square;
    r.total = weightAcross_ - r.liftFront - liftRearFactor_ * square;
    r.rolling = (c.rolling0 + c.rolling2 * speed * speed) * std::max(r.total, 0.0);
    r.resist = r.drag + r.rolling + slopeForce_;
    return r;
}

[[gnu::always_inline]] inline void Model::loadsAt(const Road& road, Axles axles, double acceleration, Solution& s,
                                                  double& drivenSlope) const {
    const Chassis& c = setup_->chassis;
    s.total = road.total;
    s.front = frontStill_ - road.drag * dragLever_ - road.liftFront - transfer_ * acceleration;
    s.rear = road.total - s.front;
    drivenSlope = 0.0;
    if (axles == Axles::Flying) {
        s.drivenLoad = 0.0;
    } else if (c.drive == DrivenAxle::All) {
        s.drivenLoad = road.total;
    } else if (axles == Axles::Both) {
        const bool front = c.drive == DrivenAxle::Front;
        s.drivenLoad = front ? s.front : s.rear;
        drivenSlope = front ? -transfer_ : transfer_;
    } else {
        const bool drivenUp = (axles == Axles::FrontUp) == (c.drive == DrivenAxle::Front);
        s.drivenLoad = drivenUp ? 0.0 : road.total;
    }
}

AxleLoads Model::loads(const Solution& s, bool moving) const {
    if (s.total <= 0.0) return {};
    const double front = std::clamp(moving ? s.front : s.front + transfer_ * s.acceleration, 0.0, s.total);
    return {front, s.total - front};
}

void Model::fillCircuit(const State& y, const Regime& regime, Solution& s) const {
    const Motor& m = setup_->motor;
    const Pack& p = setup_->pack;
    s.emf = motorConstant20_ * (1.0 + m.magnetCoefficient * (y[TW] - 20.0));
    s.motorResistance = m.resistance(y[TW]);
    s.cellsResistance = p.cellsResistance(y[TP]);
    s.rcVoltage = y[U1];
    s.circuit.packResistance = s.cellsResistance + p.leadResistance;
    s.circuit.source = static_cast<double>(p.series) * p.ocv.atInterval(y[Z], regime.ocvInterval) - y[U1] -
                       setup_->controller.auxiliaryCurrent * s.circuit.packResistance;
    s.circuit.loopResistance = s.motorResistance + setup_->controller.resistance;
}

double Model::dutyAllowed(Limit limit, double time, const Regime& regime, const Solution& s) const {
    const Controller& c = setup_->controller;
    switch (limit) {
    case Limit::None:
        return shaftDuty(time, regime);
    case Limit::MotorCurrent:
        if (!c.motorCurrentLimit || foldMargin(s.circuit, *c.motorCurrentLimit, s.backEmf) < 0.0) return infinity;
        return dutyForMotorCurrent(s.circuit, *c.motorCurrentLimit, s.backEmf);
    case Limit::PackCurrent:
        if (!c.packCurrentLimit) return infinity;
        return dutyForPackCurrent(s.circuit, *c.packCurrentLimit - c.auxiliaryCurrent, s.backEmf);
    case Limit::Cutoff:
        if (c.cutoff != CutoffMode::Soft) return infinity;
        return dutyForPackCurrent(s.circuit, (s.circuit.source - c.cutoffVoltage) / s.circuit.packResistance,
                                  s.backEmf);
    case Limit::Traction:
        break;
    }
    return infinity;
}

double Model::foldMarginOf(Limit limit, const Solution& s) const {
    const double scale = s.circuit.source * s.circuit.source;
    if (limit == Limit::MotorCurrent)
        return foldMargin(s.circuit, *setup_->controller.motorCurrentLimit, s.backEmf) / scale;
    if (limit == Limit::Traction) return foldMargin(s.circuit, s.motorCurrent, s.backEmf) / scale;
    return 1.0;
}

// Current and duty of the regime's limit at s.backEmf; currentSlope is dI_m/dω_wheel.
[[gnu::always_inline]] inline void Model::electrics(double time, const Regime& regime, Solution& s, double backEmfSlope,
                                                    double& currentSlope) const {
    const Controller& c = setup_->controller;
    currentSlope = 0.0;
    s.duty = 0.0;
    s.rawCurrent = 0.0;
    if (regime.open) {
        s.duty = dutyAllowed(regime.limit, time, regime, s);
        switch (regime.limit) {
        case Limit::None: {
            const double loop = s.circuit.loopResistance + s.duty * s.duty * s.circuit.packResistance;
            s.rawCurrent = (s.duty * s.circuit.source - s.backEmf) / loop;
            currentSlope = -backEmfSlope / loop;
            break;
        }
        case Limit::MotorCurrent:
            s.rawCurrent = *c.motorCurrentLimit;
            // Past the fold no duty gives it: the integrator's stages there take the root at the fold.
            if (std::isinf(s.duty)) s.duty = dutyForMotorCurrent(s.circuit, s.rawCurrent, s.backEmf);
            break;
        case Limit::PackCurrent:
        case Limit::Cutoff: {
            const double drawn = regime.limit == Limit::PackCurrent
                                     ? *c.packCurrentLimit - c.auxiliaryCurrent
                                     : (s.circuit.source - c.cutoffVoltage) / s.circuit.packResistance;
            s.rawCurrent = drawn > 0.0 ? drawn / s.duty : drawn;
            if (drawn > 0.0) {
                const double terminal = s.circuit.source - drawn * s.circuit.packResistance;
                const double root = 2.0 * terminal * s.duty - s.backEmf;
                currentSlope = -s.rawCurrent / s.duty * backEmfSlope * (1.0 + s.backEmf / root) / (2.0 * terminal);
            }
            break;
        }
        case Limit::Traction:
            break; // solveEdge
        }
    }
    s.motorCurrent = s.rawCurrent;
    if (!regime.flowing || !regime.open) {
        s.motorCurrent = 0.0;
        currentSlope = 0.0;
    }
}

// What the tyre would have to give at this wheel speed less what it gives there; its slope and how far a step of
// Newton's from here misses for each square of its length. Inlined: the search for the wheel speed wants only these.
struct Model::Lack {
    double force = 0.0, slope = -1.0;    // N, N per rad/s
    double bend = 0.0, bendGrowth = 0.0; // 1/(rad/s), 1/(rad/s)²
};

[[gnu::always_inline]] inline Model::Lack Model::lackAt(double time, double speed, double wheelSpeed,
                                                        const Regime& regime, const Road& road, Solution& s) const {
    const Tyre& tyre = setup_->tyre;
    const Gearing& g = setup_->gearing;
    const double mass = setup_->chassis.mass;
    s.wheelSpeed = wheelSpeed;
    s.radius = tyre.radius;
    double radiusSlope = 0.0;
    if (tyre.growth != 0.0) {
        const double square = wheelSpeed * wheelSpeed;
        const double inverse = 1.0 / (square + growthSquare_);
        s.radius = tyre.radius * (1.0 + tyre.growth * square * inverse);
        radiusSlope = tyre.radius * tyre.growth * 2.0 * wheelSpeed * growthSquare_ * inverse * inverse;
    }
    const double perRadius = 1.0 / s.radius;
    s.motorSpeed = g.ratio * wheelSpeed;
    s.backEmf = s.emf * s.motorSpeed;
    double currentSlope = 0.0;
    electrics(time, regime, s, s.emf * g.ratio, currentSlope);

    const double noLoad = setup_->motor.noLoad.constant + viscousSlope_ * s.motorSpeed;
    s.torque = s.emf * (s.motorCurrent - noLoad);
    const double torqueSlope = s.emf * (currentSlope - viscousSlope_ * g.ratio);
    const double gear = regime.pushing ? gearPushing_ : gearHolding_;
    const double drive = (s.torque * gear - g.dragTorque) * perRadius;
    const double driveSlope = (torqueSlope * gear - drive * radiusSlope) * perRadius;
    const double spin = spinInertia_ * perRadius * perRadius;
    const double perEquivalent = 1.0 / (mass + spin);
    s.brake = regime.braking ? brakeForce_ : 0.0;
    s.rawBrake = s.brake;
    s.drag = road.drag;
    s.rolling = road.rolling;
    s.acceleration = (drive - s.brake - road.resist) * perEquivalent;
    const double accelerationSlope =
        (driveSlope + 2.0 * s.acceleration * spin * radiusSlope * perRadius) * perEquivalent;
    s.tyreForce = mass * s.acceleration + road.resist;
    double loadPerAcceleration = 0.0;
    loadsAt(road, regime.axles, s.acceleration, s, loadPerAcceleration);
    Lack lack;
    if (!(speed > 0.0)) return lack; // no slip to solve at rest
    const double perSpeed = 1.0 / speed;
    s.slip = wheelSpeed * s.radius * perSpeed - 1.0;
    const double shareSlope = (s.radius + wheelSpeed * radiusSlope) * perSpeed * perEdgeSlip_;
    s.edgeShare = s.slip * perEdgeSlip_;
    const double left = 1.0 - std::min(std::abs(s.edgeShare), 1.0);
    const double most = setup_->strip.friction * s.drivenLoad;
    const double shape = std::copysign(1.0 - left * left * left, s.edgeShare);
    lack.slope = mass * accelerationSlope - 3.0 * most * left * left * shareSlope -
                 setup_->strip.friction * shape * loadPerAcceleration * accelerationSlope;
    const double bend = most * shareSlope * shareSlope / std::abs(lack.slope);
    lack.bend = 3.0 * bend * left;
    lack.bendGrowth = bend * shareSlope;
    lack.force = s.tyreForce - most * shape;
    return lack;
}

Model::Lack Model::placeAt(double time, double speed, double wheelSpeed, const Regime& regime, const Road& road,
                           Solution& s) const {
    return lackAt(time, speed, wheelSpeed, regime, road, s);
}

// All equations together at a current that is not traction's: one unknown, the wheel speed.
// The force that is lacking falls with it.
void Model::solveFree(double time, double speed, const Regime& regime, const Road& road, Solution& s,
                      double& hint) const {
    const double friction = setup_->strip.friction;
    if (!(speed > 0.0)) {
        placeAt(time, speed, 0.0, regime, road, s);
        const double most = friction * s.drivenLoad;
        const double share = most > 0.0 ? s.tyreForce / most : std::copysign(2.0, s.tyreForce);
        s.edgeShare = std::abs(share) <= 1.0 ? std::copysign(1.0 - std::cbrt(1.0 - std::abs(share)), share) : share;
        s.slip = s.edgeShare * edgeSlip_;
        return;
    }
    double low = 0.0;
    double high = infinity;
    double w = hint > 0.0 ? hint * speed : wheelSpeedFor(setup_->tyre, speed);
    for (int i = 0; i < 80; ++i) {
        Solution trial = s;
        const Lack lack = lackAt(time, speed, w, regime, road, trial);
        (lack.force > 0.0 ? low : high) = w;
        const double step = lack.force / lack.slope;
        const double size = std::abs(step);
        double next = w - step;
        if (lack.slope < 0.0 && std::abs(trial.edgeShare) <= 1.0 && size <= near_ * w &&
            (lack.bend + lack.bendGrowth * size) * size * size <= precision_ * w) {
            w = next;
            break;
        }
        const double rim = next * setup_->tyre.radiusAt(next);
        const double side = rim > speed ? 1.0 : -1.0;
        const bool leaves =
            !(lack.slope < 0.0) || !(next > low && next < high) || std::abs(rim - speed) > edgeSlip_ * speed;
        if (leaves) {
            const double edge = wheelSpeedFor(setup_->tyre, speed * (1.0 + side * edgeSlip_));
            if (side > 0.0 ? edge < high : edge > low) {
                const double atEdge = placeAt(time, speed, edge, regime, road, s).force;
                if (side * atEdge >= 0.0) { // more than the tyre carries: stay at the edge and say by how much
                    const double most = friction * std::max(s.drivenLoad, 0.0);
                    s.edgeShare = side * (1.0 + (most > 0.0 ? std::abs(atEdge) / most : 1.0));
                    hint = edge / speed;
                    return;
                }
                (side > 0.0 ? high : low) = edge;
            }
            if (std::isinf(high)) high = wheelSpeedFor(setup_->tyre, speed * (1.0 + edgeSlip_));
            next = 0.5 * (low + high);
            if (high - low <= 4e-16 * high) break;
        }
        w = next;
    }
    placeAt(time, speed, w, regime, road, s);
    hint = w / speed;
}

// The tyre at the edge of sliding, side +1 under drive and -1 under braking: its speeds, load, force and what follows.
void Model::placeAtEdge(double speed, const Regime& regime, const Road& road, Solution& s, double side) const {
    const double mass = setup_->chassis.mass;
    const double friction = setup_->strip.friction;
    s.slip = side * edgeSlip_;
    s.edgeShare = side;
    s.wheelSpeed = wheelSpeedFor(setup_->tyre, speed * (1.0 + s.slip));
    s.radius = setup_->tyre.radiusAt(s.wheelSpeed);
    s.motorSpeed = setup_->gearing.ratio * s.wheelSpeed;
    s.backEmf = s.emf * s.motorSpeed;
    s.drag = road.drag;
    s.rolling = road.rolling;
    double perAcceleration = 0.0;
    loadsAt(road, regime.axles, 0.0, s, perAcceleration);
    s.acceleration = (side * friction * s.drivenLoad - road.resist) / (mass - side * friction * perAcceleration);
    loadsAt(road, regime.axles, s.acceleration, s, perAcceleration);
    s.tyreForce = side * friction * s.drivenLoad;
}

// Traction: the current is what the force at the edge needs.
void Model::solveTraction(double time, double speed, const Regime& regime, const Road& road, Solution& s) const {
    const Gearing& g = setup_->gearing;
    placeAtEdge(speed, regime, road, s, 1.0);
    const double spinForce = spinInertia_ / (s.radius * s.radius) * s.acceleration;
    const double noLoad = setup_->motor.noLoad.at(s.motorSpeed);
    const double wheelTorque = (s.tyreForce + spinForce) * s.radius + g.dragTorque;
    const double shaft = wheelTorque / (regime.pushing ? gearPushing_ : gearHolding_);
    s.rawCurrent = shaft / s.emf + noLoad;
    s.motorCurrent = regime.flowing ? s.rawCurrent : 0.0;
    s.duty = dutyForMotorCurrent(s.circuit, s.motorCurrent, s.backEmf);
    if (s.drivenLoad <= 0.0) holdUnloaded(time, regime, s);
    s.torque = s.emf * (s.motorCurrent - noLoad);
}

// Sliding backwards: the tyre gives -μN and the brake only what is left over.
void Model::solveSliding(double time, double speed, const Regime& regime, const Road& road, Solution& s) const {
    placeAtEdge(speed, regime, road, s, -1.0);
    double currentSlope = 0.0;
    electrics(time, regime, s, 0.0, currentSlope);
    s.torque = s.emf * (s.motorCurrent - setup_->motor.noLoad.at(s.motorSpeed));
    const double gear = regime.pushing ? gearPushing_ : gearHolding_;
    const double drive = (s.torque * gear - setup_->gearing.dragTorque) / s.radius;
    s.rawBrake = drive - s.tyreForce - spinInertia_ / (s.radius * s.radius) * s.acceleration;
    s.brake = regime.braking ? std::max(s.rawBrake, 0.0) : 0.0;
}

// Wheels in the air: traction binds whatever the current, which the other limits still hold.
void Model::holdUnloaded(double time, const Regime& regime, Solution& s) const {
    for (const Limit limit : {Limit::None, Limit::MotorCurrent, Limit::PackCurrent, Limit::Cutoff}) {
        const double allowed = dutyAllowed(limit, time, regime, s);
        if (!(allowed < s.duty)) continue;
        s.duty = allowed;
        s.motorCurrent = std::max(motorCurrent(s.circuit, allowed, s.backEmf), 0.0);
    }
}

Solution Model::solve(double time, const State& y, const Regime& regime, double& hint) const {
    Solution s;
    fillCircuit(y, regime, s);
    const double speed = regime.moving ? std::max(y[V], 0.0) : 0.0;
    const Road r = road(speed, regime.headOn);
    if (regime.sliding)
        solveSliding(time, speed, regime, r, s);
    else if (atEdge(regime))
        solveTraction(time, speed, regime, r, s);
    else
        solveFree(time, speed, regime, r, s, hint);
    s.packCurrent = s.duty * s.motorCurrent + setup_->controller.auxiliaryCurrent;
    s.packVoltage = s.circuit.source - s.duty * s.motorCurrent * s.circuit.packResistance;
    s.ironLoss = s.emf * s.motorSpeed * setup_->motor.noLoad.at(s.motorSpeed);
    return s;
}

// Implicit, for at low speed slip settles faster than any step; what is lacking falls with the speed sought.
double Model::rolledSpeed(const State& y, const Regime& regime, double surface, double seconds) const {
    const double mass = setup_->chassis.mass;
    double low = 0.0;
    double high = std::max(y[V], surface) + 1.0;
    constexpr int halvings = 40;
    for (int i = 0; i < halvings; ++i) {
        const double speed = 0.5 * (low + high);
        const double acceleration = (speed - y[V]) / seconds;
        const Road r = road(speed, regime.headOn);
        Solution s;
        double perAcceleration = 0.0;
        loadsAt(r, regime.axles, acceleration, s, perAcceleration);
        const double force =
            brushForce(setup_->tyre, surface / speed - 1.0, setup_->strip.friction, std::max(s.drivenLoad, 0.0));
        (force > mass * acceleration + r.resist ? low : high) = speed;
    }
    return 0.5 * (low + high);
}

Solution Model::rolling(const State& y, const Regime& regime, double surface, double acceleration) const {
    Solution s;
    fillCircuit(y, regime, s);
    s.wheelSpeed = wheelSpeedFor(setup_->tyre, surface);
    s.radius = setup_->tyre.radiusAt(s.wheelSpeed);
    s.motorSpeed = setup_->gearing.ratio * s.wheelSpeed;
    s.backEmf = s.emf * s.motorSpeed;
    const Road r = road(std::max(y[V], 0.0), regime.headOn);
    s.acceleration = acceleration;
    s.tyreForce = setup_->chassis.mass * acceleration + r.resist;
    s.drag = r.drag;
    s.rolling = r.rolling;
    const double noLoad = setup_->motor.noLoad.at(s.motorSpeed);
    s.torque = -s.emf * noLoad;
    const double drive = (s.torque * gearHolding_ - setup_->gearing.dragTorque) / s.radius;
    s.rawBrake = drive - s.tyreForce - spinInertia_ / (s.radius * s.radius) * acceleration;
    s.brake = std::max(s.rawBrake, 0.0);
    s.packCurrent = setup_->controller.auxiliaryCurrent;
    s.packVoltage = s.circuit.source;
    s.ironLoss = s.emf * s.motorSpeed * noLoad;
    return s;
}

} // namespace rw::pass
