// The rules that estimate what no label says: one pure function a rule, in SI or the plan's own units, with its
// standard uncertainty and, in words, the rule and its source. A relative uncertainty of 30 % means 0.30 × value.
#pragma once

#include "core/plan/labels_input.h"

#include <string_view>

namespace rw {

struct RuleResult {
    double value = 0.0, uncertainty = 0.0; // uncertainty 0: a usual value that is not varied
    std::string_view from;                 // the rule and its source, for people
};

// Rules of the car.
struct Frontal {
    double width = 0.0, height = 0.0; // m
};
[[nodiscard]] RuleResult dragAreaRule(BodyClass body, const Frontal& frontal);           // m²
[[nodiscard]] RuleResult liftAreaRule(double dragArea);                                  // m², each axle
[[nodiscard]] RuleResult cgBehindFrontRule(double wheelbase);                            // m
[[nodiscard]] double cgFromAxles(double wheelbase, double mass, double frontAxle);       // m, from a scale
[[nodiscard]] RuleResult cgHeightRule(double wheelbase);                                 // m
[[nodiscard]] RuleResult rollingRule(TyreKind kind);                                     // 1
[[nodiscard]] RuleResult drivelineEfficiencyRule(double internalRatio, DrivenAxle axle); // 1
[[nodiscard]] RuleResult wheelInertiaRule(double tyreDiameter);                          // kg·m², all wheels
[[nodiscard]] RuleResult tyreGrowthRule(TyreKind kind);                                  // 1
[[nodiscard]] RuleResult slipStiffnessRule();                                            // N/N
[[nodiscard]] RuleResult frictionRule(Surface surface);                                  // 1
[[nodiscard]] RuleResult airTemperatureRule();                                           // °C

// Rules of the motor. Mass in kg; can in m.
struct Can {
    double diameter = 0.0, length = 0.0;
};
[[nodiscard]] RuleResult motorMassRule(const Can& can);                         // kg
[[nodiscard]] Can canOfMass(double mass);                                       // where nobody measured it
[[nodiscard]] RuleResult windingResistanceRule(double kv_rpmPerV, double mass); // ohm
[[nodiscard]] RuleResult noLoadCurrentRule(double mass, double nominalVoltage); // A, at that voltage
[[nodiscard]] RuleResult rotorInertiaRule(double mass, double canDiameter);     // kg·m²
[[nodiscard]] RuleResult windingCapacityRule(double mass);                      // J/K
[[nodiscard]] RuleResult motorCaseCapacityRule(double mass);                    // J/K
[[nodiscard]] RuleResult windingToCaseRule(double mass);                        // K/W
[[nodiscard]] RuleResult motorCaseToAirRule(const Can& can);                    // K/W, standing
[[nodiscard]] RuleResult motorCoolingRule();                                    // (s/m)^0.8
[[nodiscard]] RuleResult ironLossToWindingRule();                               // 1

// Rules of the controller.
[[nodiscard]] RuleResult controllerResistanceRule(double continuous_A); // ohm
[[nodiscard]] double controllerMass(double continuous_A);               // kg
[[nodiscard]] RuleResult controllerCapacityRule(double mass);           // J/K
[[nodiscard]] RuleResult controllerToAirRule(double mass, bool fan);    // K/W
[[nodiscard]] RuleResult switchTimeRule();                              // s

// Rules of the pack.
[[nodiscard]] double nominalVoltage(int series);                        // V
[[nodiscard]] RuleResult cellResistanceRule(double cellCapacity_Ah);    // ohm
[[nodiscard]] RuleResult cellResistanceBRule();                         // K
[[nodiscard]] RuleResult leadResistanceRule();                          // ohm
[[nodiscard]] RuleResult rcResistanceRule(double cellsResistance);      // ohm, whole pack
[[nodiscard]] RuleResult rcCapacitanceRule(double rcResistance);        // F
[[nodiscard]] double packMass(double nominalVolts, double capacity_Ah); // kg
[[nodiscard]] RuleResult packCapacityRule(double mass);                 // J/K
[[nodiscard]] RuleResult packToAirRule(double mass);                    // K/W
[[nodiscard]] RuleResult chargeRule();                                  // 1

// Constants of the rules that handbooks have, open to tests.

[[nodiscard]] double dragCoefficient(BodyClass body);

// J/(kg K): handbook values at room temperature; the motor's rest is iron with some aluminium, a controller boards,
// copper and aluminium; cells 800–1,100 in the literature (Maleki et al., J. Power Sources 263 (2014) 223).
inline constexpr double copperHeat = 385.0, motorBodyHeat = 460.0, controllerHeat = 800.0, cellHeat = 1000.0;
// W/(m² K), free convection and radiation of a standing motor and of a pack; 2–25 in gases (Çengel).
inline constexpr double motorFilm = 12.0, packFilm = 8.0;

} // namespace rw
