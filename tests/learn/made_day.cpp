#include "tests/learn/made_day.h"

#include "core/log/import.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "core/plan/uncertain.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rw::testing {

namespace {

using generate::Random;

constexpr double fine = 1000.0; // instants a second that rows are read from

PlanInput drawnTruth(const PlanInput& plan, Random& random) {
    PlanInput truth = plan;
    for (const UncertainField& field : uncertainFields(plan)) {
        const double share = std::clamp(0.5 * std::erfc(-random.normal() / std::sqrt(2.0)), 1e-9, 1.0 - 1e-9);
        field.field->set(truth, field.value(share));
    }
    reconcile(truth);
    truth.uncertainty.clear();
    return truth;
}

struct Moment {
    double time = 0.0; // s of the session
    double throttle = 0.0, duty = 0.0, volts = 0.0, amperes = 0.0, rpm = 0.0, speed = 0.0;
    double motor = 0.0, controller = 0.0, pack = 0.0;
};

double between(double a, double b, double share) { return a + (b - a) * share; }

class Session {
public:
    Session(const PlanInput& truth, StartState state)
        : setup_(passSetup(truth))
        , state_(state) {}

    void stand(double seconds) {
        constexpr double step = 0.1;
        double left = seconds;
        while (left > 0.0) {
            addStanding();
            const double length = std::min(step, left);
            state_ = standFor(setup_, state_, length);
            time_ += length;
            left -= step;
        }
        addStanding();
    }
    // When the throttle closed.
    double drive(double headWind, double dragShare) {
        PassSetup setup = setup_;
        setup.strip.headWind = headWind;
        setup.chassis.dragArea *= 1.0 + dragShare;
        const double start = time_;
        const PassResult result =
            simulatePass(setup, state_, {.precision = {.tolerance = 1e-9}, .traceRate = fine}, [&](const Instant& i) {
                moments_.push_back({start + i.time, i.throttle, i.duty, i.packVoltage, i.packCurrent,
                                    i.motorSpeed * rpmPerRadps, i.speed, i.motorCase, i.controller, i.pack});
            });
        state_ = result.end;
        time_ = start + result.duration;
        return start + result.zoneExit.value_or(result.duration);
    }
    [[nodiscard]] double time() const { return time_; }
    [[nodiscard]] const StartState& state() const { return state_; }
    // Rising times only.
    [[nodiscard]] Moment at(double time) {
        while (next_ + 1 < moments_.size() && moments_[next_ + 1].time <= time)
            ++next_;
        const Moment& a = moments_[next_];
        const Moment& b = moments_[std::min(next_ + 1, moments_.size() - 1)];
        const double share = b.time > a.time ? std::clamp((time - a.time) / (b.time - a.time), 0.0, 1.0) : 1.0;
        return {time,
                between(a.throttle, b.throttle, share),
                between(a.duty, b.duty, share),
                between(a.volts, b.volts, share),
                between(a.amperes, b.amperes, share),
                between(a.rpm, b.rpm, share),
                between(a.speed, b.speed, share),
                between(a.motor, b.motor, share),
                between(a.controller, b.controller, share),
                between(a.pack, b.pack, share)};
    }

private:
    void addStanding() {
        const Pack& pack = setup_.pack;
        const double current = setup_.controller.auxiliaryCurrent;
        const double volts =
            pack.series * pack.ocv.at(state_.charge) - state_.polarisation - current * pack.resistance(state_.pack);
        moments_.push_back(
            {time_, 0.0, 0.0, volts, current, 0.0, 0.0, state_.motorCase, state_.controller, state_.pack});
    }
    PassSetup setup_;
    StartState state_;
    double time_ = 0.0;
    std::size_t next_ = 0;
    std::vector<Moment> moments_;
};

std::string number(double value, double step) {
    char text[40];
    const double rounded = step > 0.0 ? step * std::round(value / step) : value;
    std::snprintf(text, sizeof text, "%.4f", rounded);
    return text;
}

std::string rowsOf(Session& session, const DayStyle& style, const MadeDay& day, Random& random) {
    const SensorErrors& s = style.sensors;
    std::string text = "time (s)";
    const auto column = [&](bool has, const char* name) {
        if (has) text += std::string(",") + name;
    };
    column(s.throttle, "throttle (%)");
    column(s.output, "output (%)");
    text += ",pack voltage (V),pack current (A)";
    column(s.motorSpeed, "motor speed (rpm)");
    column(s.groundSpeed, "speed over ground (m/s)");
    column(s.heat, "motor temperature (°C)");
    column(s.heat, "controller temperature (°C)");
    column(s.heat, "pack temperature (°C)");
    text += "\n";
    double lagged = session.at(0.0).motor;
    const auto rows = static_cast<std::size_t>(session.time() * style.rate);
    for (std::size_t i = 0; i < rows; ++i) {
        const double t = static_cast<double>(i) / style.rate;
        const Moment m = session.at(t);
        lagged =
            s.heatLag > 0.0 ? lagged + (m.motor - lagged) * (1.0 - std::exp(-1.0 / (style.rate * s.heatLag))) : m.motor;
        const auto add = [&](bool has, double value, double noise, double step) {
            const double error = noise * random.normal(); // drawn in any case: other columns stay what they were
            if (has) text += "," + number(value + error, step);
        };
        text += number(t, 0.001);
        add(s.throttle, 100.0 * m.throttle, 0.0, s.outputStep);
        add(s.output, 100.0 * m.duty, 0.0, s.outputStep);
        add(true, day.voltageGain * m.volts, s.voltageNoise, s.voltageStep);
        add(true, day.currentGain * m.amperes + day.currentZero, s.currentNoise, s.currentStep);
        add(s.motorSpeed, m.rpm > 0.0 ? std::max(m.rpm, 1.0) : 0.0, m.rpm > 300.0 ? s.speedNoise : 0.0, s.speedStep);
        add(s.groundSpeed, m.speed, m.speed > 1.0 ? s.groundNoise : 0.0, 0.01);
        add(s.heat, lagged, s.heatNoise, s.heatStep);
        add(s.heat, m.controller, s.heatNoise, s.heatStep);
        add(s.heat, m.pack, s.heatNoise, s.heatStep);
        text += "\n";
    }
    return text;
}

} // namespace

