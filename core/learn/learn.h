// What logs say of the vehicle: the plan's uncertain inputs back from driven passes, how well, and what they foretell.
// Pure functions: any thread, no hidden state. SI inside; values of plan keys in the key's own unit.
#pragma once

#include "core/log/log.h"
#include "core/plan/parallel.h"
#include "core/plan/plan_input.h"
#include "core/review/review.h"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// ---- what goes in ----

// A pass as the review of its log counts it: `pass` is the index into LogReview::passes, of any session.
struct PassRef {
    std::size_t log = 0, session = 0, pass = 0;
    bool operator==(const PassRef&) const = default;
};

// A log with its review. The plan may differ from log to log in gearing, pack series, drive, cutoff, venue, air and
// start; what is carried (see carriedKey) must not.
struct LearnLog {
    const Log* log = nullptr;
    const LogReview* review = nullptr;
    PlanInput plan;
    std::string digest; // SHA-256 of the log's bytes; "" unknown
};

// A speed that was only read off: a display's, a speed gun's.
struct NotedSpeed {
    PassRef pass;
    bool zone = false;        // the mean through the zone, else the peak
    double speed = 0.0;       // m/s
    double uncertainty = 0.3; // m/s
};

struct LearnOptions {
    std::optional<std::vector<PassRef>> passes; // these only; none: every pass that can be used
    std::vector<PassRef> reverse;               // run the other way: grade and wind turned
    std::vector<NotedSpeed> noted;
    bool coast = false;        // the vehicle rolled out: forces count after the throttle's close too
    bool trustSensors = false; // gains 1, zero 0
    double wear = 0.005;       // share a day by which tyre radius, pack resistances and capacity may have changed
    bool foretell = true;      // the fit without the last pass, and its prediction of it
    WorkOptions work;
};

// ---- what comes out ----

struct LearnedParameter {
    std::string key;
    double value = 0.0;           // most probable, in the key's unit
    double standardError = 0.0;   // standard deviation of the posterior
    double low = 0.0, high = 0.0; // its 2.5 and 97.5 % points
    double priorValue = 0.0, priorUncertainty = 0.0;
    bool determined = false;                     // the error at most half the prior's
    std::optional<std::string> whyNot, conflict; // sentences
};

struct LearnedCorrelation {
    std::vector<std::string> keys; // of the parameters, in their order
    std::vector<std::vector<double>> matrix;
};

struct LearnedNuisance {
    std::string name, unit; // "head wind", "m/s"; a key of the day by its name
    std::size_t log = 0;
    std::optional<std::size_t> session, pass;
    double value = 0.0, standardError = 0.0;
};

// How a quantity was followed, over all passes that were used.
struct LearnedResidual {
    Quantity quantity = Quantity::PackVoltage;
    std::size_t count = 0;
    double effectiveCount = 0.0;
    double rms = 0.0, noise = 0.0; // SI
    PassRef worstPass;
    double worstAt = 0.0;       // s, from the session's first row
    double worstResidual = 0.0; // measured less model
};

struct ForetoldFigure {
    std::string name; // of passFigures(): "motor_peak_rpm", "min_V", "peak_A", "motor_soak_C", "zone_speed_mps"
    double low = 0.0, mean = 0.0, high = 0.0; // 90 %
    std::optional<double> seen;
    std::optional<bool> inside;
};
struct Foretold {
    PassRef pass;
    std::vector<ForetoldFigure> figures;
};

struct LeftOutPass {
    PassRef pass;
    std::string why;
};

// Log and model of one quantity over one pass and the standing after it, for charts.
struct LearnTrace {
    PassRef pass;
    Quantity quantity = Quantity::PackVoltage;
    std::vector<double> time;            // s, from the session's first row
    std::vector<double> measured, model; // SI, as the sensor reads (gains included)
    std::vector<std::uint8_t> used;      // 0: left out of the estimate
};

struct LearnReport {
    std::vector<LearnedParameter> parameters; // the carried keys
    LearnedCorrelation correlation;
    std::vector<LearnedNuisance> nuisances;
    std::vector<LearnedResidual> residuals;
    std::optional<Foretold> foretold; // none with fewer than two passes, nor of logs that do not belong
    std::vector<PassRef> passesUsed;
    std::vector<LeftOutPass> passesLeftOut;
    std::vector<std::string> notes; // sentences
    std::vector<LearnTrace> traces;
    LearnedInput learned;   // gains of the sensors, digests of the logs, those learned from before included
    bool converged = false; // if not, it is said in the notes and nothing may be taken over
    bool belongs = true;    // false: likely another vehicle's logs or a plan entered wrong; the first note says why
};

// Whether a key's learned value goes into the next plan: vehicle, tyre, motor, controller and pack; the charge and all
// else is of the day.
[[nodiscard]] bool carriedKey(std::string_view key);

// Throws InputError: no pass to learn from, no uncertain key that is carried, nothing that tells (neither voltage nor
// current nor speed), plans that contradict each other, passes that are not there.
[[nodiscard]] LearnReport learn(std::span<const LearnLog> logs, const LearnOptions& options = {});

// The plan with the learned values, their standard errors, every correlation and the sensors' gains; all else as it
// was. Only of a report that converged.
[[nodiscard]] PlanInput learnedPlan(const PlanInput& plan, const LearnReport& report);

// The report as one JSON object; numbers read back to the same double.
[[nodiscard]] std::string learnJson(const LearnReport& report);
// A plan's document with what was learned put in, everything else as it was written and in its order.
// `document` is the plan input that was learned from, `plan` what learnedPlan made of it. Numbers read back to the same
// double.
[[nodiscard]] std::string learnedDocument(std::string_view document, const PlanInput& plan, const LearnReport& report);

// ---- what to change next ----

struct NextSetting {
    std::string key; // of the plan
    std::optional<double> number;
    std::string choice; // where the key's value is a word: "off"
};

struct NextChange {
    std::string change; // "pinion 24 instead of 22"; "nothing"
    std::vector<NextSetting> set;
    struct Band {
        double low = 0.0, mean = 0.0, high = 0.0; // 90 %
    };
    std::optional<Band> zoneMean; // m/s; none where no run completes the pass
    double gain = 0.0;            // m/s, of the mean over changing nothing
    std::optional<double> targetProbability;
    double limitProbability = 0.0; // of breaking any limit
    std::string tightestLimit;     // "" where the plan has none
    double tightestMargin = 0.0;   // at the plan's own values
};

struct NextReport {
    std::vector<std::string> first; // what has to be looked after before: sentences
    std::vector<NextChange> changes;
};

struct NextOptions {
    std::optional<double> target; // m/s; none: the plan's
    std::size_t runs = 400;
    std::uint64_t seed = 1;
    WorkOptions work;
};

// `plan` is the learned one; the logs' reviews say what bound.
[[nodiscard]] NextReport nextChanges(const PlanInput& plan, std::span<const LearnLog> logs, const NextOptions& options);
[[nodiscard]] std::string nextJson(const NextReport& report);

} // namespace rw
