// Motor, controller, pack. Published ranges that the constants lie in stand beside each (labels_rules.h); where there
// is no source, common practice from memory.
#include "core/plan/labels_rules.h"

#include "core/units.h"

#include <cmath>
#include <numbers>

namespace rw {

namespace {

constexpr double nominalCell_V = 3.7; // lithium-polymer cell

RuleResult relative(double value, double share, std::string_view from) { return {value, share * value, from}; }

} // namespace

// Stainless and aluminium, laminations, magnets, copper and air.
RuleResult motorMassRule(const Can& can) {
    constexpr double density = 3600.0;
    return relative(density * std::numbers::pi / 4.0 * can.diameter * can.diameter * can.length, 0.15,
                    "3,600 kg/m³ × volume of the can; common practice, from memory");
}

// The same density, one and a half diameters long.
Can canOfMass(double mass) {
    constexpr double lengthOverDiameter = 1.5;
    const double unit = motorMassRule({1.0, lengthOverDiameter}).value;
    const double diameter = std::cbrt(mass / unit);
    return {diameter, lengthOverDiameter * diameter};
}

// With the same copper, resistance falls with the square of kv: R = (k / K_m)², the motor constant K_m a matter of
// size.
RuleResult windingResistanceRule(double kv_rpmPerV, double mass) {
    constexpr double motorConstant = 0.056, ofMass = 0.35; // N·m/√W, kg
    const double torquePerAmpere = rpmPerRadps / kv_rpmPerV;
    const double root = torquePerAmpere / (motorConstant * std::pow(mass / ofMass, 5.0 / 6.0));
    return relative(root * root, 0.50,
                    "(torque per ampere over motor constant)², 0.056 N·m/√W at 350 g, with the mass to the power 5/6; "
                    "winding rules, constant from memory");
}

RuleResult noLoadCurrentRule(double mass, double nominalVoltage) {
    constexpr double wattPerKilogram = 250.0;
    return relative(wattPerKilogram * mass / nominalVoltage, 0.40,
                    "0.25 W a gram of motor, at the pack's nominal voltage; common practice, from memory");
}

RuleResult rotorInertiaRule(double mass, double canDiameter) {
    const double radius = 0.28 * canDiameter;
    return relative(0.5 * 0.25 * mass * radius * radius, 0.40,
                    "a quarter of the mass as a cylinder of 0.28 can diameters radius; common practice, from memory");
}

RuleResult windingCapacityRule(double mass) {
    return relative(0.18 * mass * copperHeat, 0.15,
                    "18 % of the mass copper at 385 J/(kg K); handbooks, share from memory");
}

RuleResult motorCaseCapacityRule(double mass) {
    return relative(0.82 * mass * motorBodyHeat, 0.15,
                    "82 % of the mass at 460 J/(kg K); handbooks, share from memory");
}

// Conductance with the surface between them: mass to the power 2/3.
RuleResult windingToCaseRule(double mass) {
    return relative(0.35 * std::pow(0.35 / mass, 2.0 / 3.0), 0.50,
                    "0.35 K/W at 350 g, with the mass to the power −2/3; common practice, from memory");
}

RuleResult motorCaseToAirRule(const Can& can) {
    const double surface = std::numbers::pi * can.diameter * (can.length + 0.5 * can.diameter);
    return relative(1.0 / (motorFilm * surface), 0.40,
                    "12 W/(m² K) over the surface of the can; free convection and radiation, heat transfer texts");
}

RuleResult motorCoolingRule() {
    return relative(0.15, 0.60, "0.15, a case that some air reaches; common practice, from memory");
}

RuleResult ironLossToWindingRule() {
    return {0.5, 0.0, "half of the iron loss; common practice, from memory, not varied"};
}

RuleResult controllerResistanceRule(double continuous_A) {
    return relative(0.25e-3 * 200.0 / continuous_A, 0.50,
                    "0.25 mΩ at a rating of 200 A, inversely with the rating; common practice, from memory");
}

// 0.75 g an ampere of rating: common practice, from memory.
double controllerMass(double continuous_A) { return 0.75e-3 * continuous_A; }

RuleResult controllerCapacityRule(double mass) {
    return relative(controllerHeat * mass, 0.20, "800 J/(kg K) × its mass; common practice, from memory");
}

RuleResult controllerToAirRule(double mass, bool fan) {
    const double at150g = fan ? 1.2 : 3.0;
    return relative(at150g * 0.150 / mass, 0.50,
                    fan ? "1.2 K/W at 150 g with a fan, inversely with the mass; common practice, from memory"
                        : "3 K/W at 150 g without a fan, inversely with the mass; common practice, from memory");
}

RuleResult switchTimeRule() { return relative(0.15e-6, 0.50, "0.15 µs; data sheets of switches, from memory"); }

double nominalVoltage(int series) { return nominalCell_V * series; }

RuleResult cellResistanceRule(double cellCapacity_Ah) {
    return relative(7e-3 / cellCapacity_Ah, 0.35, "7 mΩ·Ah over the capacity of a cell; common practice, from memory");
}

RuleResult cellResistanceBRule() { return {1900.0, 0.0, "1,900 K; common practice, from memory, not varied"}; }

RuleResult leadResistanceRule() {
    return relative(1e-3, 0.50, "1 mΩ for leads and plugs; common practice, from memory");
}

RuleResult rcResistanceRule(double cellsResistance) {
    return relative(0.8 * cellsResistance, 0.50, "0.8 of the cells' resistance; common practice, from memory");
}

RuleResult rcCapacitanceRule(double rcResistance) {
    return relative(8.0 / rcResistance, 0.50, "a time constant of 8 s; common practice, from memory");
}

// 150 Wh/kg: common practice, from memory.
double packMass(double nominalVolts, double capacity_Ah) { return nominalVolts * capacity_Ah / 150.0; }

RuleResult packCapacityRule(double mass) {
    return relative(cellHeat * mass, 0.15, "1,000 J/(kg K) × its mass; Maleki et al., J. Power Sources 263 (2014) 223");
}

// A brick of sides 1 : 1 : 3 has 14 a² of surface and 3 a³ of volume.
RuleResult packToAirRule(double mass) {
    constexpr double density = 2100.0;
    const double side = std::cbrt(mass / density / 3.0);
    return relative(1.0 / (packFilm * 14.0 * side * side), 0.40,
                    "8 W/(m² K) over a brick of 2,100 kg/m³, sides 1 : 1 : 3; free convection, heat transfer texts");
}

RuleResult chargeRule() { return {1.0, 0.01, "full, within 1 %"}; }

} // namespace rw
