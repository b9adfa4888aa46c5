// What a model takes from its setup once, and what a solved instant does to the state.
#include "core/pass/model.h"

#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw::pass {

Model::Model(const PassSetup& setup, double precision)
    : setup_(&setup)
    , precision_(precision)
    , near_(std::sqrt(precision)) {
    const Chassis& c = setup.chassis;
    const double halfDensity = 0.5 * setup.strip.airDensity;
    dragFactor_ = halfDensity * c.dragArea;
    liftFrontFactor_ = halfDensity * c.liftAreaFront;
    liftRearFactor_ = halfDensity * c.liftAreaRear;
    const RoadForces still = roadForces(c, setup.strip.airDensity, setup.strip.grade, 0.0, 0.0);
    weightAcross_ = still.weightAcross;
    slopeForce_ = still.slopeForce;
    frontStill_ = (weightAcross_ * (c.wheelbase - c.cgBehindFront) - slopeForce_ * c.cgHeight) / c.wheelbase;
    dragLever_ = c.dragHeight / c.wheelbase;
    transfer_ = c.mass * c.cgHeight / c.wheelbase;
    const Motor& m = setup.motor;
    motorConstant20_ = m.constant(20.0);
    viscousSlope_ = m.noLoad.viscous / m.noLoad.referenceSpeed;
    gearPushing_ = setup.gearing.ratio * setup.gearing.efficiency;
    gearHolding_ = setup.gearing.ratio / setup.gearing.efficiency;
    growthSquare_ = setup.tyre.halfGrowthSpeed * setup.tyre.halfGrowthSpeed;
    edgeSlip_ = setup.tyre.edgeSlip(setup.strip.friction);
    perEdgeSlip_ = 1.0 / edgeSlip_;
    const Pack& p = setup.pack;
    perCapacity_ = 1.0 / p.capacity;
    if (p.hasRc()) {
        perRcCapacitance_ = 1.0 / p.rcCapacitance;
        perRcResistance_ = 1.0 / p.rcResistance;
        rcRate_ = perRcCapacitance_ * perRcResistance_;
    }
    windingToCase_ = 1.0 / m.heat.windingToCase;
    caseToAir_ = 1.0 / m.heat.toAir.standing;
    controllerToAir_ = 1.0 / setup.controller.heat.toAir.standing;
    packToAir_ = 1.0 / p.heat.toAir.standing;
    perWinding_ = 1.0 / m.heat.windingCapacity;
    perCase_ = 1.0 / m.heat.caseCapacity;
    perController_ = 1.0 / setup.controller.heat.capacity;
    perPack_ = 1.0 / p.heat.capacity;
    switchingFactor_ = setup.controller.switchTime * setup.controller.pwmFrequency;
    spinInertia_ = c.wheelInertia + setup.motor.inertia * setup.gearing.ratio * setup.gearing.ratio;
    brakeForce_ = setup.driving.brakeFraction * c.mass * standardGravity;
    anyCooling_ = setup.motor.heat.toAir.coefficient != 0.0 || setup.controller.heat.toAir.coefficient != 0.0 ||
                  setup.pack.heat.toAir.coefficient != 0.0;
    double slope = setup.controller.dutyRate.value_or(std::numeric_limits<double>::infinity());
    if (setup.driving.throttleRamp > 0.0) slope = std::min(slope, 1.0 / setup.driving.throttleRamp);
    fullAt_ = std::isinf(slope) ? 0.0 : 1.0 / slope;
}

void Model::rates(const State& y, const Regime& regime, const Solution& s, State& d) const {
    const double speed = regime.moving ? y[V] : 0.0;
    d[X] = speed;
    d[V] = regime.moving ? s.acceleration : 0.0;
    d[Z] = -s.packCurrent * perCapacity_;
    d[U1] = s.packCurrent * perRcCapacitance_ - y[U1] * rcRate_;
    const double flow = anyCooling_ && speed > 0.0 ? std::pow(speed, 0.8) : 0.0;
    const double air = setup_->strip.airTemperature;
    const auto lost = [air, flow](double t, double perResistance, const AirCooling& a) {
        return (t - air) * (1.0 + a.coefficient * flow) * perResistance;
    };
    const Motor& m = setup_->motor;
    const Controller& c = setup_->controller;
    const double current2 = s.motorCurrent * s.motorCurrent;
    const double across = (y[TW] - y[TH]) * windingToCase_;
    d[TW] = (current2 * s.motorResistance + m.ironLossToWinding * s.ironLoss +
             setup_->driving.brakeHeatFraction * s.brake * speed - across) *
            perWinding_;
    d[TH] = ((1.0 - m.ironLossToWinding) * s.ironLoss + across - lost(y[TH], caseToAir_, m.heat.toAir)) * perCase_;
    const double switching = chopping(regime) ? s.packVoltage * s.motorCurrent * switchingFactor_ : 0.0;
    d[TC] =
        (current2 * c.resistance + switching + c.idle - lost(y[TC], controllerToAir_, c.heat.toAir)) * perController_;
    d[TP] = (s.packCurrent * s.packCurrent * s.cellsResistance + y[U1] * y[U1] * perRcResistance_ -
             lost(y[TP], packToAir_, setup_->pack.heat.toAir)) *
            perPack_;
    d[WH] = s.packVoltage * s.packCurrent;
}

} // namespace rw::pass
