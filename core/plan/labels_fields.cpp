#include "core/error.h"
#include "core/plan/labels_input.h"
#include "core/plan/plan_field_builder.h"

#include <algorithm>
#include <array>

namespace rw {

namespace {

using In = LabelsInput;
using Car = In::VehicleLabels;
using Tyre = In::TyreLabels;
using Gears = In::GearLabels;
using Motor = In::MotorLabels;
using Controller = In::ControllerLabels;
using Pack = In::PackLabels;
using Venue = In::VenueLabels;

constexpr std::array<std::string_view, 5> bodies{"streamlined", "low", "saloon", "truck", "open"};
constexpr std::array<std::string_view, 3> tyreKinds{"rubber", "foam", "belted"};
constexpr std::array<std::string_view, 4> surfaces{"clean asphalt", "dusty asphalt", "concrete", "damp"};

// A label that the plan has under the same key: its row, said once.
template<auto... Path>
LabelField asInPlan(std::string_view key) {
    return {{*findPlanField(key)}, detail::getField<Path...>, detail::setField<Path...>};
}

template<auto... Path>
LabelField listAsInPlan(std::string_view key) {
    LabelField out{{*findPlanField(key)}, nullptr, nullptr, detail::listOf<Path...>};
    out.required = true, out.defaultText = "";
    return out;
}

std::vector<LabelField> carLabels() {
    return {
        asInPlan<&In::vehicle, &Car::mass_kg>("vehicle.mass_kg"),
        asInPlan<&In::vehicle, &Car::wheelbase_m>("vehicle.wheelbase_m"),
        field<&In::vehicle, &Car::width_m>({"vehicle", "width_m", "width", Length}, required, lengths, {0.10, 0.45},
                                           {"Largest width of the body, wheels included where they stand free.",
                                            "0.15 to 0.4 m.", "Ruler across the body, seen from the front."}),
        field<&In::vehicle, &Car::height_m>({"vehicle", "height_m", "height", Length}, required, lengths, {0.05, 0.30},
                                            {"Height of the body above the ground, ready to run.", "0.06 to 0.26 m.",
                                             "Ruler beside the car on a level table."}),
        choiceField<&In::vehicle, &Car::body>(
            {"vehicle", "body", "body", Number}, required, bodies,
            {"What the body is like, which sets its drag: streamlined, low, saloon, truck, or open (no body).",
             "Low or saloon for most.", "Look at it from the side."}),
        asInPlan<&In::vehicle, &Car::driven>("vehicle.driven"),
        asInPlan<&In::vehicle, &Car::internal_ratio>("vehicle.internal_ratio"),
        asInPlan<&In::vehicle, &Car::mesh_min_m>("vehicle.mesh_min_m"),
        asInPlan<&In::vehicle, &Car::mesh_max_m>("vehicle.mesh_max_m"),
        field<&In::vehicle, &Car::front_axle_kg>(
            {"vehicle", "front_axle_kg", "weight on front axle", Mass}, derived("half of the mass"), {0.0, 60.0, false},
            {0.4, 6.0},
            {"What a scale shows under the front wheels alone, the rear wheels on a block of the same height.",
             "0.4 to 0.55 of the mass.", "Kitchen scale under the front axle, a block under the rear."}),
    };
}

std::vector<LabelField> tyreAndGearLabels() {
    return {
        field<&In::tyre, &Tyre::diameter_m>({"tyre", "diameter_m", "tyre diameter", Length}, required, lengths,
                                            {0.05, 0.13},
                                            {"Diameter of the driven tyre standing under load.", "0.06 to 0.12 m.",
                                             "Roll the loaded car ten turns of the wheel: distance over 10·π."}),
        choiceField<&In::tyre, &Tyre::kind>(
            {"tyre", "kind", "tyre", Number}, required, tyreKinds,
            {"What the tyre is made of: rubber without a belt, foam, or rubber with a belt that holds its diameter.",
             "Belted or foam for high speed.", "Written on its side or its bag."}),
        asInPlan<&In::tyre, &Tyre::max_speed_radps>("tyre.max_speed_radps"),
        asInPlan<&In::gears, &Gears::module_m>("gears.module_m"),
        listAsInPlan<&In::gears, &Gears::pinions>("gears.pinions"),
        listAsInPlan<&In::gears, &Gears::spurs>("gears.spurs"),
        asInPlan<&In::gears, &Gears::pinion_teeth>("gears.pinion_teeth"),
        asInPlan<&In::gears, &Gears::spur_teeth>("gears.spur_teeth"),
    };
}

std::vector<LabelField> motorLabels() {
    return {
        asInPlan<&In::motor, &Motor::kv_rpm_per_V>("motor.kv_rpm_per_V"),
        asInPlan<&In::motor, &Motor::poles>("motor.poles"),
        asInPlan<&In::motor, &Motor::mass_kg>("motor.mass_kg"),
        field<&In::motor, &Motor::can_diameter_m>({"motor", "can_diameter_m", "can diameter", Length},
                                                  derived("from the mass"), lengths, {0.028, 0.07},
                                                  {"Outer diameter of the motor's can.", "0.03 to 0.06 m.",
                                                   "Caliper; often in the motor's name, in millimetres."}),
        field<&In::motor, &Motor::can_length_m>({"motor", "can_length_m", "can length", Length},
                                                derived("from the mass"), lengths, {0.035, 0.11},
                                                {"Length of the motor's can without shaft.", "0.04 to 0.1 m.",
                                                 "Caliper; often in the motor's name, in millimetres."}),
        asInPlan<&In::motor, &Motor::timing_deg>("motor.timing_deg"),
        asInPlan<&In::motor, &Motor::max_speed_rpm>("motor.max_speed_rpm"),
        asInPlan<&In::motor, &Motor::comfort_C>("motor.comfort_C"),
        asInPlan<&In::motor, &Motor::limit_C>("motor.limit_C"),
        asInPlan<&In::motor, &Motor::winding_limit_C>("motor.winding_limit_C"),
    };
}

LabelField fanLabel() {
    LabelField out = field<&In::controller, &Controller::fan>(
        {"controller", "fan", "fan", Number}, byDefault, {0.0, 1.0, false}, {},
        {"Whether a fan blows on the controller.", "Most have one.", "Look at it."});
    out.kind = FieldKind::Flag;
    return out;
}

LabelField continuousLabel() {
    LabelField out = asInPlan<&In::controller, &Controller::continuous_A>("controller.continuous_A");
    out.required = true, out.nullable = false, out.defaultText = "";
    out.lowOpen = true; // its resistance and mass are estimated from it
    return out;
}

std::vector<LabelField> controllerAndPackLabels() {
    using Cutoff = PlanInput::CutoffInput;
    return {
        continuousLabel(),
        asInPlan<&In::controller, &Controller::burst_A>("controller.burst_A"),
        asInPlan<&In::controller, &Controller::mass_kg>("controller.mass_kg"),
        fanLabel(),
        asInPlan<&In::controller, &Controller::max_electrical_rpm>("controller.max_electrical_rpm"),
        asInPlan<&In::controller, &Controller::cutoff, &Cutoff::mode>("controller.cutoff.mode"),
        asInPlan<&In::controller, &Controller::cutoff, &Cutoff::cell_V>("controller.cutoff.cell_V"),
        asInPlan<&In::controller, &Controller::cutoff, &Cutoff::delay_s>("controller.cutoff.delay_s"),
        asInPlan<&In::pack, &Pack::series>("pack.series"),
        asInPlan<&In::pack, &Pack::parallel>("pack.parallel"),
        asInPlan<&In::pack, &Pack::capacity_Ah>("pack.capacity_Ah"),
        asInPlan<&In::pack, &Pack::continuous_c_rate>("pack.continuous_c_rate"),
        asInPlan<&In::pack, &Pack::burst_c_rate>("pack.burst_c_rate"),
        asInPlan<&In::pack, &Pack::mass_kg>("pack.mass_kg"),
    };
}

// The plan keeps elevation and temperature with the air; on labels they belong to the place.
template<auto... Path>
LabelField atVenue(std::string_view key) {
    LabelField out = asInPlan<&In::venue, Path...>(key);
    out.group = "venue";
    return out;
}

std::vector<LabelField> venueLabels() {
    LabelField target = asInPlan<&In::target_mps>("drive.target_mps");
    target.group = "";
    LabelField temperature = atVenue<&Venue::temperature_C>("air.temperature_C");
    temperature.nullable = true, temperature.defaultValue.reset(), temperature.defaultText = "20 °C, hardly known";
    return {
        asInPlan<&In::venue, &Venue::length_m>("venue.length_m"),
        asInPlan<&In::venue, &Venue::run_up_m>("venue.run_up_m"),
        asInPlan<&In::venue, &Venue::timed_m>("venue.timed_m"),
        choiceField<&In::venue, &Venue::surface>(
            {"venue", "surface", "surface", Number}, required, surfaces,
            {"What the strip is like, which sets the grip.", "Clean asphalt for speed.", "Look and feel."}),
        atVenue<&Venue::elevation_m>("air.elevation_m"),
        temperature,
        target,
    };
}

struct LabelTable {
    std::vector<LabelField> fields;

