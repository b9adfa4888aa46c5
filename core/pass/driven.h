// A pass driven by what was recorded: the duty over time is given, not the plan's ramp, zone and braking; what follows
// from it is told at times that are given too. The same equations as a planned pass (model.h). core/learn/README.md.
#pragma once

#include "core/pass/pass.h"

#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace rw {

// Duty asked for, linear between knots; two knots at one time are a jump.
struct DutyKnot {
    double time = 0.0, duty = 0.0; // s, 0..1
};
struct SpeedKnot {
    double time = 0.0, speed = 0.0; // s, m/s
};

// Standing with closed throttle until the first knot; after `close` the throttle is closed for good.
struct DriveRecord {
    std::vector<DutyKnot> duty; // times rising from 0 or later, the last one not before `close`
    double close = 0.0;         // s
    double end = 0.0;           // s; standing once at rest
    // After the close: with speeds of the tyre's surface (as a motor speed tells them), the vehicle moves as they say,
    // to rest at the last one, and heat follows; without,
    // forces act, and braking as the setup's driving says from `brakeAfter` seconds on; none: it rolls out.
    std::vector<SpeedKnot> rolling; // times rising from `close`
    std::optional<double> brakeAfter;
    double relativeTolerance = 1e-8;
};

// What sensors could read.
struct DrivenSample {
    double speed = 0.0, distance = 0.0; // m/s, m
    double duty = 0.0;                  // applied, limits included
    double packVoltage = 0.0, packCurrent = 0.0, motorCurrent = 0.0;
    double motorSpeed = 0.0;                              // rad/s
    double motorCase = 0.0, controller = 0.0, pack = 0.0; // °C
    bool atEdge = false;                                  // traction limits, or the tyre slides
};

struct DrivenResult {
    std::vector<DrivenSample> samples; // one for each time asked for
    StartState end;                    // at DriveRecord::end
    std::optional<double> zoneMean;    // m/s over the strip's zone, if driven through under open throttle or after
    double peakSpeed = 0.0;            // m/s
};

// Times rise from 0 to drive.end. The setup's limits act on the duty asked for, its hard cutoff does not: a recorded
// duty shows it. Throws InputError where values far from any vehicle's make it too much work.
[[nodiscard]] DrivenResult driveThrough(const PassSetup& setup, const StartState& start, const DriveRecord& drive,
                                        std::span<const double> times);

} // namespace rw
