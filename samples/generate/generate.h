// Invented logs with known truth: passes simulated by our own core, then sampled, quantised and disturbed as stated.
// The same scenario and seed give the same bytes on every machine. Column headings and layout are our own.
#pragma once

#include "core/plan/plan_input.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw::generate {

// Noise is the standard deviation of a normal error, step the sensor's resolution, both in the column's printed unit.
// period: seconds between its own readings, held between; 0: every row has one of its own.
struct Sensor {
    bool present = true;
    double noise = 0.0;
    double step = 0.01;
    double period_s = 0.0;
};

struct SensorSet {
    Sensor throttle{true, 0.0, 0.1}, output{true, 0.0, 0.1};         // %
    Sensor voltage{true, 0.01, 0.01}, current{true, 0.2, 0.1};       // V, A
    Sensor motorCurrent{false, 0.5, 0.1}, ripple{false, 0.01, 0.01}; // A, V
    Sensor motorSpeed{true, 15.0, 1.0};                              // rpm
    Sensor controllerTemperature{true, 0.05, 0.1}, motorTemperature{true, 0.05, 0.1},
        packTemperature{false, 0.05, 0.1}; // °C
    Sensor receiver{true, 0.01, 0.01};     // V
    Sensor speed{false, 0.05, 0.01};       // m/s
};

// How the text is written.
struct TextForm {
    char separator = ',';
    char decimal = '.';
    bool byteOrderMark = false, carriageReturn = false;
    bool endsInTheMiddle = false; // the file stops within a line: power was lost
};

// Trouble that is planted into one pass, or one session.
struct PassTrouble {
    double airborneAt = 0.0;    // s after the throttle opens; 0: stays on the ground
    double airborneFor = 0.3;   // s
    double spikeAt = 0.0;       // s; one impossible sample of the voltage; 0: none
    double stuckAt = 0.0;       // s; motor speed freezes for 1.6 s; 0: none
    double restartAt = 0.0;     // s; the controller restarts under way: 0.8 s are missing; 0: none
    double lift = 1.0;          // the throttle closes at this share of the way to the zone's end
    double heldThrottle = 0.0;  // 0..1, held without drive for two seconds before the throttle opens; 0: from closed
    double outputCeiling = 1.0; // the controller gives no more than this
    double powerLostAt = 0.0;   // s; the log ends there, at full throttle; 0: it goes on
};

struct PassPlan {
    double wait_s = 60.0; // standing before it
    PassTrouble trouble;
};

struct SessionPlan {
    PlanInput plan;                          // setup, pack and venue of this session
    double before_s = 12.0, after_s = 120.0; // standing at rest before the first pass's wait, after the last pass
    std::vector<PassPlan> passes;
    int blips = 0;            // short bursts of throttle on the stand before the first pass
    double receiverDip = 0.0; // V that the receiver's supply falls to for 0.4 s; 0: never
};

struct Scenario {
    std::string name;  // of the file, without extension
    std::string story; // one line, written as a comment into the log
    double rate_Hz = 20.0;
    double jitter_s = 0.0; // standard deviation of the stamps
    double stampStep_s = 0.001;
    double clockStart_s = 0.0;
    bool clockRestarts = true; // each session begins at clockStart_s; else the clock runs on
    bool equalStamps = false;  // every other row is stamped like the one before
    double betweenSessions_s = 300.0;
    double currentOffset_A = 0.0, throttleTrim = 0.0;
    bool currentNegated = false;
    double currentGain = 1.0, voltageGain = 1.0; // reading over truth, the offset aside
    SensorSet sensors;
    TextForm text;
    std::vector<SessionPlan> sessions;
};

struct TruePass {
    std::size_t session = 0;
    double start_s = 0.0, end_s = 0.0; // from the session's first row: last closed sample before, first closed after
    double minVoltage_V = 0.0, peakCurrent_A = 0.0, motorPeak_rpm = 0.0, motorMax_C = 0.0,
           charge_Ah = 0.0; // of the noiseless samples
};
struct TrueSession {
    std::size_t startRow = 0, endRow = 0;
    int cells = 0;
};
struct TrueFinding {
    std::string id;
    std::size_t session = 0;
    std::optional<std::size_t> pass; // counted over the whole log
    bool certain = true;             // false: so near to a threshold that noise decides
};

struct GeneratedLog {
    std::string fileName;
    std::string text; // the log's bytes
    std::vector<TrueSession> sessions;
    std::vector<TruePass> passes;
    std::vector<TrueFinding> findings;
};

[[nodiscard]] GeneratedLog generateLog(const Scenario& scenario, std::uint64_t seed);

// The days of samples/logs/, written with this seed.
inline constexpr std::uint64_t sampleSeed = 20260101;
[[nodiscard]] const std::vector<std::string_view>&
sampleDays(); // "main-day", "plain-day", "cutoff-day", "hot-day", "light-front", "coarse-ten-hertz", "decimal-commas"
[[nodiscard]] Scenario sampleDay(std::string_view name); // throws InputError for another name
// The plan by which a sample day was driven; of the main day what its numbers truly were, mainDayPlan() is its owner's.
[[nodiscard]] PlanInput samplePlan(std::string_view name);

} // namespace rw::generate