    LabelTable() {
        fields = joined({carLabels(), tyreAndGearLabels(), motorLabels(), controllerAndPackLabels(), venueLabels()});
        for (LabelField& field : fields) {
            const bool fitted = field.key() == "gears.pinion_teeth" || field.key() == "gears.spur_teeth";
            if (fitted) field.required = false, field.nullable = true, field.defaultText = "the middle of the list";
        }
    }
};

const LabelTable& table() {
    static const LabelTable built;
    return built;
}

std::string place(const std::string& fileName, std::string_view key) { return fileName + ": " + std::string(key); }

bool isEmpty(const LabelField& field, const LabelsInput& labels) {
    if (field.list) return field.listOf(labels).empty();
    return !field.get(labels);
}

void checkTogether(const LabelsInput& labels, const std::string& fileName) {
    const auto& car = labels.vehicle;
    if (car.front_axle_kg && car.mass_kg && *car.front_axle_kg >= *car.mass_kg)
        throw InputError(place(fileName, "vehicle.front_axle_kg"),
                         "is not under mass_kg; the front axle carries a part of the car");
    if (labels.beyond.contains("motor.no_load_current_A") && !labels.beyond.contains("motor.no_load_voltage_V"))
        throw InputError(place(fileName, "motor.no_load_voltage_V"), "missing; needed with a no_load_current_A");
}

} // namespace

std::span<const LabelField> labelFields() { return table().fields; }

const LabelField* findLabelField(std::string_view key) {
    const auto fields = labelFields();
    const auto found = std::ranges::find_if(fields, [&](const LabelField& f) { return f.key() == key; });
    return found == fields.end() ? nullptr : &*found;
}

std::span<const PlanField* const> fieldsBeyondLabels() {
    static const std::vector<const PlanField*> fields = [] {
        constexpr auto keys = std::to_array<std::string_view>({"vehicle.cg_behind_front_m",
                                                               "vehicle.cg_height_m",
                                                               "vehicle.drag_area_m2",
                                                               "vehicle.lift_area_front_m2",
                                                               "vehicle.lift_area_rear_m2",
                                                               "vehicle.rolling_c0",
                                                               "vehicle.driveline_efficiency",
                                                               "vehicle.wheel_inertia_kgm2",
                                                               "tyre.growth",
                                                               "tyre.slip_stiffness",
                                                               "venue.friction",
                                                               "motor.resistance_ohm",
                                                               "motor.no_load_current_A",
                                                               "motor.no_load_voltage_V",
                                                               "motor.inertia_kgm2",
                                                               "motor.winding_capacity_JpK",
                                                               "motor.case_capacity_JpK",
                                                               "motor.winding_case_KpW",
                                                               "motor.case_air_KpW",
                                                               "motor.cooling_coefficient",
                                                               "motor.iron_loss_to_winding",
                                                               "controller.resistance_ohm",
                                                               "controller.switch_time_s",
                                                               "controller.capacity_JpK",
                                                               "controller.case_air_KpW",
                                                               "pack.cell_resistance_ohm",
                                                               "pack.lead_resistance_ohm",
                                                               "pack.rc_resistance_ohm",
                                                               "pack.rc_capacitance_F",
                                                               "pack.charge",
                                                               "pack.capacity_JpK",
                                                               "pack.case_air_KpW"});
        std::vector<const PlanField*> out;
        for (const PlanField& field : planFields())
            if (std::ranges::find(keys, field.key()) != keys.end()) out.push_back(&field);
        return out;
    }();
    return fields;
}

const std::map<std::string, std::string>& measurableLabels() {
    static const std::map<std::string, std::string> keys{{"motor.kv_rpm_per_V", "motor.kv_rpm_per_V"},
                                                         {"vehicle.mass_kg", "vehicle.mass_kg"},
                                                         {"tyre.diameter_m", "tyre.radius_m"}};
    return keys;
}

std::vector<const LabelField*> missingLabels(const LabelsInput& labels) {
    std::vector<const LabelField*> out;
    const bool can = labels.motor.can_diameter_m && labels.motor.can_length_m;
    for (const LabelField& field : labelFields()) {
        const bool needed = (field.required && !field.nullable) || (field.key() == "motor.mass_kg" && !can);
        if (needed && isEmpty(field, labels)) out.push_back(&field);
    }
    return out;
}

void checkLabels(const LabelsInput& labels, const std::string& fileName) {
    const auto missing = missingLabels(labels);
    if (!missing.empty()) {
        const std::string motor = missing.front()->key() == "motor.mass_kg"
                                      ? "missing; give it, or can_diameter_m and can_length_m"
                                      : "missing; there is no plan without it";
        throw InputError(place(fileName, missing.front()->key()), motor);
    }
    for (const LabelField& field : labelFields()) {
        if (field.get == nullptr) continue;
        const auto value = field.get(labels);
        if (value) checkFieldValue(field, *value, place(fileName, field.key()));
    }
    for (const PlanField* field : fieldsBeyondLabels())
        if (const auto given = labels.beyond.find(field->key()); given != labels.beyond.end())
            checkFieldValue(*field, given->second, place(fileName, field->key()));
    checkTogether(labels, fileName);
}

} // namespace rw
