// A log, read: sessions, passes, their figures, findings, and what could not be judged: README.md.
// Pure functions over a Log, an optional PlanInput and limits: any thread, no hidden state, linear in rows.
// Values are SI; temperatures K as in the log. Rows count the log's rows from 0, both ends inclusive.
#pragma once

#include "core/figure.h"
#include "core/log/gps.h"
#include "core/log/log.h"
#include "core/plan/plan_input.h"
#include "core/review/sentence.h"
#include "core/review/thresholds.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// ---- what goes in ----

// Corrections by hand, applied on top of what is found. They name physical lines of the file (from 1),
// so they survive a new import that accepts other rows.
struct LineSpan {
    std::uint32_t first = 0, last = 0;
    bool operator==(const LineSpan&) const = default;
};
struct ReviewEdits {
    struct MovedStart {
        std::uint32_t from = 0, to = 0;
        bool operator==(const MovedStart&) const = default;
    };
    struct MovedPass {
        LineSpan from, to;
        bool operator==(const MovedPass&) const = default;
    };
    std::vector<std::uint32_t> addedSessions;   // lines where a session begins
    std::vector<std::uint32_t> removedSessions; // found session starts that are none
    std::vector<MovedStart> movedSessions;
    std::vector<LineSpan> addedPasses;
    std::vector<LineSpan> removedPasses; // the found pass that overlaps most
    std::vector<MovedPass> movedPasses;
    bool operator==(const ReviewEdits&) const = default;
    [[nodiscard]] bool empty() const { return *this == ReviewEdits{}; }
};

// One earlier reading of a pack's resistance (figure "pack_ohm") or a motor's rpm per volt ("rpm_per_volt"). Whoever
// gathers them leaves out the passes of the log that is reviewed, kept or not: a log is no history of itself.
struct HistoryValue {
    double value = 0.0; // ohm, or rpm/V
    std::optional<double>
        temperature;            // K, of pack or motor at the pass's start; none: compared with nothing that has one
    std::optional<double> load; // A, median pack current at full output: figure "full_output_A"; of rpm per volt
};

struct ReviewOptions {
    std::optional<PlanInput> plan; // gearing and limits; none: the plan's default limits
    std::vector<int> cells;        // empty: found; one: for every session; else one a session
    // The plan with what earlier logs taught of the same setup: what is foretold of a pass comes from it, limits and
    // gearing from the plan. None: the plan's own values, which count as taught where they come from logs.
    std::optional<PlanInput> learned;
    std::string learnedFrom; // what taught it: "fit-3, 6 passes"
    [[nodiscard]] const PlanInput& foretelling() const { return learned ? *learned : plan.value(); }
    std::optional<double> cutoffCell; // V per cell; wins over the plan's
    std::optional<GpsTrack> track;    // measured speed on a clock of its own
    double trackNudge = 0.0;          // s, added by hand to the offset that is found
    ReviewThresholds thresholds;
    ReviewEdits edits;
    std::vector<HistoryValue> packHistory;       // resistance of the pack, oldest first
    std::vector<HistoryValue> rpmPerVoltHistory; // of the same motor and setting, oldest first
    // By session, where sessions were run with packs of their own; those beyond have packHistory.
    std::vector<std::vector<HistoryValue>> sessionPackHistory;
};

// ---- what comes out ----

struct ReviewSession {
    std::size_t startRow = 0, endRow = 0;
    std::uint32_t startLine = 0, endLine = 0;
    double logStart = 0.0; // s, place on the log-wide axis
    double duration = 0.0; // s
    std::optional<int> cells;
    bool cellsSure = false;
    std::vector<int> cellCandidates;      // likeliest first
    std::optional<double> restingVoltage; // V
    // What the resting voltage alone would say, where that differs from the plan's cell count; told counts end the
    // question. A window asks.
    std::optional<int> cellsByVoltage;
    bool planFits = false;             // a plan was given and its pack can be this one; else its limits do not count
    std::optional<double> currentZero; // A
    std::vector<std::size_t> restarts; // first rows after a restart of the controller within the session
};

