#include "core/plan/labels.h"

#include "core/error.h"
#include "core/plan/labels_rules.h"
#include "core/plan/plan_fields.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

class Estimator {
public:
    explicit Estimator(const LabelsInput& labels)
        : labels_(labels) {}

    LabelsPlan run();

private:
    // A label's own value; `share` is its relative standard uncertainty unless it was measured with care.
    void label(const std::string& key, std::optional<double> value, double share = 0.0,
               const std::string& from = "label");
    // What a rule gives, unless something was given beyond labels; returns what now stands in the plan.
    double rule(const std::string& key, const RuleResult& result);
    void put(LabelsValue value);

    void course();
    void chassis();
    void tyreAndGears();
    void motor();
    void controller();
    void pack();
    [[nodiscard]] double motorMass();
    [[nodiscard]] Can can(double mass) const;

    const LabelsInput& labels_;
    LabelsPlan out_;
};

void Estimator::put(LabelsValue value) {
    findPlanField(value.key)->set(out_.plan, value.value);
    if (value.uncertainty > 0.0) out_.plan.uncertainty[value.key] = value.uncertainty;
    out_.values.push_back(std::move(value));
}

void Estimator::label(const std::string& key, std::optional<double> value, double share, const std::string& from) {
    if (!value) return;
    const auto& names = measurableLabels();
    const bool measured = std::ranges::any_of(labels_.measured, [&](const std::string& name) {
        const auto found = names.find(name);
        return found != names.end() && found->second == key;
    });
    if (measured)
        put({key, *value, findPlanField(key)->measurableTo.at(*value), ValueOrigin::Measured, "measured"});
    else
        put({key, *value, share * *value, ValueOrigin::Label, from});
}

double Estimator::rule(const std::string& key, const RuleResult& result) {
    const PlanField& field = *findPlanField(key);
    if (const auto given = labels_.beyond.find(key); given != labels_.beyond.end()) {
        put({key, given->second, field.measurableTo.at(given->second), ValueOrigin::Measured, "measured"});
        return given->second;
    }
    LabelsValue value{key, result.value, result.uncertainty, ValueOrigin::Estimated, std::string(result.from)};
    if (!fieldAllows(field, value.value)) { // labels at the ends of what they may be
        constexpr double sliver = 1e-9;
        value.value = std::clamp(value.value, field.low + (field.lowOpen ? sliver : 0.0), field.high);
        value.from += "; held to what the field may be";
    }
    put(value);
    return value.value;
}

void Estimator::course() {
    const auto& venue = labels_.venue;
    label("venue.length_m", venue.length_m);
    label("venue.run_up_m", venue.run_up_m);
    label("venue.timed_m", venue.timed_m);
    label("air.elevation_m", venue.elevation_m);
    rule("venue.friction", frictionRule(*venue.surface));
    if (venue.temperature_C)
        label("air.temperature_C", venue.temperature_C);
    else
        rule("air.temperature_C", airTemperatureRule());
    label("drive.target_mps", labels_.target_mps);
}

