// What the parts of a review share while one log is read: cleaned channels, the time axis, what is known of each
// session. Internal to core/review.
#pragma once

#include "core/review/channel_scan.h"
#include "core/review/review.h"
#include "core/review/rows.h"
#include "core/stopped.h"

#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <vector>

namespace rw::review {

// When the vehicle is at rest: no load. By current, else by throttle (else output) and motor speed.
struct RestRule {
    std::span<const double> current, pedal, motorSpeed;
    std::optional<double> zero;  // A, offset of the current sensor
    double largestCurrent = 0.0; // A, offset taken off
    double restCurrent = 0.0;    // A, under it is rest
    double restPedal = 0.0;
    [[nodiscard]] bool at(std::size_t row) const {
        if (!current.empty()) return std::abs(current[row] - zero.value_or(0.0)) < restCurrent;
        if (!pedal.empty() && !(pedal[row] < restPedal)) return false;
        if (!motorSpeed.empty() && motorSpeed[row] != 0.0) return false;
        return !pedal.empty() || !motorSpeed.empty();
    }
};

// Beside ReviewSession: what the session's rows are measured by.
struct SessionScale {
    Rows rows;
    double medianStep = 0.0, gapLimit = 0.0; // s
    double largestThrottle = 0.0;            // of throttle, else output
    double largestPower = 0.0;               // W
    RestRule rest;
    std::vector<Rows> parts;  // rows between restarts of the controller
    bool nearlyEmpty = false; // see CellCount
};

// A span of a pass in which the low-voltage cutoff acts.
struct CutSpan {
    Rows rows;
    bool hard = false;    // the power was cut, not held back
    bool guessed = false; // the cutoff voltage is not known
    // What was taken from what: of the output 0..1, of the current A. Output that was held back did not fall.
    enum class Of { Output, Current, Held } of = Of::Output;
    double stood = 0.0, low = 0.0;
};

struct Context {
    Context(const Log& theLog, const ReviewOptions& theOptions, std::stop_token theStop);

    const Log& log;
    const ReviewOptions& options;
    const ReviewThresholds& th;
    std::stop_token stop;
    PlanInput plan;               // as given, else the defaults
    PlanInput usual;              // the defaults: what counts in a session that the plan does not fit
    bool hasPlan = false;         // and it fits a session
    std::span<const double> time; // log-wide axis
    std::array<std::span<const double>, quantityCount> channel; // cleaned; empty: the log has no such quantity
    std::array<std::vector<double>, quantityCount> cleaned;     // storage of those that needed it
    ChannelScans scans;                                         // of the channels after findImpossible
    unsigned threads = 1;                                       // as many as pay
    std::vector<std::pair<Rows, RestRule>> rules;               // found already, while the channels stay as they are
    std::vector<SessionScale> scale;                            // one a session
    std::span<const double> pedal;                              // throttle, else output
    std::vector<double> fixTime, fixSpeed;                      // fixes of an aligned track, on the log-wide axis
    double ratio = 0.0;                                         // motor turns per wheel turn; 0 without a plan
    std::vector<std::vector<Rows>> unloaded, spinning;          // spans of each pass
    std::vector<std::vector<CutSpan>> cut;
    LogReview out;

