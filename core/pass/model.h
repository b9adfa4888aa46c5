// The equations of motion put together: one instant solved, its rates of change. core/physics/README.md 5–9.
// Within one Regime every equation is smooth; a sign change of a margin says where another regime begins.
#pragma once

#include "core/pass/pass.h"

#include <array>
#include <cstddef>
#include <cstdint>

namespace rw::pass {

// State of the integration. Temperatures °C, charge 0..1, energy from the pack in J.
enum Index : std::size_t { X, V, Z, U1, TW, TH, TC, TP, WH, stateSize };
using State = std::array<double, stateSize>;

// Absolute tolerances of the integration that go with a relative one.
[[nodiscard]] State tolerances(double relative);
[[nodiscard]] State stateOf(const PassSetup& setup, const StartState& start); // standing at the start line
[[nodiscard]] StartState startOf(const State& y);                             // as another pass could begin
// Throws InputError where a temperature has left every bound. Copper's resistance and the magnets' strength are
// straight lines over temperature: far outside they feed on themselves.
void refuseRunaway(const State& y);
// The open-circuit table's interval from which a falling charge goes on.
[[nodiscard]] std::size_t fallingInterval(const OpenCircuitVoltage& ocv, double charge);

enum class Axles : std::uint8_t { Both, FrontUp, RearUp, Flying };

// Which equations hold. All switches are made by the event loop, never inside the right-hand side.
struct Regime {
    bool moving = false;
    bool open = true; // throttle open and no hard cutoff yet
    bool braking = false;
    bool full = false;         // throttle ramp done
    Limit limit = Limit::None; // what sets the current while open
    bool sliding = false;      // the tyre held at -μN
    Axles axles = Axles::Both;
    bool flowing = true; // motor current above 0
    bool pushing = true; // shaft torque not below 0
    bool headOn = true;  // the air meets the vehicle from the front: drag holds it back
    std::size_t ocvInterval = 0;
    // Where the duty asked for is a recorded one: the straight line that it follows now, in place of the throttle's
    // ramp.
    bool driven = false;
    double lineFrom = 0.0, lineDuty = 0.0, lineSlope = 0.0; // s, 1, 1/s
};

struct Solution {
    double acceleration = 0.0;
    double wheelSpeed = 0.0, radius = 0.0, slip = 0.0;
    double motorSpeed = 0.0, backEmf = 0.0;
    double duty = 0.0, rawCurrent = 0.0; // rawCurrent: before the freewheeling clip
    double motorCurrent = 0.0, packCurrent = 0.0, packVoltage = 0.0;
    double torque = 0.0, tyreForce = 0.0, brake = 0.0, rawBrake = 0.0;
    double drivenLoad = 0.0, front = 0.0, rear = 0.0; // axle loads as the formulas give them, not clipped
    double total = 0.0;                               // both, not clipped
    double edgeShare = 0.0; // σ signed: over 1 past the edge under drive, under -1 past it under braking
    double drag = 0.0, rolling = 0.0;
    // the circuit, for margins
    Circuit circuit;
    double rcVoltage = 0.0, emf = 0.0; // U_1; k
    double cellsResistance = 0.0, motorResistance = 0.0, ironLoss = 0.0;
};

[[nodiscard]] inline bool atEdge(const Regime& r) { return r.sliding || (r.open && r.limit == Limit::Traction); }

class Model {
public:
    // Wheel speeds are solved to a relative precision.
    explicit Model(const PassSetup& setup, double precision = fullPrecision.solve);

    [[nodiscard]] const PassSetup& setup() const { return *setup_; }
    [[nodiscard]] double throttle(double time, bool full) const;
    [[nodiscard]] double fullThrottleTime() const { return fullAt_; }

    // Solves the instant in the regime. `hint` is the wheel speed of a neighbouring instant (0: none), kept up to date.
    [[nodiscard]] Solution solve(double time, const State& y, const Regime& regime, double& hint) const;
    void rates(const State& y, const Regime& regime, const Solution& s, State& dydt) const;
    // Rolling with closed throttle, the tyre's surface at a speed that is known (a motor's tells it). The speed over
    // ground some seconds later, when the surface's is `surface`: what the slip's force then makes of it.
    [[nodiscard]] double rolledSpeed(const State& y, const Regime& regime, double surface, double seconds) const;
    // The instant at y[V]: braking, current and heat that follow from both speeds and the acceleration over ground.
    [[nodiscard]] Solution rolling(const State& y, const Regime& regime, double surface, double acceleration) const;
    // Full throttle with endpoint 1 and no limit: the switches do not chop.
    [[nodiscard]] bool chopping(const Regime& regime) const;