void Estimator::chassis() {
    const auto& car = labels_.vehicle;
    const double wheelbase = *car.wheelbase_m;
    label("vehicle.mass_kg", car.mass_kg, 0.01, "label, within 1 %");
    label("vehicle.wheelbase_m", wheelbase);
    out_.plan.vehicle.driven = *car.driven;
    label("vehicle.internal_ratio", car.internal_ratio);
    label("vehicle.mesh_min_m", car.mesh_min_m);
    label("vehicle.mesh_max_m", car.mesh_max_m);
    if (car.front_axle_kg && !labels_.beyond.contains("vehicle.cg_behind_front_m")) {
        const std::string key = "vehicle.cg_behind_front_m";
        const double cg = cgFromAxles(wheelbase, *car.mass_kg, *car.front_axle_kg);
        put({key, cg, findPlanField(key)->measurableTo.at(cg), ValueOrigin::Measured, "measured: axle weights"});
    } else {
        rule("vehicle.cg_behind_front_m", cgBehindFrontRule(wheelbase));
    }
    rule("vehicle.cg_height_m", cgHeightRule(wheelbase));
    const double drag = rule("vehicle.drag_area_m2", dragAreaRule(*car.body, {*car.width_m, *car.height_m}));
    rule("vehicle.lift_area_front_m2", liftAreaRule(drag));
    rule("vehicle.lift_area_rear_m2", liftAreaRule(drag));
    rule("vehicle.rolling_c0", rollingRule(*labels_.tyre.kind));
    rule("vehicle.driveline_efficiency", drivelineEfficiencyRule(*car.internal_ratio, *car.driven));
    rule("vehicle.wheel_inertia_kgm2", wheelInertiaRule(*labels_.tyre.diameter_m));
}

void Estimator::tyreAndGears() {
    const auto& tyre = labels_.tyre;
    label("tyre.radius_m", 0.5 * *tyre.diameter_m, 0.01, "label, within 1 %");
    rule("tyre.growth", tyreGrowthRule(*tyre.kind));
    rule("tyre.slip_stiffness", slipStiffnessRule());
    label("tyre.max_speed_radps", tyre.max_speed_radps);
    const auto& gears = labels_.gears;
    const auto middle = [](const std::vector<int>& list) { return list[list.size() / 2]; };
    label("gears.module_m", gears.module_m);
    out_.plan.gears.pinions = gears.pinions, out_.plan.gears.spurs = gears.spurs;
    label("gears.pinion_teeth", gears.pinion_teeth.value_or(middle(gears.pinions)));
    label("gears.spur_teeth", gears.spur_teeth.value_or(middle(gears.spurs)));
}

double Estimator::motorMass() {
    const auto& motor = labels_.motor;
    if (motor.mass_kg) {
        label("motor.mass_kg", motor.mass_kg);
        return *motor.mass_kg;
    }
    return rule("motor.mass_kg", motorMassRule({*motor.can_diameter_m, *motor.can_length_m}));
}

// As measured; a can of which only one measure is known has the other from its mass.
Can Estimator::can(double mass) const {
    const auto& motor = labels_.motor;
    if (motor.can_diameter_m && motor.can_length_m) return {*motor.can_diameter_m, *motor.can_length_m};
    if (motor.can_diameter_m) return {*motor.can_diameter_m, mass / motorMassRule({*motor.can_diameter_m, 1.0}).value};
    if (motor.can_length_m)
        return {std::sqrt(mass / motorMassRule({1.0, *motor.can_length_m}).value), *motor.can_length_m};
    return canOfMass(mass);
}

void Estimator::motor() {
    const auto& motor = labels_.motor;
    const double mass = motorMass();
    const Can can = this->can(mass);
    const double volts = nominalVoltage(*labels_.pack.series);
    label("motor.kv_rpm_per_V", motor.kv_rpm_per_V, 0.03, "label, within 3 %");
    label("motor.poles", motor.poles);
    label("motor.timing_deg", motor.timing_deg);
    label("motor.max_speed_rpm", motor.max_speed_rpm);
    label("motor.comfort_C", motor.comfort_C);
    label("motor.limit_C", motor.limit_C);
    label("motor.winding_limit_C", motor.winding_limit_C);
    rule("motor.resistance_ohm", windingResistanceRule(*motor.kv_rpm_per_V, mass));
    rule("motor.no_load_current_A", noLoadCurrentRule(mass, volts));
    if (labels_.beyond.contains("motor.no_load_current_A")) // the voltage of that test, not of the rule
        rule("motor.no_load_voltage_V", {});
    else
        put({"motor.no_load_voltage_V", volts, 0.0, ValueOrigin::Estimated, "the pack's nominal voltage"});
    rule("motor.inertia_kgm2", rotorInertiaRule(mass, can.diameter));
    rule("motor.winding_capacity_JpK", windingCapacityRule(mass));
    rule("motor.case_capacity_JpK", motorCaseCapacityRule(mass));
    rule("motor.winding_case_KpW", windingToCaseRule(mass));
    rule("motor.case_air_KpW", motorCaseToAirRule(can));
    rule("motor.cooling_coefficient", motorCoolingRule());
    rule("motor.iron_loss_to_winding", ironLossToWindingRule());
}

