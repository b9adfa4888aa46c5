// One straight-line pass: run-up, timed zone, coast, braking, then standing while heat soaks. core/physics/README.md
// 8–10. SI throughout; temperatures in °C as the equations have them. Pure functions: any thread, no hidden state.
#pragma once

#include "core/physics/air.h"
#include "core/physics/chassis.h"
#include "core/physics/controller.h"
#include "core/physics/gearing.h"
#include "core/physics/motor.h"
#include "core/physics/pack.h"
#include "core/physics/tyre.h"

#include <functional>
#include <limits>
#include <optional>
#include <string_view>

namespace rw {

// What binds at an instant, in the order of the trace column "limit".
enum class Limit { None, MotorCurrent, PackCurrent, Traction, Cutoff };
[[nodiscard]] std::string_view limitName(Limit limit); // "none", "motor_current", …

enum class Phase { Standing, RunUp, Timed, Coast, Brake, Rest };

struct Strip {
    double runUp = 0.0, timed = 0.0; // m
    double grade = 0.0;              // rise/run
    double friction = 0.0;           // μ
    double headWind = 0.0;           // m/s, positive = head wind
    double airDensity = 0.0;         // kg/m³
    double airTemperature = 20.0;    // °C
};

struct Driving {
    double throttleRamp = 0.5;  // s
    double reaction = 0.3;      // s
    double brakeFraction = 0.4; // of the vehicle's weight
    double brakeHeatFraction = 0.0;
    std::optional<double> target; // m/s
};

// Everything that the equations need, converted to SI once.
struct PassSetup {
    Strip strip;
    Chassis chassis;
    Tyre tyre;
    Gearing gearing;
    Motor motor;
    Controller controller;
    Pack pack;
    Driving driving;
};

// What one pass hands to the next.
struct StartState {
    double charge = 1.0;                                                     // 0..1
    double polarisation = 0.0;                                               // V over the RC pair
    double winding = 20.0, motorCase = 20.0, controller = 20.0, pack = 20.0; // °C
    bool operator==(const StartState&) const = default;
};

struct BoundTimes {
    double motorCurrent = 0.0, packCurrent = 0.0, traction = 0.0, cutoff = 0.0; // s
};

struct PassResult {
    bool completed = false;
    std::optional<double> zoneMean, zoneEntry, zoneExit;                            // m/s, s, s
    double peakSpeed = 0.0, peakSpeedAt = 0.0;                                      // m/s, m
    std::optional<double> timeToTarget, distanceToTarget;                           // s, m
    double minPackVoltage = 0.0, minCellVoltage = 0.0;                              // V
    double peakPackCurrent = 0.0, peakMotorCurrent = 0.0;                           // A
    double peakElectrical = 0.0, peakShaft = 0.0;                                   // W
    double peakMotorSpeed = 0.0, peakWheelSpeed = 0.0;                              // rad/s
    double chargeUsed = 0.0, energyUsed = 0.0;                                      // A·s, J
    std::optional<double> windingExit, caseExit;                                    // °C
    double caseSoakPeak = 0.0;                                                      // °C
    std::optional<double> caseSoakPeakAfter;                                        // s after rest
    double windingPeak = 0.0, casePeak = 0.0, controllerPeak = 0.0, packPeak = 0.0; // °C, over the pass
    double ripple = 0.0;                                                            // V peak to peak
    double minFrontLoadRatio = 0.0;
    BoundTimes bound;
    std::optional<double> braking;       // m
    double stopAt = 0.0, duration = 0.0; // m, s
    StartState end;                      // the state at rest
    int steps = 0, events = 0;           // work done
};

// The vehicle at one instant; what the trace prints and the charts draw.
struct Instant {
    double time = 0.0, distance = 0.0, speed = 0.0, acceleration = 0.0;
    double throttle = 0.0, duty = 0.0;
    double packVoltage = 0.0, packCurrent = 0.0, motorCurrent = 0.0;
    double motorSpeed = 0.0, wheelSpeed = 0.0;                           // rad/s
    double winding = 0.0, motorCase = 0.0, controller = 0.0, pack = 0.0; // °C
    double frontLoad = 0.0, rearLoad = 0.0;                              // N
    double charge = 0.0, polarisation = 0.0;
    double tyreForce = 0.0, drag = 0.0, rolling = 0.0, brake = 0.0, slip = 0.0, shaftTorque = 0.0; // N, 1, N·m
    Limit limit = Limit::None;
    Phase phase = Phase::Standing;
};

// Called in order of time; at a jump twice for one time. From within the integration: keep it short.
using InstantSink = std::function<void(const Instant&)>;

// How closely a pass is followed. What is reported of a plan has the full one; searches and chances that look at
// thousands of passes make do with a sketch.
struct PassPrecision {
    double tolerance = 1e-10; // of the integrator, relative
    double eventTime = 1e-13; // s, of located events
    double peakGain = 1e-14;  // relative: what ends the search for a peak
    double solve = 1e-14;     // relative, of the wheel speed at an instant
    double longestStep = 0.5; // s, throttle open
    bool cutSteps = false;    // at an event by dense output, not by a step of its own
    double firstSteps = 1.0;  // after an event, times the careful ones
};
inline constexpr PassPrecision fullPrecision{};                                          // figures within 1e-8
inline constexpr PassPrecision sketchPrecision{1e-8, 1e-9, 1e-9, 1e-9, 2.0, true, 10.0}; // within 1e-5

struct PassOptions {
    PassPrecision precision = fullPrecision;
    double traceRate = 100.0; // instants a second handed to the sink, events besides
};

// A pass from standing at time 0 to rest. A pass that is not completed is a result, not an error. Throws InputError
// where values far from any vehicle's make it too much work.
[[nodiscard]] PassResult simulatePass(const PassSetup& setup, const StartState& start, const PassOptions& options = {},
                                      const InstantSink& sink = {});

// The state after standing for `seconds` with the controller on. core/physics/README.md 9. Throws like simulatePass.
[[nodiscard]] StartState standFor(const PassSetup& setup, const StartState& state, double seconds);

struct SoakPeak {
    double temperature = 0.0;    // °C, largest case temperature from now on
    std::optional<double> after; // s; none: climbs towards the air's temperature without a peak
};
[[nodiscard]] SoakPeak soakPeak(const PassSetup& setup, const StartState& state);

// Smallest steady speed at full throttle from the start state, hard cutoff left out; 0 if it cannot start,
// none if nothing below 2000 m/s balances the drive.
[[nodiscard]] std::optional<double> steadyTopSpeed(const PassSetup& setup, const StartState& start);

// Over ground, steady, forward; none: never. core/physics/README.md 8.
[[nodiscard]] std::optional<double> liftOffSpeed(const PassSetup& setup);

// The same strip the other way: wind and grade turned round.
[[nodiscard]] PassSetup reversed(const PassSetup& setup);

// Force balance at a steady speed, for charts: what the gearing can push at full throttle (limits but traction
// included), what traction can carry, and what resists.
struct ForceBalance {
    double drive = 0.0, tractionLimit = 0.0, resistance = 0.0; // N at the tyre
};
[[nodiscard]] ForceBalance forceBalance(const PassSetup& setup, const StartState& start, double speed);

} // namespace rw
