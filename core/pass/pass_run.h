// The event loop of one pass: segments of one regime each, joined at located events. core/physics/README.md 10.
#pragma once

#include "core/pass/borders.h"
#include "core/pass/foresight.h"
#include "core/pass/peaks.h"
#include "core/pass/steps.h"
#include "core/pass/trace.h"

#include <optional>

namespace rw::pass {

inline constexpr double longestPass = 600.0; // s, core/physics/README.md 10

class PassRun {
public:
    PassRun(const PassSetup& setup, const StartState& start, const PassOptions& options, const InstantSink& sink);
    [[nodiscard]] PassResult run();
    // After run(): the speed came to its peak so flatly that the first place within 1e-9 of it is asked for.
    [[nodiscard]] bool speedPeakIsFlat() const;

private:
    // Right-hand side in the present regime; keeps what the stages within a step saw.
    struct Rhs {
        PassRun* run;
        void operator()(double t, const State& y, State& dydt) const { run->rates(t, y, dydt); }
    };
    using Stepper = Steps<stateSize, Rhs>;

    void rates(double t, const State& y, State& dydt);
    void foretell(double t);
    void enterSegment(double firstStep);
    void advance(); // one step, to an event at most
    [[nodiscard]] double nextStop() const;
    void countBound(double length);
    [[nodiscard]] bool crowded() const; // so many borders that the loop walks on without them
    [[nodiscard]] double foreseen(double h, double error, double next) const;
    [[nodiscard]] double untilRest() const;
    [[nodiscard]] std::optional<Border> stepToBorder(double wanted);
    // Shortens the attempted step to its first border, if it has one; `error` becomes the shorter step's.
    [[nodiscard]] std::optional<Border> locate(double& error);
    [[nodiscard]] BorderDistances distancesAt(double share); // within the attempted step
    // The first place up to `high`, a share of the step, where a border is crossed.
    [[nodiscard]] double firstCrossing(double high, const BorderDistances& atHigh);
    double shorten(double share, double error);
    void finishStep();
    void watchStep(); // peaks, marks and trace over the attempted step
    void watchMarks();
    void watchSpeedPeak();
    void handleBorder(Border border);
    void handleStop();
    void resetCutoffClock();
    void closeThrottle();
    [[nodiscard]] State stateAt(double share); // within the attempted step
    [[nodiscard]] Solution solveAt(double share, State& y);
    [[nodiscard]] Phase phase() const;
    [[nodiscard]] double shareWhere(std::size_t index, double value);
    [[nodiscard]] PassResult result();

    Model model_;
    const PassSetup& setup_;
    StartState start_;
    Trace trace_;
    PassPrecision precision_;
    Stepper stepper_;
    Regime regime_;
    Watch watch_;
    Peaks peaks_;
    double hint_ = 0.0; // wheel speed over speed, where the solver starts
    Foresight foresight_;

    int stage_ = 0;
    Solution startSolution_, endSolution_; // of the present step
    InnerPlaces inner_;
    PeakValues startValues_{};

    double h_ = 0.0;                          // next step to try
    double lastStep_ = 0.0, lastError_ = 0.0; // of this segment; 0: none yet
    bool ended_ = false, timedOut_ = false, cutoffActed_ = false;
    std::optional<double> belowSince_;
    std::optional<double> entry_, exit_, reactionEnd_, brakeStart_;
    std::optional<double> windingExit_, caseExit_, timeToTarget_, distanceToTarget_;
    double frontAtRest_ = 1.0;
    BoundTimes bound_;
    double peakSpeed_ = 0.0, peakSpeedAt_ = 0.0, peakSlope_ = 0.0, exitSpeed_ = 0.0;
    bool peakInner_ = false; // the peak is a root of the acceleration, not the end of a rise
    int attempts_ = 0, steps_ = 0, events_ = 0;
    double crowdTime_ = -1.0;
    int crowd_ = 0;
};

} // namespace rw::pass