void Estimator::controller() {
    const auto& controller = labels_.controller;
    const double rating = *controller.continuous_A;
    const double mass = controller.mass_kg.value_or(controllerMass(rating));
    label("controller.continuous_A", rating);
    label("controller.burst_A", controller.burst_A);
    label("controller.mass_kg", controller.mass_kg);
    label("controller.max_electrical_rpm", controller.max_electrical_rpm);
    out_.plan.controller.cutoff = controller.cutoff;
    rule("controller.resistance_ohm", controllerResistanceRule(rating));
    rule("controller.switch_time_s", switchTimeRule());
    rule("controller.capacity_JpK", controllerCapacityRule(mass));
    rule("controller.case_air_KpW", controllerToAirRule(mass, controller.fan));
}

void Estimator::pack() {
    const auto& pack = labels_.pack;
    const double mass = pack.mass_kg.value_or(packMass(nominalVoltage(*pack.series), *pack.capacity_Ah));
    label("pack.series", *pack.series);
    label("pack.parallel", pack.parallel);
    label("pack.capacity_Ah", pack.capacity_Ah);
    label("pack.continuous_c_rate", pack.continuous_c_rate);
    label("pack.burst_c_rate", pack.burst_c_rate);
    label("pack.mass_kg", pack.mass_kg);
    const double cell = rule("pack.cell_resistance_ohm", cellResistanceRule(*pack.capacity_Ah / pack.parallel));
    rule("pack.cell_resistance_B_K", cellResistanceBRule());
    rule("pack.lead_resistance_ohm", leadResistanceRule());
    const double slow = rule("pack.rc_resistance_ohm", rcResistanceRule(cell * *pack.series / pack.parallel));
    if (slow > 0.0) rule("pack.rc_capacitance_F", rcCapacitanceRule(slow));
    rule("pack.charge", chargeRule());
    rule("pack.capacity_JpK", packCapacityRule(mass));
    rule("pack.case_air_KpW", packToAirRule(mass));
}

LabelsPlan Estimator::run() {
    course();
    chassis();
    tyreAndGears();
    motor();
    controller();
    pack();
    return std::move(out_);
}

} // namespace

LabelsPlan estimatePlan(const LabelsInput& labels, const std::string& fileName) {
    checkLabels(labels, fileName);
    LabelsPlan out = Estimator(labels).run();
    checkPlanInput(out.plan, fileName);
    return out;
}

LabelsInput exampleLabels() {
    LabelsInput out;
    out.vehicle = {4.1, 0.33, 0.3, 0.135, BodyClass::Saloon, DrivenAxle::All, 2.6, 0.0, 1.0, std::nullopt};
    out.tyre = {0.1, TyreKind::Belted, std::nullopt};
    out.gears = {0.001, {25, 26, 27, 28}, {46, 50}, 27, 46};
    out.motor.kv_rpm_per_V = 2000.0, out.motor.mass_kg = 0.38, out.motor.max_speed_rpm = 60000.0;
    out.controller.continuous_A = 220.0, out.controller.cutoff = {CutoffMode::Soft, 3.2, 0.5};
    out.pack = {6, 1, 5.0, 40.0, std::nullopt, std::nullopt};
    out.venue = {650.0, 200.0, 30.0, Surface::CleanAsphalt, 0.0, 20.0};
    out.target_mps = 50.0;
    return out;
}

} // namespace rw
