#include "tests/review/random_day.h"

#include "samples/generate/cars.h"
#include "samples/generate/random.h"

#include <array>

namespace rw::test {

namespace {

using namespace generate;

PlanInput randomCar(Random& random) {
    PlanInput car = std::array{lightCar, middleCar, heavyCar}[static_cast<std::size_t>(random.whole(0, 2))]();
    car.vehicle.mass_kg *= random.between(0.95, 1.1);
    car.vehicle.drag_area_m2 *= random.between(0.9, 1.2);
    car.motor.kv_rpm_per_V *= random.between(0.95, 1.03);
    car.air.temperature_C = random.between(8.0, 30.0);
    if (random.chance(0.3)) car.pack.cell_resistance_ohm *= random.between(1.5, 3.5);
    if (random.chance(0.25)) car.controller.cutoff.mode = CutoffMode::Hard;
    if (random.chance(0.25)) car.controller.cutoff = {CutoffMode::Off, {}, 0.5};
    if (random.chance(0.2)) car.motor.case_capacity_JpK *= 0.35;
    if (random.chance(0.15)) car.controller.continuous_A = random.between(40.0, 120.0);
    if (random.chance(0.15)) car.motor.max_speed_rpm = random.between(36000.0, 48000.0);
    return car;
}

PassTrouble randomTrouble(Random& random, double rate, bool planGiven) {
    PassTrouble trouble;
    const double kind = random.uniform();
    if (kind < 0.10 && rate >= 15.0)
        trouble.airborneAt = random.between(4.6, 4.9);
    else if (kind < 0.18)
        trouble.spikeAt = random.between(4.0, 4.8);
    else if (kind < 0.25 && rate >= 15.0)
        trouble.stuckAt = random.between(1.4, 2.0);
    else if (kind < 0.32)
        trouble.heldThrottle = random.between(0.10, 0.2);
    else if (kind < 0.38)
        trouble.outputCeiling = random.between(0.85, 0.96);
    else if (kind < 0.44 && planGiven)
        trouble.lift = random.between(0.7, 0.9);
    return trouble;
}

SessionPlan randomSession(Random& random, const PlanInput& car, double rate, bool planGiven) {
    SessionPlan session;
    session.plan = car;
    const double air = car.air.temperature_C;
    session.plan.start = {air + random.between(0.0, random.chance(0.15) ? 45.0 : 15.0), air + random.between(0.0, 12.0),
                          air + random.between(0.0, 12.0)};
    session.before_s = random.between(8.0, 20.0);
    session.after_s = random.chance(0.12) ? random.between(6.0, 16.0) : random.between(40.0, 110.0);
    session.blips = random.chance(0.4) ? random.whole(1, 2) : 0;
    if (random.chance(0.08)) session.receiverDip = random.between(4.0, 4.6);
    const int passes = random.whole(1, 3);
    for (int p = 0; p < passes; ++p)
        session.passes.push_back({random.between(p == 0 ? 3.0 : 25.0, 90.0), randomTrouble(random, rate, planGiven)});
    return session;
}

void disturb(Random& random, Scenario& s) {
    s.jitter_s = random.chance(0.5) ? random.between(0.0, 0.08) / s.rate_Hz : 0.0;
    s.stampStep_s = random.chance(0.3) ? 0.01 : 0.001;
    s.equalStamps = random.chance(0.1) && s.rate_Hz > 15.0;
    if (random.chance(0.3)) s.currentOffset_A = random.between(-1.0, 2.0);
    s.currentNegated = random.chance(0.15);
    if (random.chance(0.3)) s.throttleTrim = random.between(0.01, 0.05);
    SensorSet& sensors = s.sensors;
    if (random.chance(0.3)) sensors.voltage.step = sensors.voltage.noise = 0.05;
    if (random.chance(0.3)) sensors.current.step = 1.0, sensors.current.noise = 0.5;
    if (random.chance(0.3)) sensors.throttle.step = sensors.output.step = 1.0;
    if (random.chance(0.3)) sensors.motorSpeed.step = 50.0;
    sensors.packTemperature.present = random.chance(0.6);
    sensors.motorCurrent.present = random.chance(0.3);
    sensors.ripple.present = random.chance(0.3);
    for (Sensor* t : {&sensors.controllerTemperature, &sensors.motorTemperature, &sensors.packTemperature}) {
        t->period_s = random.chance(0.5) ? 0.5 : 0.0;
        if (random.chance(0.3)) t->step = 1.0;
    }
    if (random.chance(0.3))
        s.text = {';', ',', random.chance(0.5), random.chance(0.5), false};
    else if (random.chance(0.2))
        s.text.separator = '\t';
}

} // namespace

RandomDay randomDay(std::uint64_t seed) {
    Random random(seed * 7919 + 17);
    RandomDay day;
    Scenario& s = day.scenario;
    s.name = "random-" + std::to_string(seed);
    s.story = "random day " + std::to_string(seed);
    s.rate_Hz = std::array{10.0, 20.0, 25.0, 50.0}[static_cast<std::size_t>(random.whole(0, 3))];
    day.planGiven = random.chance(0.5);
    disturb(random, s);
    const PlanInput car = randomCar(random);
    const int sessions = random.whole(1, 3);
    for (int k = 0; k < sessions; ++k) {
        s.sessions.push_back(randomSession(random, car, s.rate_Hz, day.planGiven));
        if (random.chance(0.2)) s.sessions.back().plan.pack.charge = random.between(0.3, 0.9);
    }
    if (sessions == 2 && random.chance(0.5)) { // one clock: only the packs' rest tells them apart
        s.clockRestarts = false;
        s.sessions[0].plan.pack.charge = 0.55;
        s.sessions[1].plan.pack.charge = 1.0;
        s.sessions[0].after_s = 60.0;
    }
    SessionPlan& last = s.sessions.back();
    if (random.chance(0.1)) {
        last.passes.back().trouble = {};
        last.passes.back().trouble.powerLostAt = random.between(4.2, 4.8);
        s.text.endsInTheMiddle = true;
    } else if (random.chance(0.06) && s.clockRestarts) {
        last.passes.back().trouble = {};
        last.passes.back().trouble.restartAt = random.between(3.5, 4.5);
        s.equalStamps = false;
    }
    return day;
}

} // namespace rw::test
