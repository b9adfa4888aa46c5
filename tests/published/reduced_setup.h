// A vehicle whose every refinement is switched off, so that a whole pass reduces to a textbook problem.
// m 4 kg, ½ρC_dA 0.018 kg/m; lossless motor with 1 V·s/rad on 50 mm wheels, so that 1 A pushes with 20 N;
// slip, growth, rotating masses, resistances and heating are made too small to matter.
#pragma once

#include "core/pass/pass.h"
#include "core/units.h"

namespace rw::reduced {

inline constexpr double mass = 4.0, dragFactor = 0.018; // kg, kg/m
inline constexpr double wheelRadius = 0.05;             // m
inline constexpr double sourceVolts = 5000.0;           // constant, without resistance

[[nodiscard]] inline PassSetup setup(double runUp, double timed) {
    PassSetup s;
    s.strip = {runUp, timed, 0.0, 1000.0, 0.0, 1.2, 20.0};
    s.driving = {0.0, 0.3, 0.4, 0.0, {}};
    s.chassis.mass = mass;
    s.chassis.wheelbase = 0.4;
    s.chassis.cgBehindFront = 0.2;
    s.chassis.cgHeight = 0.0;
    s.chassis.drive = DrivenAxle::All;
    s.chassis.dragArea = 2.0 * dragFactor / 1.2;
    s.tyre = {wheelRadius, 0.0, 1000.0, 1e13};
    s.motor.kv_rpmPerVolt = rpmPerRadps; // 1 V·s/rad
    s.motor.resistance20 = 1e-9;
    s.motor.magnetCoefficient = 0.0;
    s.motor.heat = {1e15, 1e15, 1e6, {1e6, 0.0}};
    s.controller.heat = {1e15, {1e6, 0.0}};
    s.pack.capacity = 1e12;
    s.pack.ocv = OpenCircuitVoltage({0.0, 1.0}, {sourceVolts, sourceVolts});
    s.pack.heat = {1e15, {1e6, 0.0}};
    return s;
}

} // namespace rw::reduced
