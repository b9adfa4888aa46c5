#include "samples/generate/timeline.h"

#include "core/plan/plan.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw::generate {

namespace {

constexpr double standingStep = 0.5; // s between moments while standing
constexpr double heldFor = 2.0;      // s that a throttle is held before it opens
constexpr double traceRate = 200.0;  // moments a second under way
// As fine as double precision allows: what is left of the integration's error is some 1e-9 of a sensor's step, so that
// the rounded readings stay the same bytes whatever tolerance the program itself computes with.
constexpr double tolerance = 1e-13;

Moment standing(const PassSetup& setup, const StartState& state, double time) {
    Moment m;
    m.time = time;
    m.current = setup.controller.auxiliaryCurrent;
    m.voltage = setup.pack.series * setup.pack.ocv.at(state.charge) - state.polarisation -
                m.current * setup.pack.resistance(state.pack);
    m.controller = state.controller;
    m.motor = state.motorCase;
    m.pack = state.pack;
    return m;
}

// Stands for a while; the moments from there on.
StartState stand(Timeline& line, const PassSetup& setup, StartState state, double seconds) {
    const auto steps = static_cast<int>(std::ceil(seconds / standingStep));
    for (int i = 0; i < steps; ++i) {
        const double step = std::min(standingStep, seconds - i * standingStep);
        if (i == 0) line.moments.push_back(standing(setup, state, line.length));
        state = standFor(setup, state, step);
        line.length += step;
        line.moments.push_back(standing(setup, state, line.length));
    }
    return state;
}

// The plan as this pass is driven: lifted early means that the zone is cut short, a ceiling is an endpoint.
PlanInput driven(PlanInput plan, const PassTrouble& trouble) {
    if (trouble.lift < 1.0) {
        const double end = (plan.venue.run_up_m + plan.venue.timed_m) * trouble.lift;
        plan.venue.timed_m = std::min(plan.venue.timed_m, end / 2.0);
        plan.venue.run_up_m = end - plan.venue.timed_m;
    }
    plan.controller.endpoint = std::min(plan.controller.endpoint, trouble.outputCeiling);
    return plan;
}

// A light or airborne car: the motor runs up for an instant while its current falls, then the ground takes the speed
// back.
void lift(Timeline& line, std::size_t from, const DrivenPass& pass, const PassTrouble& trouble) {
    const double resistance = pass.setup.pack.resistance(pass.start.pack);
    for (std::size_t i = from; i < line.moments.size(); ++i) {
        Moment& m = line.moments[i];
        const double since = (m.time - pass.opens - trouble.airborneAt) / trouble.airborneFor;
        if (since <= 0.0 || since >= 1.0) continue;
        constexpr double rise = 0.35, height = 0.11, load = 0.45; // share of the time, of speed, of current
        const double shape = since < rise ? since / rise : (1.0 - since) / (1.0 - rise);
        const double lost = (1.0 - load) * std::min(1.0, 2.5 * shape) * m.current;
        m.motorSpeed *= 1.0 + height * shape;
        m.motorCurrent -= m.current > 0.0 ? lost * m.motorCurrent / m.current : 0.0;
        m.current -= lost;
        m.voltage += lost * resistance;
    }
}

StartState drive(Timeline& line, const SessionPlan& session, const PassTrouble& trouble, StartState state) {
    DrivenPass pass;
    const PlanInput plan = driven(session.plan, trouble);
    pass.setup = passSetup(plan);
    pass.start = state;
    pass.opens = line.length;
    const double ramp = plan.drive.throttle_ramp_s;
    // Where a review sees it begin: at 5 % of throttle, or 3 points over a held level.
    pass.pedalMoves = pass.opens + ramp * (trouble.heldThrottle > 0.0 ? trouble.heldThrottle + 0.03 : 0.05);
    const std::size_t from = line.moments.size();
    if (trouble.heldThrottle > 0.0)
        for (std::size_t i = 0; i < from; ++i)
            if (line.moments[i].time >= pass.opens - heldFor) line.moments[i].throttle = trouble.heldThrottle;
    double before = 0.0;
    const auto take = [&](const Instant& i) {
        Moment m;
        m.time = pass.opens + i.time;
        const bool open = i.phase == Phase::RunUp || i.phase == Phase::Timed || i.phase == Phase::Standing;
        m.throttle = !open ? 0.0 : std::max(trouble.heldThrottle, ramp > 0.0 ? std::min(1.0, i.time / ramp) : 1.0);
        m.output = i.duty;
        m.voltage = i.packVoltage;
        m.current = i.packCurrent;
        m.motorCurrent = i.motorCurrent;
        m.ripple = i.duty < 1.0 ? rippleVoltage(pass.setup.controller, i.motorCurrent, i.duty) : 0.0;
        m.motorSpeed = i.motorSpeed * rpmPerRadps;
        m.speed = i.speed;
        m.controller = i.controller;
        m.motor = i.motorCase;
        m.pack = i.pack;
        if (open) pass.closes = m.time;
        const double step = i.time - before;
        before = i.time;
        if (i.limit == Limit::MotorCurrent || i.limit == Limit::PackCurrent) pass.boundByCurrent += step;
        if (i.limit == Limit::Cutoff) pass.boundByCutoff += step;
        if (i.limit == Limit::Traction && i.duty < 0.999 * pass.setup.controller.endpoint * m.throttle)
            pass.boundByTraction += step;
        line.moments.push_back(m);
    };
    PassOptions options;
    options.precision.tolerance = tolerance;
    options.traceRate = traceRate;
    pass.result = simulatePass(pass.setup, state, options, take);
    line.length = line.moments.back().time;
    if (trouble.airborneAt > 0.0) lift(line, from, pass, trouble);
    line.passes.push_back(pass);
    return pass.result.end;
}

// Short bursts with the wheels off the ground: hardly any power.
void blip(Timeline& line, const SessionPlan& session, double at) {
    constexpr double length = 0.35, height = 0.45, amperes = 9.0;
    const double kv = session.plan.motor.kv_rpm_per_V;
    std::vector<Moment> burst;
    std::size_t from = 0;
    for (int k = 0; k <= 35; ++k) {
        const double time = at + length * k / 35.0;
        Moment m = line.at(time, from);
        const double x = 2.0 * k / 35.0 - 1.0, shape = 1.0 - x * x;
        m.time = time;
        m.throttle = m.output = height * shape;
        m.current += amperes * shape;
        m.motorCurrent = amperes * shape;
        m.motorSpeed = kv * m.voltage * height * shape * 0.9;
        burst.push_back(m);
    }
    std::erase_if(line.moments, [&](const Moment& m) { return m.time > at && m.time < at + length; });
    const auto place = std::lower_bound(line.moments.begin(), line.moments.end(), at,
                                        [](const Moment& m, double t) { return m.time <= t; });
    line.moments.insert(place, burst.begin(), burst.end());
}

} // namespace

