// The loop of a driven pass: standing, under open throttle, closed. See driven.h.
#pragma once

#include "core/pass/borders.h"
#include "core/pass/driven.h"
#include "core/pass/foresight.h"
#include "core/pass/steps.h"

#include <array>
#include <cstddef>

namespace rw::pass {

class DrivenRun {
public:
    DrivenRun(const PassSetup& setup, const StartState& start, const DriveRecord& drive, std::span<const double> times);
    [[nodiscard]] DrivenResult run();

private:
    struct Rhs {
        DrivenRun* run;
        void operator()(double t, const State& y, State& dydt) const { run->rates(t, y, dydt); }
    };

    void rates(double t, const State& y, State& dydt);
    void standStepping(double until);
    void stand(double until);            // from time_ on
    void drive(double until, bool jump); // forces act, to `until` or to rest; jump: the duty jumps as it begins
    void roll();                         // as the known speeds say
    template<class At, class Speed>
    void rollTo(double until, const At& at, const Speed& speedAt);
    void begin(double time, const State& y, double firstStep);
    void takeLine(std::size_t knot);       // the line that leaves this knot
    void driveSegment(double until);       // to the next knot at most
    [[nodiscard]] bool step(double until); // one; false: at rest
    double attempt(double h);
    void finish();
    [[nodiscard]] std::optional<Border> locate();
    void watchStep();
    void markRolling(double from, double to, double distanceFrom);
    void keep(const State& y, const Solution& s);
    void keepStanding(const StartState& state);

    PassSetup setup_;
    Model model_;
    const DriveRecord& drive_;
    std::span<const double> times_;
    Steps<stateSize, Rhs> stepper_;
    Regime regime_;
    Watch watch_;
    double hint_ = 0.0;
    Solution last_; // of the right-hand side's last call
    int stage_ = 0;
    Solution startSolution_, endSolution_; // of the present step
    InnerPlaces inner_;
    double h_ = 0.0;
    double time_ = 0.0;
    State y_{};
    std::size_t next_ = 0; // the first time not told yet
    int attempts_ = 0;
    bool resting_ = false;
    std::optional<double> entry_, exit_;
    DrivenResult out_;
};

} // namespace rw::pass
