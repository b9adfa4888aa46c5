#include "tests/pass/reference/pass.h"

#include "core/physics/heat.h"
#include "tests/pass/reference/guards.h"
#include "tests/pass/reference/peaks.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

namespace rw::reference {

using namespace pass;

namespace {

// A ramp begins with exactly no current: which equations hold is asked just after the jump, not at it.
constexpr double justAfter = 1e-9; // s
constexpr double infinity = std::numeric_limits<double>::infinity();

void check(int flag, const char* what) {
    if (flag < 0) throw std::runtime_error(std::string(what) + " failed with " + std::to_string(flag));
}

class Run {
public:
    Run(const PassSetup& setup, const StartState& start, const Options& options);
    ~Run();
    Run(const Run&) = delete;
    Run& operator=(const Run&) = delete;
    PassResult run();

private:
    static int rhs(realtype t, N_Vector y, N_Vector dydt, void* self);
    static int roots(realtype t, N_Vector y, realtype* g, void* self);

    static State stateOf(N_Vector y) {
        State s;
        std::copy_n(N_VGetArrayPointer(y), stateSize, s.begin());
        return s;
    }
    Solution solve(double t, const State& y) { return model_.solve(t, y, regime_, hint_); }
    void begin(double t, const State& y);
    void chooseRegime();
    void step();
    void watch(double from, double to);
    void atGuard(Guard guard);
    void atStop();
    void count(double from, double to);
    void closeThrottle(bool atExit);
    void markFastest();
    [[nodiscard]] double nextStop() const;
    [[nodiscard]] Limit binding() const;
    PassResult finish();

    Model model_;
    const PassSetup& setup_;
    Options options_;
    double startCharge_ = 1.0;
    SUNContext context_ = nullptr;
    void* cvode_ = nullptr;
    N_Vector vector_ = nullptr, dense_ = nullptr;
    SUNNonlinearSolver solver_ = nullptr;

