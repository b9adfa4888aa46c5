// The groups of the panel, in the order of screens and habit, and labels short enough for its column.
#include "app/desktop/shared/field_view.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>
#include <initializer_list>
#include <string_view>

namespace rw {

namespace {

struct ShortName {
    std::string_view key;
    const char* label;
};

constexpr std::array shortNames{
    ShortName{"air.temperature_C", "air"},
    ShortName{"air.pressure_Pa", "pressure"},
    ShortName{"air.relative_humidity", "humidity"},
    ShortName{"wind.speed_mps", "wind"},
    ShortName{"venue.heading_deg", "strip heading"},
    ShortName{"venue.friction", "grip"},
    ShortName{"start.motor_C", "at the start"},
    ShortName{"start.controller_C", "at the start"},
    ShortName{"start.pack_C", "at the start"},
    ShortName{"drive.brake_heat_fraction", "brake heat to motor"},
    ShortName{"vehicle.cg_behind_front_m", "CG behind front axle"},
    ShortName{"vehicle.cg_height_m", "CG height"},
    ShortName{"vehicle.drag_area_m2", "drag area"},
    ShortName{"vehicle.drag_height_m", "height of drag"},
    ShortName{"vehicle.lift_area_front_m2", "lift area, front"},
    ShortName{"vehicle.lift_area_rear_m2", "lift area, rear"},
    ShortName{"vehicle.rolling_c2_s2pm2", "rolling, growth"},
    ShortName{"vehicle.internal_ratio", "fixed ratio"},
    ShortName{"vehicle.driveline_efficiency", "driveline efficiency"},
    ShortName{"vehicle.drag_torque_Nm", "driveline drag"},
    ShortName{"vehicle.wheel_inertia_kgm2", "wheel inertia, all"},
    ShortName{"vehicle.mesh_min_m", "gear distance from"},
    ShortName{"vehicle.mesh_max_m", "gear distance to"},
    ShortName{"tyre.radius_m", "radius"},
    ShortName{"tyre.growth", "largest growth"},
    ShortName{"tyre.growth_half_speed_radps", "half growth at"},
    ShortName{"tyre.max_speed_radps", "rated speed"},
    ShortName{"gears.module_m", "module"},
    ShortName{"gears.pinion_teeth", "pinion"},
    ShortName{"gears.spur_teeth", "spur"},
    ShortName{"motor.resistance_ohm", "resistance"},
    ShortName{"motor.no_load_voltage_V", "no-load test at"},
    ShortName{"motor.timing_deg", "timing"},
    ShortName{"motor.max_speed_rpm", "highest speed"},
    ShortName{"motor.winding_capacity_JpK", "winding heat capacity"},
    ShortName{"motor.case_capacity_JpK", "case heat capacity"},
    ShortName{"motor.winding_case_KpW", "winding to case"},
    ShortName{"motor.case_air_KpW", "case to air"},
    ShortName{"motor.iron_loss_to_winding", "iron loss in winding"},
    ShortName{"motor.comfort_C", "case, comfort"},
    ShortName{"motor.limit_C", "case, limit"},
    ShortName{"motor.winding_limit_C", "winding, limit"},
    ShortName{"controller.resistance_ohm", "resistance"},
    ShortName{"controller.endpoint", "endpoint"},
    ShortName{"controller.rate_per_s", "throttle rate"},
    ShortName{"controller.aux_current_A", "receiver and servo"},
    ShortName{"controller.cutoff.cell_V", "cutoff, per cell"},
    ShortName{"controller.input_esr_ohm", "capacitor resistance"},
    ShortName{"controller.case_air_KpW", "heat to air"},
    ShortName{"controller.comfort_C", "comfort"},
    ShortName{"controller.limit_C", "limit"},
    ShortName{"controller.max_electrical_rpm", "electrical speed"},
    ShortName{"pack.cell_resistance_ohm", "cell resistance"},
    ShortName{"pack.cell_resistance_B_K", "resistance B value"},
    ShortName{"pack.rc_resistance_ohm", "slow resistance"},
    ShortName{"pack.rc_capacitance_F", "slow capacitance"},
    ShortName{"pack.ocv", "open-circuit table"},
    ShortName{"pack.charge", "charge"},
    ShortName{"pack.continuous_c_rate", "continuous rate"},
    ShortName{"pack.burst_c_rate", "burst rate"},
    ShortName{"pack.case_air_KpW", "heat to air"},
    ShortName{"pack.comfort_C", "comfort"},
    ShortName{"pack.limit_C", "limit"},
};

struct GroupPlan {
    const char* name;
    const char* title;
    std::initializer_list<std::string_view> groups; // of the document
    std::initializer_list<std::string_view> first;  // keys always in view
};

const std::initializer_list<GroupPlan> plan{
    {"course",
     QT_TRANSLATE_NOOP("groups", "Air and venue"),
     {"air", "wind", "venue"},
     {"air.temperature_C", "air.pressure_Pa", "wind.speed_mps", "wind.from_deg", "venue.run_up_m", "venue.timed_m",
      "venue.length_m", "venue.friction"}},
    {"vehicle",
     QT_TRANSLATE_NOOP("groups", "Vehicle"),
     {"vehicle"},
     {"vehicle.mass_kg", "vehicle.drag_area_m2", "vehicle.lift_area_front_m2", "vehicle.driven"}},
    {"tyre", QT_TRANSLATE_NOOP("groups", "Tyre"), {"tyre"}, {"tyre.radius_m", "tyre.growth", "tyre.max_speed_radps"}},
    {"gearing",
     QT_TRANSLATE_NOOP("groups", "Gearing"),
     {"gears"},
     {"gears.pinion_teeth", "gears.spur_teeth", "vehicle.internal_ratio"}},
    {"motor",
     QT_TRANSLATE_NOOP("groups", "Motor"),
     {"motor"},
     {"motor.kv_rpm_per_V", "motor.resistance_ohm", "motor.timing_deg", "start.motor_C"}},
    {"controller",
     QT_TRANSLATE_NOOP("groups", "Controller"),
     {"controller", "controller.cutoff"},
     {"controller.endpoint", "controller.cutoff.mode", "controller.cutoff.cell_V", "controller.pack_current_limit_A"}},
    {"pack",
     QT_TRANSLATE_NOOP("groups", "Pack"),
     {"pack"},
     {"pack.series", "pack.capacity_Ah", "pack.cell_resistance_ohm", "pack.charge", "start.pack_C"}},
    {"drive",
     QT_TRANSLATE_NOOP("groups", "Drive"),
     {"drive", "start"},
     {"drive.target_mps", "drive.passes", "drive.turn_around_s", "drive.brake_weight_fraction"}},
};

// Moved beside what they belong to for a person.
std::string_view homeOf(std::string_view key, std::string_view group) {
    if (key == "start.controller_C") return "controller";
    if (key == "vehicle.mesh_min_m" || key == "vehicle.mesh_max_m") return "gears";
    return group;
}

std::vector<FieldGroup> makeGroups() {
    std::vector<FieldGroup> groups;
    const auto first = [](std::string_view key) {
        return std::any_of(plan.begin(), plan.end(), [key](const GroupPlan& row) {
            return std::find(row.first.begin(), row.first.end(), key) != row.first.end();
        });
    };
    for (const GroupPlan& row : plan) {
        FieldGroup group;
        group.name = QLatin1String(row.name);
        group.title = QCoreApplication::translate("groups", row.title);
        for (const std::string_view key : row.first)
            if (const PlanField* field = findPlanField(key)) group.fields.push_back(field);
        for (const PlanField& field : planFields()) {
            const std::string key = field.key();
            const std::string_view home = homeOf(key, field.group);
            if (!first(key) && std::find(row.groups.begin(), row.groups.end(), home) != row.groups.end())
                group.more.push_back(&field);
        }
        groups.push_back(std::move(group));
    }
    return groups;
}

} // namespace

const std::vector<FieldGroup>& fieldGroups() {
    static const std::vector<FieldGroup> groups = makeGroups();
    return groups;
}

QString fieldLabel(const PlanField& field) {
    const std::string key = field.key();
    for (const ShortName& row : shortNames)
        if (row.key == key) return QCoreApplication::translate("fields", row.label);
    return QString::fromUtf8(field.label);
}

} // namespace rw
