// The days of samples/logs/. Invented cars, invented drivers, invented weather.
#include "core/error.h"
#include "samples/generate/cars.h"
#include "samples/generate/generate.h"

#include <algorithm>

namespace rw::generate {

namespace {

SessionPlan session(const PlanInput& plan, std::size_t passes, double wait, double after) {
    SessionPlan s;
    s.plan = plan;
    s.plan.start = {plan.air.temperature_C + 4.0, plan.air.temperature_C + 3.0, 27.0};
    s.after_s = after;
    for (std::size_t p = 0; p < passes; ++p)
        s.passes.push_back({p == 0 ? 4.0 : wait, {}});
    return s;
}

Scenario day(std::string name, std::string story) {
    Scenario s;
    s.name = std::move(name);
    s.story = std::move(story);
    s.sensors.packTemperature.present = true;
    for (Sensor* sensor : {&s.sensors.controllerTemperature, &s.sensors.motorTemperature, &s.sensors.packTemperature})
        sensor->period_s = 0.5;
    return s;
}

// One warm day of one car: six cells whose soft cutoff takes power once the pack is low, then eight, with a front that
// goes light over a seam and a motor that does not cool between passes. Its sensors have gains and an offset.
Scenario mainDay() {
    Scenario s =
        day("main-day", "six cells with a soft cutoff that takes power, then eight: a light front, heat that adds up");
    s.currentGain = 1.018;
    s.voltageGain = 0.998;
    s.currentOffset_A = 0.4;
    s.sensors.speed = {true, 0.08, 0.01};
    const PlanInput six = asItTrulyIs(mainDayPlan());
    PlanInput eight = six;
    eight.pack.series = 8;
    eight.pack.charge = 1.0;
    s.sessions = {session(six, 4, 40.0, 45.0), session(eight, 3, 30.0, 60.0)};
    s.sessions[0].plan.start = six.start;
    s.sessions[1].plan.start = {40.0, 36.0, 30.0};
    s.sessions[1].passes[1].trouble.airborneAt = 4.5;
    return s;
}

Scenario plainDay() {
    Scenario s = day("plain-day", "a six-cell car, two packs, two passes with each; nothing goes wrong");
    s.sessions = {session(middleCar(), 2, 75.0, 70.0), session(middleCar(), 2, 80.0, 60.0)};
    s.sessions[0].blips = 2;
    s.sessions[1].plan.start.motor_C = 33.0;
    s.sessions[1].plan.start.controller_C = 30.0;
    return s;
}

Scenario cutoffDay() {
    Scenario s = day("cutoff-day", "a tired, half-charged pack in a six-cell car; the low-voltage cutoff takes power");
    PlanInput car = middleCar();
    car.pack.cell_resistance_ohm = 0.0026;
    car.pack.charge = 0.45;
    car.controller.cutoff = {CutoffMode::Hard, 3.52, 0.15};
    car.controller.input_capacitance_F = 0.004;
    s.sessions = {session(car, 2, 70.0, 70.0)};
    s.sensors.ripple.present = true;
    return s;
}

Scenario hotDay() {
    Scenario s = day("hot-day", "a hot afternoon, four passes with short waits; the motor never cools");
    PlanInput car = middleCar();
    car.air.temperature_C = 36.0;
    car.gears.pinion_teeth = 36;
    car.gears.pinions = {34, 35, 36, 37};
    car.motor.winding_capacity_JpK = 26.0;
    car.motor.case_capacity_JpK = 95.0;
    s.sessions = {session(car, 4, 35.0, 90.0)};
    s.sessions[0].plan.start.motor_C = 52.0;
    s.sessions[0].plan.start.controller_C = 45.0;
    s.sessions[0].plan.start.pack_C = 38.0;
    return s;
}

Scenario lightFront() {
    Scenario s = day("light-front", "an eight-cell car that goes light over a bump at speed");
    s.sessions = {session(heavyCar(), 2, 80.0, 60.0)};
    s.sessions[0].passes[0].trouble.airborneAt = 5.6;
    s.sessions[0].passes[1].trouble.airborneAt = 5.4;
    s.sensors.motorCurrent.present = true;
    return s;
}

Scenario coarse() {
    Scenario s = day("coarse-ten-hertz", "ten rows a second, whole volts and amperes, two packs on one clock");
    s.rate_Hz = 10.0;
    s.stampStep_s = 0.1;
    s.clockRestarts = false;
    s.sensors.voltage = {true, 0.05, 0.1, 0.0};
    s.sensors.current = {true, 0.4, 1.0, 0.0};
    s.sensors.throttle.step = s.sensors.output.step = 1.0;
    s.sensors.motorSpeed = {true, 60.0, 100.0, 0.0};
    for (Sensor* sensor : {&s.sensors.controllerTemperature, &s.sensors.motorTemperature, &s.sensors.packTemperature})
        *sensor = {true, 0.1, 1.0, 1.0};
    s.sessions = {session(middleCar(), 2, 70.0, 130.0), session(middleCar(), 1, 60.0, 90.0)};
    s.sessions[0].plan.pack.charge = 0.74; // the second pack is full: the review tells them apart by their rest
    s.sessions[1].plan.start.motor_C = 31.0;
    return s;
}

Scenario decimalCommas() {
    Scenario s = day("decimal-commas", "semicolons, decimal commas, a byte order mark and carriage returns");
    s.text = {';', ',', true, true, false};
    s.currentOffset_A = 0.8;
    s.throttleTrim = 0.02;
    s.sessions = {session(lightCar(), 3, 60.0, 70.0)};
    s.sensors.speed.present = true;
    return s;
}

using MakeDay = Scenario (*)();
struct NamedDay {
    std::string_view name;
    MakeDay make;
};
constexpr NamedDay days[] = {
    {"main-day", mainDay},       {"plain-day", plainDay},      {"cutoff-day", cutoffDay},        {"hot-day", hotDay},
    {"light-front", lightFront}, {"coarse-ten-hertz", coarse}, {"decimal-commas", decimalCommas}};

} // namespace

const std::vector<std::string_view>& sampleDays() {
    static const std::vector<std::string_view> names = [] {
        std::vector<std::string_view> all;
        for (const NamedDay& d : days)
            all.push_back(d.name);
        return all;
    }();
    return names;
}

Scenario sampleDay(std::string_view name) {
    const auto* found =
        std::find_if(std::begin(days), std::end(days), [&](const NamedDay& d) { return d.name == name; });
    if (found == std::end(days)) throw InputError(std::string(name), "is no sample day");
    return found->make();
}

PlanInput samplePlan(std::string_view name) { return sampleDay(name).sessions.front().plan; }

} // namespace rw::generate