    double time_ = 0.0, hint_ = 0.0;
    State y_{};
    Regime regime_;
    Situation situation_;
    Largest largest_;
    bool ended_ = false, cutoffActed_ = false;
    double belowSince_ = infinity, reactionEnd_ = infinity, brakeFrom_ = infinity;
    double fastest_ = -1.0;
    PassResult result_;
};

Run::Run(const PassSetup& setup, const StartState& start, const Options& options)
    : model_(setup)
    , setup_(setup)
    , options_(options)
    , startCharge_(start.charge) {
    check(SUNContext_Create(nullptr, &context_), "context");
    vector_ = N_VNew_Serial(stateSize, context_);
    dense_ = N_VNew_Serial(stateSize, context_);
    y_ = {0.0,        0.0, start.charge, start.polarisation, start.winding, start.motorCase, start.controller,
          start.pack, 0.0};
    std::copy(y_.begin(), y_.end(), N_VGetArrayPointer(vector_));
    cvode_ = CVodeCreate(CV_ADAMS, context_);
    check(CVodeInit(cvode_, rhs, 0.0, vector_), "init");
    N_Vector absolute = N_VNew_Serial(stateSize, context_);
    N_VConst(options.tolerance, absolute);
    N_VGetArrayPointer(absolute)[WH] = 100.0 * options.tolerance; // J, against kilojoules
    check(CVodeSVtolerances(cvode_, options.tolerance, absolute), "tolerances");
    N_VDestroy(absolute);
    check(CVodeSetUserData(cvode_, this), "user data");
    solver_ = SUNNonlinSol_FixedPoint(vector_, 0, context_);
    check(CVodeSetNonlinearSolver(cvode_, solver_), "solver");
    check(CVodeRootInit(cvode_, guardCount, roots), "roots");
    std::array<int, guardCount> falling;
    falling.fill(-1);
    check(CVodeSetRootDirection(cvode_, falling.data()), "directions");
    check(CVodeSetNoInactiveRootWarn(cvode_), "warnings");
    check(CVodeSetMaxNumSteps(cvode_, 100000), "steps");
}

Run::~Run() {
    SUNNonlinSolFree(solver_);
    CVodeFree(&cvode_);
    N_VDestroy(vector_);
    N_VDestroy(dense_);
    SUNContext_Free(&context_);
}

int Run::rhs(realtype t, N_Vector y, N_Vector dydt, void* self) {
    Run& run = *static_cast<Run*>(self);
    const State state = stateOf(y);
    State rate{};
    run.model_.rates(state, run.regime_, run.solve(t, state), rate);
    std::copy(rate.begin(), rate.end(), N_VGetArrayPointer(dydt));
    return 0;
}

int Run::roots(realtype t, N_Vector y, realtype* g, void* self) {
    Run& run = *static_cast<Run*>(self);
    const State state = stateOf(y);
    const Guards all = guards(run.model_, t, state, run.regime_, run.solve(t, state), run.situation_);
    std::copy(all.begin(), all.end(), g);
    return 0;
}

void Run::begin(double t, const State& y) {
    time_ = t;
    y_ = y;
    std::copy(y_.begin(), y_.end(), N_VGetArrayPointer(vector_));
    check(CVodeReInit(cvode_, t, vector_), "restart");
    largest_.take(figuresAt(model_, y_, regime_, solve(t, y_)));
}

// After a jump: which equations hold from here on.
void Run::chooseRegime() {
    model_.resolve(time_ + justAfter, y_, regime_, std::nullopt, hint_);
    if (setup_.controller.cutoff != CutoffMode::Hard || !regime_.open) return;
    const bool below = solve(time_, y_).packVoltage < setup_.controller.cutoffVoltage;
    if (below != situation_.belowCutoff) belowSince_ = below ? time_ : infinity;
    situation_.belowCutoff = below;
}

double Run::nextStop() const {
    double stop = 600.0;
    if (y_[X] < 1e-3) stop = std::min(stop, 10.0);
    if (!regime_.full) stop = std::min(stop, model_.fullThrottleTime());
    if (situation_.belowCutoff && regime_.open) stop = std::min(stop, belowSince_ + setup_.controller.cutoffDelay);
    if (!regime_.braking) stop = std::min(stop, reactionEnd_);
    return stop;
}

Limit Run::binding() const {
    if (result_.zoneExit) return Limit::None;
    return cutoffActed_ ? Limit::Cutoff : regime_.limit;
}

void Run::count(double from, double to) {
    switch (binding()) {
    case Limit::None:
        break;
    case Limit::MotorCurrent:
        result_.bound.motorCurrent += to - from;
        break;
    case Limit::PackCurrent:
        result_.bound.packCurrent += to - from;
        break;
    case Limit::Traction:
        result_.bound.traction += to - from;
        break;
    case Limit::Cutoff:
        result_.bound.cutoff += to - from;
        break;
    }
}

void Run::watch(double from, double to) {
    const auto at = [&](double share) {
        const double t = from + share * (to - from);
        check(CVodeGetDky(cvode_, t, 0, dense_), "dense output");
        const State y = stateOf(dense_);
        return figuresAt(model_, y, regime_, solve(t, y));
    };
    largest_.search(at, 6);
}

void Run::step() {
    const double stop = nextStop();
    if (stop <= time_) return atStop();
    check(CVodeSetStopTime(cvode_, stop), "stop time");
    const double from = time_;
    double reached = time_;
    const int flag = CVode(cvode_, infinity, vector_, &reached, CV_ONE_STEP);
    check(flag, "step");
    ++result_.steps;
    time_ = reached;
    y_ = stateOf(vector_);
    count(from, time_);
    if (options_.searchPeaks) watch(from, time_);
    largest_.take(figuresAt(model_, y_, regime_, solve(time_, y_)));
    if (flag == CV_ROOT_RETURN) {
        std::array<int, guardCount> found{};
        check(CVodeGetRootInfo(cvode_, found.data()), "root");
        for (std::size_t i = 0; i < guardCount && !ended_; ++i)
            if (found[i] != 0) atGuard(static_cast<Guard>(i));
        ++result_.events;
        if (!ended_) begin(time_, y_);
    } else if (flag == CV_TSTOP_RETURN) {
        atStop();
        if (!ended_) begin(time_, y_);
    }
}

void Run::markFastest() {
    if (y_[V] <= fastest_) return;
    fastest_ = y_[V];
    result_.peakSpeedAt = y_[X];
}

void Run::closeThrottle(bool atExit) {
    markFastest();
    regime_.open = false;
    if (atExit) reactionEnd_ = time_ + setup_.driving.reaction;
    situation_.voltageWatched = false;
    situation_.belowCutoff = false;
    chooseRegime();
}

void Run::atGuard(Guard guard) {
    switch (guard) {
    case Mark:
        if (!result_.zoneEntry) {
            result_.zoneEntry = time_;
            situation_.nextMark = setup_.strip.runUp + setup_.strip.timed;
            return;
        }
        result_.zoneExit = time_;
        result_.windingExit = y_[TW];
        result_.caseExit = y_[TH];
        situation_.marked = false;
        return closeThrottle(true);
    case Target:
        result_.timeToTarget = time_;
        result_.distanceToTarget = y_[X];
        situation_.targetOpen = false;
        return;
    case Stopping:
        ended_ = true;
        return;
    case Rolling:
        situation_.rolled = true;
        return;
    case Launch:
        regime_.moving = true;
        return;
    case Slowing:
        return markFastest();
    case Flow:
        regime_.flowing = !regime_.flowing;
        return;
    case Push:
        regime_.pushing = !regime_.pushing;
        return;
    case FrontLoad:
        regime_.axles = regime_.axles == Axles::Both ? Axles::FrontUp : Axles::Both;
        return;
    case RearLoad:
        regime_.axles = regime_.axles == Axles::Both ? Axles::RearUp : Axles::Both;
        return;
    case TotalLoad:
        return chooseRegime();
    case Knot:
        --regime_.ocvInterval;
        return;
    case OtherLimit:
        regime_.limit = leastLimit(model_, time_, regime_, solve(time_, y_));
        return;
    case Fold:
        throw std::runtime_error("the fold is beyond this reference");
    case Edge:
        if (regime_.open)
            regime_.limit = Limit::Traction;
        else
            regime_.sliding = !regime_.sliding;
        return;
    case Voltage:
        situation_.belowCutoff = !situation_.belowCutoff;
        belowSince_ = situation_.belowCutoff ? time_ : infinity;
        return;
    case Overtaken:
        regime_.headOn = !regime_.headOn;
        return;
    case guardCount:
        break;
    }
}

void Run::atStop() {
    if (!regime_.full && time_ >= model_.fullThrottleTime()) {
        regime_.full = true;
        if (regime_.open) chooseRegime();
    } else if (regime_.open && situation_.belowCutoff && time_ >= belowSince_ + setup_.controller.cutoffDelay) {
        cutoffActed_ = true;
        closeThrottle(false);
    } else if (!regime_.braking && time_ >= reactionEnd_) {
        regime_.braking = true;
        brakeFrom_ = y_[X];
        chooseRegime();
    } else {
        ended_ = true;
    }
}

PassResult Run::run() {
    regime_.full = model_.fullThrottleTime() <= 0.0;
    regime_.ocvInterval = setup_.pack.ocv.interval(y_[Z]);
    if (regime_.ocvInterval > 0 && setup_.pack.ocv.knot(regime_.ocvInterval - 1) == y_[Z]) --regime_.ocvInterval;
    situation_.nextMark = setup_.strip.runUp;
    situation_.target = setup_.driving.target.value_or(0.0);
    situation_.targetOpen = setup_.driving.target.has_value();
    situation_.voltageWatched = setup_.controller.cutoff == CutoffMode::Hard;
    chooseRegime();
    if (solve(0.0, y_).acceleration > 0.0) {
        regime_.moving = true;
        chooseRegime();
    }
    begin(0.0, y_);
    while (!ended_)
        step();
    return finish();
}

PassResult Run::finish() {
    PassResult& r = result_;
    r.completed = r.zoneExit.has_value() && time_ < 600.0;
    if (r.completed) {
        r.zoneMean = setup_.strip.timed / (*r.zoneExit - *r.zoneEntry);
        r.braking = brakeFrom_ < infinity ? y_[X] - brakeFrom_ : 0.0;
    } else {
        r.zoneEntry = r.zoneExit = r.windingExit = r.caseExit = std::nullopt;
    }
    r.peakSpeed = largest_.of(GroundSpeed);
    r.minPackVoltage = -largest_.of(LowVoltage);
    r.minCellVoltage = r.minPackVoltage / setup_.pack.series;
    r.peakPackCurrent = largest_.of(PackAmps);
    r.peakMotorCurrent = largest_.of(MotorAmps);
    r.peakElectrical = largest_.of(ElectricalPower);
    r.peakShaft = largest_.of(ShaftPower);
    r.peakWheelSpeed = largest_.of(WheelSpin);
    r.peakMotorSpeed = r.peakWheelSpeed * setup_.gearing.ratio;
    r.windingPeak = largest_.of(WindingHeat);
    r.casePeak = largest_.of(CaseHeat);
    r.controllerPeak = largest_.of(ControllerHeat);
    r.packPeak = largest_.of(PackHeat);
    r.ripple = largest_.of(RippleVolts);
    r.minFrontLoadRatio = -largest_.of(FrontShare);
    r.end = {y_[Z], y_[U1], y_[TW], y_[TH], y_[TC], y_[TP]};
    r.chargeUsed = (startCharge_ - y_[Z]) * setup_.pack.capacity;
    r.energyUsed = y_[WH];
    const CasePeak soak = casePeak(setup_.motor.heat, {y_[TW], y_[TH]}, setup_.strip.airTemperature);
    r.caseSoakPeak = soak.temperature;
    r.caseSoakPeakAfter = soak.after;
    r.stopAt = y_[X];
    r.duration = time_;
    return r;
}

} // namespace

PassResult simulatePass(const PassSetup& setup, const StartState& start, const Options& options) {
    return Run(setup, start, options).run();
}

} // namespace rw::reference