PlanInput heavyCar() {
    return readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_heavy_all_wheel_drive.json");
}

MadeDay makeDay(const PlanInput& plan, const DayStyle& style, std::uint64_t seed) {
    Random random(seed * 2654435761U + 12345);
    MadeDay day;
    day.plan = plan;
    day.truth = drawnTruth(plan, random);
    for (const auto& [key, value] : style.truth)
        findPlanField(key)->set(day.truth, value);
    day.truth.tyre.radius_m *= 1.0 + style.tyreShare;
    if (style.tyreShare != 0.0) {
        day.plan.uncertainty.erase("tyre.radius_m");
        day.truth.tyre.radius_m = plan.tyre.radius_m * (1.0 + style.tyreShare);
    }
    day.currentGain = 1.0 + style.sensors.currentGain * random.normal();
    day.voltageGain = 1.0 + style.sensors.voltageGain * random.normal();
    day.currentZero = style.sensors.currentZero * random.normal();
    const double planned = headWind(plan.wind.speed_mps, plan.wind.from_deg, plan.venue.heading_deg);
    const auto stated = plan.uncertainty.find("wind.speed_mps");
    const double windError =
        stated == plan.uncertainty.end()
            ? 0.0
            : std::max(0.3, stated->second * std::abs(planned) / std::max(plan.wind.speed_mps, 1e-9));
    StartState start = startState(day.truth);
    Session session(day.truth, start);
    session.stand(random.between(12.0, 18.0));
    day.gusty = static_cast<std::size_t>(random.whole(0, style.passes - 1));
    for (int p = 0; p < style.passes; ++p) {
        day.headWind.push_back(planned + windError * random.normal());
        day.opens.push_back(session.time());
        day.starts.push_back(session.state());
        day.closes.push_back(
            session.drive(day.headWind.back(), static_cast<std::size_t>(p) == day.gusty ? style.gust : 0.0));
        session.stand(random.between(60.0, 120.0));
    }
    day.text = rowsOf(session, style, day, random);
    day.log = importLog(day.text, "made.csv");
    ReviewOptions options;
    options.plan = day.plan;
    day.review = reviewLog(day.log, options);
    return day;
}

} // namespace rw::testing
