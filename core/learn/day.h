// What the logs hold, cut into pieces that can be simulated: a piece is one pass and the standing after it, up to the
// next pass; pieces that follow each other hand on heat and charge. Internal to core/learn.
#pragma once

#include "core/learn/unknowns.h"
#include "core/pass/driven.h"

#include <optional>
#include <vector>

namespace rw::learning {

// Quantities that are compared, in this order.
enum class Sensor {
    Voltage,
    Current,
    MotorCurrent,
    MotorSpeed,
    Speed,
    Output,
    Case,
    Controller,
    Pack,
    Peak,
    Zone,
    Count_
};
inline constexpr std::size_t sensorCount = static_cast<std::size_t>(Sensor::Count_);
struct SensorInfo {
    Quantity quantity = Quantity::Speed;
    double DrivenSample::*reads = nullptr; // at an instant, without errors of its own; none for Peak and Zone
    double leastNoise = 0.0;               // SI, K
};
[[nodiscard]] const SensorInfo& sensorInfo(Sensor sensor);
[[nodiscard]] inline Quantity quantityOf(Sensor sensor) { return sensorInfo(sensor).quantity; }
[[nodiscard]] inline bool isHeat(Sensor s) { return s == Sensor::Case || s == Sensor::Controller || s == Sensor::Pack; }
// A figure that was written down of a pass, not a column of its log.
[[nodiscard]] inline bool isNoted(Sensor s) { return s == Sensor::Peak || s == Sensor::Zone; }

struct Reading {
    Sensor sensor = Sensor::Voltage;
    std::size_t at = 0;       // the first of its instants in Piece::instants; not of Peak and Zone
    std::size_t instants = 1; // over which the model is averaged, as the rows are
    double value = 0.0;       // SI, temperatures °C
    std::size_t row = 0;      // of the log, the first of a block
    bool driven = true;       // until a second after the close; else standing
    bool used = true;
    double noise = 0.0;                 // not under this; of Peak and Zone their own
    std::size_t rows = 1;               // of the block
    double rowNoise = 0.0;              // that neighbouring rows of the channel show, driven or standing as it is
    double lowest = 0.0, highest = 0.0; // of them; where they differ, their mean is finer than the channel's step
};

struct DriveRow {
    double time = 0.0, ask = 0.0; // s from the piece's start; output, or throttle where its own limits act
};

// How a pass was driven.
struct Driven {
    std::vector<DriveRow> rows;    // from the first open row to the last, linear between (drive_line.h)
    bool ramp = true;              // opens from 0; else it jumps to the first row's value
    bool byThrottle = false;       // rows are the throttle: endpoint, rate and limits of the model act
    bool byPlan = false;           // neither output nor throttle is logged: the plan's ramp
    bool saturated = false;        // the recorded output is full: no offset to estimate
    bool coasted = false;          // forces count after the close
    std::vector<DriveRow> rolling; // motor speed, rad/s, after the close, down to rest; empty: not known
    double open = 0.0, openError = 0.0, close = 0.0, closeError = 0.0; // s
    double interval = 0.02, outputStep = 0.0;
};

struct StartPrior {
    double charge = 1.0, chargeError = prior::charge; // of charge: with what the voltage sensor's gain makes of it
    // The cell at rest as the sensor reads it, V; none where it was not read. Of charge: what it says if the gain is
    // known.
    std::optional<double> cell;
    double chargeErrorAlone = prior::charge;
    double switchedOn = 0.0; // s before, since when the controller's own current flows
    double motorCase = 20.0, caseError = prior::unknownTemperature;
    double controller = 20.0, controllerError = prior::unknownTemperature;
    double pack = 20.0, packError = prior::unknownTemperature;
};

struct Piece {
    PassRef ref;
    std::size_t start = 0; // index of the start that it hangs on
    bool first = true;     // begins at that start, else where the piece before ended
    bool reverse = false;
    double from = 0.0, end = 0.0; // s: on the log's axis; length
    Driven driven;
    std::vector<double> times;         // s from the piece's start, rising
    std::vector<std::size_t> instants; // of the readings, one after the other: indices into times
    std::vector<Reading> readings;
    [[nodiscard]] double middle(const Reading& reading) const { // s
        const double begins = times[instants[reading.at]];
        return 0.5 * (begins + times[instants[reading.at + reading.instants - 1]]);
    }
};

struct Day {
    std::vector<Piece> pieces; // in time; those of one start in a row
    std::vector<StartPrior> starts;
    std::vector<LeftOutPass> leftOut;
    std::vector<std::string> notes;
    std::vector<PlanInput> plans;           // one a log, without uncertainties
    std::array<double, sensorCount> step{}; // quantisation, SI; the coarsest of the logs
};

// What a controller's own current has left on the pack's resistor and capacitor (plan's), V.
[[nodiscard]] double restingPolarisation(const PlanInput& plan, double switchedOn);

// Throws InputError where nothing is left to learn from.
[[nodiscard]] Day cutDay(std::span<const LearnLog> logs, const LearnOptions& options);

} // namespace rw::learning