// Times are seconds from the first row of the session. None where the log has no such quantity.
struct ReviewPass {
    std::size_t session = 0, startRow = 0, endRow = 0;
    double start = 0.0, end = 0.0; // s
    bool complete = true;
    bool cutAtStart = false; // the session begins within the pass
    enum class Cut { None, SessionStart, SessionEnd, LogEnd, Restart } cutBy = Cut::None;
    double rate = 0.0;                              // samples/s
    std::optional<double> throttleRise, outputRise; // s
    std::optional<double> outputMax, fullOutput;    // 1, s
    std::optional<double> restingVoltage;           // V
    bool restingRecovering = false;
    std::optional<double> minVoltage, minCellVoltage, sag;                // V
    std::optional<double> peakCurrent, meanCurrent, motorPeakCurrent;     // A
    std::optional<double> peakPower;                                      // W
    std::optional<double> charge, chargeBack;                             // A·s
    std::optional<double> energy;                                         // J
    std::optional<double> ripplePeak, rippleShare;                        // V, 1
    std::optional<double> motorPeakSpeed;                                 // rad/s
    std::optional<double> wheelPeak, wheelPeakFree, speedPeak, zoneSpeed; // m/s
    bool speedPeakLowerBound = false;                                     // too few fixes a second
    std::optional<double> distance;                                       // m
    struct Temperature {
        std::optional<double> start, max, end, rise; // K
        std::optional<double> soak, soakAfter;       // K, s after the pass's end
        bool soakComplete = false;
        std::optional<double> soakPredicted, soakPredictedError; // K
    } motor, controller, pack;
    std::optional<double> receiverMin;                         // V
    std::optional<double> packResistance, packResistanceError; // ohm
    std::optional<double> rpmPerVolt;                          // rpm/V
    std::optional<double> fullOutputCurrent;                   // A, median at full output
    double gap = 0.0;                                          // s
};

enum class Severity { Note, Watch, Act };
[[nodiscard]] std::string_view severityName(Severity severity); // "note", "watch", "act"

struct Finding {
    std::string_view id; // see finding_kinds.h
    Severity severity = Severity::Note;
    std::optional<std::size_t> session, pass; // none: about the whole log, the whole session
    double at = 0.0, from = 0.0, to = 0.0;    // s from the session's first row (of the log-wide axis without one)
    Sentence seen, threshold;
    std::string meaning, advice;
    std::optional<Quantity> quantity; // the lane that shows it
};

struct NotJudged {
    std::string_view id;
    std::optional<std::size_t> session;
    std::string why;
};

// A span in which a channel lies; it counts as missing for every figure and every other finding.
struct FaultSpan {
    enum class Kind { Stuck, Clipped, Missing, Impossible } kind = Kind::Impossible;
    Quantity quantity = Quantity::PackVoltage;
    std::size_t session = 0, startRow = 0, endRow = 0;
};

// Where the log's clock restarts, each stretch is aligned by itself: the best of them is told here.
struct TrackAlignment {
    std::string file;
    std::size_t fixes = 0, refused = 0;
    std::optional<double> offset, correlation; // s added to the track's clock to get the log-wide axis, 1
    bool used = false;
};

struct LogReview {
    std::vector<ReviewSession> sessions;
    std::vector<ReviewPass> passes;
    std::vector<Finding> findings; // by session, pass, time
    std::vector<NotJudged> notJudged;
    std::vector<std::string> notes;
    std::vector<FaultSpan> faults;
    std::optional<TrackAlignment> track;
    std::optional<double> cutoffCell; // V per cell in force, from options or a plan that fits a session
    std::vector<double> time;         // log-wide axis, one a row; empty where the log's own stamps serve
    std::vector<double> groundSpeed;  // m/s, one a row: the aligned track's, else the log's own; empty: none
    bool groundSpeedSlow = false;     // fewer fixes a second than show a peak
};

// Throws InputError where the options do not fit the log (cell counts); Stopped.
[[nodiscard]] LogReview reviewLog(const Log& log, const ReviewOptions& options = {}, std::stop_token stop = {});

// The axis that a review's times lie on.
[[nodiscard]] std::span<const double> reviewTime(const Log& log, const LogReview& review);

// ---- figures of a pass ----

// What the pass counts with, m/s: the mean through the timed zone, else the highest measured, else that of the wheels.
[[nodiscard]] std::optional<double> bestSpeed(const ReviewPass& pass);
// K: in the pass, in the soak after it, or foretold where the log ends before the peak of the soak.
[[nodiscard]] std::optional<double> hottest(const ReviewPass::Temperature& part);

// By key (app/batch/README.md), for JSON, tables and the garage.

using PassFigure = Figure<ReviewPass>;
[[nodiscard]] std::span<const PassFigure> passFigures();              // in the order of the JSON
[[nodiscard]] const PassFigure* findPassFigure(std::string_view key); // null if unknown

// The whole review as one JSON object; numbers read back to the same double, sentences in standard units.
[[nodiscard]] std::string reviewJson(const Log& log, const LogReview& review);

} // namespace rw
