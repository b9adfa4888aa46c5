// Random vehicles, strips and starts from wide but physical ranges; the same seed gives the same vehicle.
#pragma once

#include "core/pass/pass.h"

#include <random>

namespace rw::testing {

struct RandomPass {
    PassSetup setup;
    StartState start;
};

[[nodiscard]] inline RandomPass randomPass(unsigned seed) {
    std::mt19937_64 engine(seed);
    // Not std::uniform_real_distribution: its numbers differ between libraries.
    const auto share = [&] { return static_cast<double>(engine() >> 11) * 0x1.0p-53; };
    const auto in = [&](double low, double high) { return low + (high - low) * share(); };
    const auto chance = [&](double probability) { return share() < probability; };
    RandomPass r;
    PassSetup& s = r.setup;
    s.strip = {in(5.0, 400.0), in(1.0, 100.0), in(-0.03, 0.03), in(0.2, 1.6),
               in(-8.0, 8.0),  in(0.9, 1.35),  in(-5.0, 40.0)};
    s.driving = {chance(0.2) ? 0.0 : in(0.1, 4.0), in(0.0, 1.0), in(0.1, 1.2), in(0.0, 0.5), in(5.0, 80.0)};
    Chassis& c = s.chassis;
    c.mass = in(0.8, 15.0);
    c.wheelbase = in(0.2, 0.8);
    c.cgBehindFront = c.wheelbase * in(0.35, 0.65);
    c.cgHeight = in(0.01, 0.1);
    c.drive = chance(0.4) ? DrivenAxle::All : chance(0.7) ? DrivenAxle::Rear : DrivenAxle::Front;
    c.dragArea = in(0.003, 0.05);
    c.dragHeight = in(0.01, 0.12);
    c.liftAreaFront = in(-0.01, 0.006);
    c.liftAreaRear = in(-0.02, 0.003);
    c.rolling0 = in(0.005, 0.05);
    c.rolling2 = in(0.0, 1e-5);
    c.wheelInertia = in(0.0, 2e-3);
    s.tyre = {in(0.025, 0.07), in(0.0, 0.25), in(500.0, 2000.0), in(6.0, 30.0)};
    s.gearing = {in(2.5, 12.0), in(0.75, 1.0), in(0.0, 0.1)};
    const int series = 2 + static_cast<int>(in(0.0, 11.0));
    Motor& m = s.motor;
    m.kv_rpmPerVolt = 12000.0 / series * in(0.5, 1.5);
    m.resistance20 = in(0.001, 0.02);
    m.noLoad = noLoadFromTest(in(0.5, 8.0), in(8.0, 30.0), m.kv_rpmPerVolt);
    m.timing = in(0.0, 0.4);
    m.inertia = in(0.0, 5e-5);
    m.heat = {in(10.0, 80.0), in(40.0, 400.0), in(0.1, 1.0), {in(1.0, 8.0), in(0.0, 0.1)}};
    m.ironLossToWinding = in(0.0, 1.0);
    Controller& k = s.controller;
    k.resistance = in(0.0, 0.003);
    k.endpoint = chance(0.6) ? 1.0 : in(0.5, 1.0);
    if (chance(0.5)) k.dutyRate = in(0.5, 6.0);
    if (chance(0.6)) k.motorCurrentLimit = in(30.0, 400.0);
    if (chance(0.6)) k.packCurrentLimit = in(20.0, 300.0);
    k.auxiliaryCurrent = in(0.0, 2.0);
    k.cutoff = chance(0.3) ? CutoffMode::Off : chance(0.5) ? CutoffMode::Soft : CutoffMode::Hard;
    k.cutoffVoltage = series * in(2.8, 3.6);
    k.cutoffDelay = chance(0.3) ? 0.0 : in(0.1, 1.0);
    k.switchTime = in(0.0, 3e-7);
    k.idle = in(0.0, 4.0);
    k.heat = {in(20.0, 200.0), {in(1.0, 8.0), in(0.0, 0.1)}};
    Pack& p = s.pack;
    p.series = series;
    p.parallel = chance(0.8) ? 1 : 2;
    p.capacity = in(1.5, 10.0) * 3600.0;
    p.cellResistance25 = in(0.0008, 0.006);
    p.resistanceB = in(0.0, 3000.0);
    p.leadResistance = in(0.0, 0.004);
    if (chance(0.6)) {
        p.rcResistance = in(0.001, 0.01);
        p.rcCapacitance = in(200.0, 3000.0);
    }
    p.ocv = OpenCircuitVoltage({0.0, 0.1, 0.3, 0.6, 1.0}, {3.27, 3.69, 3.79, 3.91, 4.2});
    p.heat = {in(100.0, 1500.0), {in(1.0, 6.0), in(0.0, 0.1)}};
    r.start = {in(0.3, 1.0), 0.0, in(0.0, 60.0), in(0.0, 60.0), in(0.0, 50.0), in(0.0, 50.0)};
    return r;
}

} // namespace rw::testing