    // Duty that a limit allows at the solution's motor speed; infinite where it does not bind.
    [[nodiscard]] double dutyAllowed(Limit limit, double time, const Regime& regime, const Solution& s) const;
    // How far the limit is from its fold, as a share of E²; 1 where it has none.
    [[nodiscard]] double foldMarginOf(Limit limit, const Solution& s) const;

    // Chooses limit, sliding and the smaller switches for the phase that `regime` names (moving, open, braking, full).
    // A limit in `without` is passed over: it has just let go at its fold.
    void resolve(double time, const State& y, Regime& regime, std::optional<Limit> without, double& hint) const;
    // Only the small switches (axles, current, torque sign), the limit as it stands.
    Solution settle(double time, const State& y, Regime& regime, double& hint) const;

    // Axle loads, never below 0; standing, no acceleration shifts them.
    [[nodiscard]] AxleLoads loads(const Solution& s, bool moving) const;

private:
    struct Road; // forces at one speed
    void electrics(double time, const Regime& regime, Solution& s, double backEmfSlope, double& currentSlope) const;
    void fillCircuit(const State& y, const Regime& regime, Solution& s) const;
    [[nodiscard]] Road road(double speed, bool headOn) const;
    void solveFree(double time, double speed, const Regime& regime, const Road& road, Solution& s, double& hint) const;
    void solveTraction(double time, double speed, const Regime& regime, const Road& road, Solution& s) const;
    void solveSliding(double time, double speed, const Regime& regime, const Road& road, Solution& s) const;
    void placeAtEdge(double speed, const Regime& regime, const Road& road, Solution& s, double side) const;
    struct Lack;
    [[nodiscard]] Lack lackAt(double time, double speed, double wheelSpeed, const Regime& regime, const Road& road,
                              Solution& s) const;
    Lack placeAt(double time, double speed, double wheelSpeed, const Regime& regime, const Road& road,
                 Solution& s) const;
    void loadsAt(const Road& road, Axles axles, double acceleration, Solution& s, double& drivenSlope) const;
    void holdUnloaded(double time, const Regime& regime, Solution& s) const;
    [[nodiscard]] double shaftDuty(double time, const Regime& regime) const;

    const PassSetup* setup_;
    double precision_ = 0.0, near_ = 0.0; // relative, of the wheel speed; where a step of Newton's ends the search
    // Constants of the equations, worked out once: divisions are what an instant costs.
    double fullAt_ = 0.0;                                                    // s
    double dragFactor_ = 0.0, liftFrontFactor_ = 0.0, liftRearFactor_ = 0.0; // ½ρ A
    double weightAcross_ = 0.0, slopeForce_ = 0.0;
    double frontStill_ = 0.0; // front load without air and acceleration, N
    double dragLever_ = 0.0;  // h_a / L
    double transfer_ = 0.0;   // m h / L, kg
    double motorConstant20_ = 0.0;
    double viscousSlope_ = 0.0;                    // I_v / ω_ref
    double gearPushing_ = 0.0, gearHolding_ = 0.0; // G η, G / η
    double growthSquare_ = 0.0;                    // ω_h²
    double edgeSlip_ = 0.0, perEdgeSlip_ = 0.0;
    double spinInertia_ = 0.0; // J_w + J_m G²
    double brakeForce_ = 0.0;
    double perCapacity_ = 0.0, perRcCapacitance_ = 0.0, rcRate_ = 0.0, perRcResistance_ = 0.0;
    double windingToCase_ = 0.0, caseToAir_ = 0.0, controllerToAir_ = 0.0, packToAir_ = 0.0; // W/K
    double perWinding_ = 0.0, perCase_ = 0.0, perController_ = 0.0, perPack_ = 0.0;          // K/J
    double switchingFactor_ = 0.0;                                                           // t_sw f_pwm
    bool anyCooling_ = false;
};

} // namespace rw::pass
