// What is estimated: carried keys, the day's own keys, sensors, start states and what belongs to single passes; each
// with its prior. Internal to core/learn.
#pragma once

#include "core/learn/learn.h"
#include "core/plan/plan_fields.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace rw::learning {

enum class Unknown {
    Carried,     // a key of the plan, one for all logs
    OfTheDay,    // a key of the plan, one a log
    CurrentGain, // reading over truth, of the pack current's sensor
    VoltageGain,
    CurrentZero, // A
    MotorGain,   // of the motor current's sensor
    Lag,         // s, of a temperature's sensor, which `place` names
    Charge,      // of a start
    Case,        // °C, of a start, as all temperatures
    WindingOver, // K over the case
    Controller,
    Pack,
    Wind, // m/s, head wind of a pass
    Drag, // share by which a pass's drag differs from the others'
    Open,
    Close,  // s from the pass's first row
    Shift,  // s, throttle and output against the other columns
    Offset, // of the recorded output
};

struct UnknownItem {
    Unknown kind = Unknown::Carried;
    const PlanField* field = nullptr; // Carried, OfTheDay
    std::size_t log = 0;
    std::size_t place = 0; // index of the start or the pass it belongs to
    double mean = 0.0, deviation = 1.0;
    double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
    double step = 0.0;          // of difference quotients
    std::optional<double> soft; // how early the scale bends before an end; none: by the way there

    // The scale that is estimated on: prior deviations from the mean, bent so that no value leaves the range. Within a
    // deviation of an end the bend begins to show.
    [[nodiscard]] double valueAt(double z) const;
    [[nodiscard]] double slopeAt(double z) const; // of it
};

// Every nuisance, why it is one and how wide its prior is; reported apart from the parameters. Standard uncertainties.
namespace prior {
inline constexpr double currentGain = 0.03;  // a shunt's or Hall sensor's usual tolerance
inline constexpr double voltageGain = 0.005; // a divider of 1 % resistors, calibrated once
inline constexpr double currentZero = 1.0;   // A
inline constexpr double lag = 1.0;   // s: a thermistor under shrink tube follows within seconds; ahead only as noise
inline constexpr double drag = 0.01; // a gust, another line through the air: most passes differ by less than that
// A pass's wind and drag are normal only as far as a Student distribution of so many degrees of freedom is: one pass in
// many meets a gust.
inline constexpr double freedom = 4.0;
inline constexpr double leastWind = 0.3;      // m/s: no strip is calmer than that for long
inline constexpr double charge = 0.03;        // at rest the voltage tells it to this at best
inline constexpr double voltageShare = 0.005; // of the resting voltage, what the sensor leaves open
inline constexpr double leastTemperature = 0.03, unknownTemperature = 5.0, windingOverCase = 3.0; // K
inline constexpr double rampOpens = 0.15;           // of a row: where a ramp's first rows drawn back to 0 meet it
inline constexpr double shift = 0.5;                // of a row
inline const double uniform = 0.288675134594812882; // 1/√12, of an interval that holds it evenly
} // namespace prior

// Keys that are learned from the plan's uncertainties: carried, or of the day. Throws InputError where no key is
// carried.
struct LearnedKeys {
    std::vector<UnknownItem> carried, ofTheDay;
    std::vector<std::string> ignored; // uncertain, but no pass driven by its log depends on them
};
[[nodiscard]] LearnedKeys learnedKeys(const PlanInput& plan);
// The standard uncertainty of the plan's head wind along the track; none where nothing of it is uncertain.
[[nodiscard]] std::optional<double> windUncertainty(const PlanInput& plan);

} // namespace rw::learning
