#include "tests/review/hand_log.h"

#include "core/log/integrals.h"
#include "core/units.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace rw::test {

HandLog& HandLog::put(Quantity q, Course course, double step) {
    courses_[static_cast<std::size_t>(q)] = std::move(course);
    steps_[static_cast<std::size_t>(q)] = step;
    return *this;
}

HandLog& HandLog::drop(Quantity q) {
    courses_[static_cast<std::size_t>(q)] = nullptr;
    return *this;
}

HandLog& HandLog::change(Quantity q, std::function<double(double, double)> how) {
    const Course before = of(q);
    courses_[static_cast<std::size_t>(q)] = [=](double t) { return how(t, before(t)); };
    return *this;
}

Log HandLog::build() const {
    Log log;
    log.file = "hand.csv";
    std::vector<double> times;
    const auto rows = static_cast<std::size_t>(std::llround(seconds_ * rate_)) + 1;
    for (std::size_t i = 0; i < rows; ++i) {
        const double t = static_cast<double>(i) / rate_;
        if (t > gapFrom_ && t < gapTo_) continue;
        times.push_back(t);
        const bool anew = restart_ > 0.0 && t >= restart_ - 1e-9;
        log.time.push_back(anew ? t - restart_ : t);
        log.line.push_back(static_cast<std::uint32_t>(log.line.size() + 2));
    }
    for (std::size_t q = 0; q < quantityCount; ++q) {
        if (!courses_[q]) continue;
        Channel& channel = log.channels[q];
        for (const double t : times) {
            const double value = courses_[q](t);
            channel.values.push_back(steps_[q] > 0.0 ? std::round(value / steps_[q]) * steps_[q] : value);
            channel.missing += std::isnan(channel.values.back()) ? 1 : 0;
        }
        channel.interval_s = 1.0 / rate_;
        channel.step = steps_[q];
        channel.confidence = 1.0;
    }
    log.report.rows = log.rows();
    return log;
}

double wobble(double time, double size) {
    const auto k = std::llround(time * 1000.0);
    return size * (static_cast<double>((k * 7919) % 97) / 48.0 - 1.0);
}

HandLog goodPass() {
    const auto throttle = [](double t) {
        if (t < opens || t >= closes) return 0.0;
        const double x = std::min(1.0, (t - opens) / opening);
        return x * x * (3.0 - 2.0 * x); // a finger, not a ramp
    };
    const auto current = [=](double t) {
        return 0.4 + wobble(t, 0.1) + throttle(t) * (40.0 + 60.0 * std::exp(-(std::max(t, opens) - opens) / 1.5));
    };
    const auto speed = [](double t) {
        if (t < opens) return 0.0;
        const double top = 4200.0, reached = top * (1.0 - std::exp(-(std::min(t, closes) - opens) / 1.2));
        return t < closes ? reached + wobble(t, 3.0) : std::max(0.0, reached - 700.0 * (t - closes));
    };
    const auto heat = [](double start, double rise, double fall) {
        return [=](double t) {
            return 273.15 + start +
                   (t < opens ? 0.0 : rise * (1.0 - std::exp(-(t - opens) / 8.0)) * std::exp(-(t - opens) / fall));
        };
    };
    HandLog log(90.0);
    log.put(Quantity::Throttle, throttle).put(Quantity::Output, throttle);
    log.put(Quantity::PackCurrent, current);
    log.put(Quantity::PackVoltage, [=](double t) { return 16.72 - 0.012 * current(t); });
    log.put(Quantity::MotorSpeed, speed);
    log.put(Quantity::MotorTemperature, heat(25.0, 20.0, 120.0));
    log.put(Quantity::ControllerTemperature, heat(25.0, 8.0, 100.0));
    log.put(Quantity::PackTemperature, heat(28.0, 4.0, 200.0));
    log.put(Quantity::ReceiverVoltage, [](double t) { return 6.0 + wobble(t, 0.02); });
    log.put(Quantity::RippleVoltage, [=](double t) { return 0.002 * current(t); });
    return log;
}

PlanInput handPlan() {
    PlanInput plan;
    plan.venue = {400.0, 60.0, 30.0, 0.0, 0.0, 1.4};
    plan.vehicle.mass_kg = 2.0;
    plan.vehicle.wheelbase_m = 0.26;
    plan.vehicle.cg_behind_front_m = 0.14;
    plan.vehicle.cg_height_m = 0.03;
    plan.vehicle.drag_area_m2 = 0.012;
    plan.vehicle.rolling_c0 = 0.02;
    plan.vehicle.driveline_efficiency = 0.95;
    plan.tyre.radius_m = 0.03;
    plan.tyre.slip_stiffness = 15.0;
    plan.gears = {0.0005, 20, 80, {20}, {80}};
    plan.motor.kv_rpm_per_V = 2800.0;
    plan.motor.resistance_ohm = 0.01;
    plan.motor.no_load_current_A = 3.0;
    plan.motor.no_load_voltage_V = 14.8;
    plan.motor.winding_capacity_JpK = 20.0;
    plan.motor.case_capacity_JpK = 80.0;
    plan.motor.winding_case_KpW = 0.4;
    plan.motor.case_air_KpW = 4.0;
    plan.controller.resistance_ohm = 0.001;
    plan.controller.capacity_JpK = 60.0;
    plan.controller.case_air_KpW = 3.0;
    plan.pack.series = 4;
    plan.pack.capacity_Ah = 5.0;
    plan.pack.cell_resistance_ohm = 0.002;
    plan.pack.capacity_JpK = 400.0;
    plan.pack.case_air_KpW = 4.0;
    return plan;
}

std::multiset<std::string> idsOf(const LogReview& review) {
    std::multiset<std::string> ids;
    for (const Finding& f : review.findings)
        ids.insert(std::string(f.id));
    return ids;
}

const Finding* findingOf(const LogReview& review, std::string_view id) {
    for (const Finding& f : review.findings)
        if (f.id == id) return &f;
    return nullptr;
}

bool notJudged(const LogReview& review, std::string_view id) {
    return std::any_of(review.notJudged.begin(), review.notJudged.end(),
                       [&](const NotJudged& n) { return n.id == id; });
}

std::optional<double> figure(const ReviewPass& pass, std::string_view key) {
    for (const PassFigure& f : passFigures())
        if (f.key == key) return f.get(pass);
    ADD_FAILURE() << "no figure " << key;
    return {};
}

} // namespace rw::test