Moment Timeline::at(double time, std::size_t& from) const {
    while (from + 2 < moments.size() && moments[from + 1].time < time)
        ++from;
    const Moment &a = moments[from], &b = moments[std::min(from + 1, moments.size() - 1)];
    const double share = b.time > a.time ? std::clamp((time - a.time) / (b.time - a.time), 0.0, 1.0) : 0.0;
    const auto mix = [&](double Moment::*f) { return a.*f + share * (b.*f - a.*f); };
    return {time,
            mix(&Moment::throttle),
            mix(&Moment::output),
            mix(&Moment::voltage),
            mix(&Moment::current),
            mix(&Moment::motorCurrent),
            mix(&Moment::ripple),
            mix(&Moment::motorSpeed),
            mix(&Moment::speed),
            mix(&Moment::controller),
            mix(&Moment::motor),
            mix(&Moment::pack)};
}

Timeline driveSession(const SessionPlan& session) {
    Timeline line;
    const PassSetup setup = passSetup(session.plan);
    StartState state = stand(line, setup, startState(session.plan), session.before_s);
    for (int k = 0; k < session.blips; ++k)
        blip(line, session, session.before_s - 2.5 * (k + 1));
    for (const PassPlan& pass : session.passes) {
        state = stand(line, setup, state, pass.wait_s);
        state = drive(line, session, pass.trouble, state);
        if (pass.trouble.powerLostAt > 0.0) {
            line.length = line.passes.back().opens + pass.trouble.powerLostAt;
            return line;
        }
    }
    stand(line, setup, state, session.after_s);
    return line;
}

} // namespace rw::generate