    [[nodiscard]] std::span<const double> operator[](Quantity q) const { return channel[static_cast<std::size_t>(q)]; }
    [[nodiscard]] bool has(Quantity q) const { return !(*this)[q].empty(); }
    void mask(Quantity q, Rows rows); // makes rows of a channel missing
    [[nodiscard]] bool hasPower() const {
        return has(Quantity::Power) || (has(Quantity::PackVoltage) && has(Quantity::PackCurrent));
    }
    // W as measured, else voltage × current.
    [[nodiscard]] double power(std::size_t row) const {
        if (has(Quantity::Power)) return (*this)[Quantity::Power][row];
        return (*this)[Quantity::PackVoltage][row] * (*this)[Quantity::PackCurrent][row];
    }
    // The plan counts for a session whose pack can be the plan's.
    [[nodiscard]] bool planCounts(std::size_t session) const { return hasPlan && out.sessions[session].planFits; }
    // What a pass is foretold by, where the plan counts; its values come from logs or not.
    [[nodiscard]] const PlanInput& foretelling() const { return options.learned ? *options.learned : plan; }
    [[nodiscard]] bool taught() const { return hasPlan && foretelling().learned.has_value(); }
    [[nodiscard]] const PlanInput& limits(std::size_t session) const { return planCounts(session) ? plan : usual; }
    // V per cell, told or the plan's; none: not known.
    [[nodiscard]] std::optional<double> cutoff(std::size_t session) const {
        return options.cutoffCell || planCounts(session) ? out.cutoffCell : std::nullopt;
    }
    [[nodiscard]] bool hasWheelSpeed(std::size_t session) const {
        return ratio > 0.0 && planCounts(session) && has(Quantity::MotorSpeed);
    }
    [[nodiscard]] double wheelSpeed(std::size_t row) const; // m/s over ground if nothing slips: gearing, tyre growth
    // Within no span of the pass in which the wheels are unloaded or spin.
    [[nodiscard]] bool wheelsHold(std::size_t pass, std::size_t row) const {
        const auto holds = [&](Rows span) { return span.holds(row); };
        return std::ranges::none_of(unloaded[pass], holds) && std::ranges::none_of(spinning[pass], holds);
    }
    [[nodiscard]] double since(std::size_t session, std::size_t row) const {
        return time[row] - time[scale[session].rows.first];
    }
    [[nodiscard]] std::optional<int> cells(std::size_t session) const { return out.sessions[session].cells; }
    [[nodiscard]] Rows rows(const ReviewPass& pass) const { return {pass.startRow, pass.endRow}; }
    // Rows after a pass until the next one of its session starts, or the part ends. Empty: first > last.
    [[nodiscard]] Rows after(std::size_t pass) const;
    void poll() const { throwIfStopped(stop); }
    void note(std::string sentence) { out.notes.push_back(std::move(sentence)); }
};

// Median resting current, largest current and what rest is, over rows. Any thread.
[[nodiscard]] RestRule restRule(const Context& context, Rows rows);

// The steps of a review, in their order.
void findImpossible(Context& context);           // faults.cpp: out of range, one sample off
void cutSessions(Context& context);              // sessions.cpp
void findTooQuick(Context& context);             // faults.cpp: temperatures that jump within a session
[[nodiscard]] bool findFrozen(Context& context); // frozen.cpp: stuck and clipped; true: some were found
void measureSessions(Context& context);          // sessions.cpp
void cutPasses(Context& context);                // passes.cpp
void findMissing(Context& context);              // faults.cpp
void alignTrack(Context& context);               // align.cpp
void findWheelSpans(Context& context);           // findings_wheels.cpp
void findCutoffSpans(Context& context);          // cutoff_spans.cpp
void measurePasses(Context& context);            // figures.cpp
void findAll(Context& context);                  // findings.cpp

// Small judgements that figures and findings share.

// Full throttle or output: 99.5 %, or the largest value that the column's step allows below 100.5 %.
[[nodiscard]] inline double fullLevel(const Context& context, Quantity q) {
    const double step = context.log[q].step;
    if (!(step > 0.0)) return context.th.fullOutput;
    constexpr double most = 1.005;
    const double reachable = std::floor(most / step + 1e-9) * step;
    return std::min(context.th.fullOutput, reachable) - 1e-9;
}

// False where the sample that tells load from rest is missing.
[[nodiscard]] inline bool restKnown(const Context& context, std::size_t session, std::size_t row) {
    const auto& current = context.scale[session].rest.current;
    return current.empty() || !std::isnan(current[row]);
}

// Output that rises nearly as fast as it did since the pass began is a ramp on its way up, whatever voltage and current
// do meanwhile. Held back, it rises slower, if at all.
[[nodiscard]] inline bool stillRising(const Context& context, const ReviewPass& pass, Rows run) {
    const auto output = context[Quantity::Output];
    const double within = context.time[run.last] - context.time[run.first],
                 before = context.time[run.first] - context.time[pass.startRow];
    if (!(within > 0.0) || !(before > 0.0)) return true;
    const double now = (output[run.last] - output[run.first]) / within,
                 then = (output[run.first] - output[pass.startRow]) / before;
    return now > context.th.rampKink * then;
}

} // namespace rw::review
