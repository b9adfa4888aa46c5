// The car itself: chassis, tyre, gears. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

#include <array>

namespace rw {

using Input = PlanInput;
using Vehicle = PlanInput::VehicleInput;
using TyreIn = PlanInput::TyreInput;
using GearsIn = PlanInput::GearsInput;

namespace {

constexpr std::array<std::string_view, 3> axles{"front", "rear", "all"}; // in the order of DrivenAxle

} // namespace

std::vector<PlanField> bodyFields() {
    return {
        field<&Input::vehicle, &Vehicle::mass_kg>(
            {"vehicle", "mass_kg", "mass", Mass}, required, {0.1, 60.0, false}, {0.8, 12, share(0.002)},
            {"Mass ready to run, with pack, body and ballast.",
             "Light cars at the lower end, streamliners above large cars.", "Kitchen or luggage scale."}),
        field<&Input::vehicle, &Vehicle::wheelbase_m>(
            {"vehicle", "wheelbase_m", "wheelbase", Length}, required, lengths, {0.18, 0.6, within(0.001)},
            {"Distance between the front and the rear axle.", "Streamliners are the longest.",
             "Ruler between the axle centres."}),
        field<&Input::vehicle, &Vehicle::cg_behind_front_m>(
            {"vehicle", "cg_behind_front_m", "centre of gravity behind the front axle", Length}, required, lengths,
            {0.08, 0.36, share(0.01)},
            {"How far behind the front axle the centre of gravity lies; not over the wheelbase.",
             "Half of the wheelbase or a little more; further forward keeps the nose down.",
             "Weigh both axles: rear weight over total weight, times the wheelbase."}),
        field<&Input::vehicle, &Vehicle::cg_height_m>(
            {"vehicle", "cg_height_m", "height of the centre of gravity", Length}, required, heights,
            {0.02, 0.08, share(0.10)},
            {"Height of the centre of gravity above the ground; it moves load to the rear under power.", "",
             "Tilt the car sideways to its balance point, or estimate from where pack and motor lie."}),
        choiceField<&Input::vehicle, &Vehicle::driven>(
            {"vehicle", "driven", "driven axle", Number}, required, axles,
            {"Which axle carries the drive: front, rear, or all (both, rigidly coupled).",
             "Rear for light cars, all for heavy ones.", "Look at the drive train."}),
        field<&Input::vehicle, &Vehicle::drag_area_m2>(
            {"vehicle", "drag_area_m2", "drag area (Cd·A)", Area}, required, notNegative, {0.001, 0.08, share(0.08)},
            {"Drag coefficient times frontal area: what the air has to push aside.",
             "Small for a slick streamliner, large for trucks and open bodies.",
             "Coast-down from speed on a still day, or from the top speed of a pass with known power."}),
        field<&Input::vehicle, &Vehicle::drag_height_m>(
            {"vehicle", "drag_height_m", "height at which drag acts", Length},
            derived("height of the centre of gravity",
                    [](const PlanInput& i) -> std::optional<double> { return i.vehicle.cg_height_m; }),
            heights, {0.02, 0.13, share(0.15)},
            {"Height of the centre of the drag force; a high body lightens the front axle at speed.",
             "Half the height of the body.", "Middle of the frontal area in a photo from the front."}),
        field<&Input::vehicle, &Vehicle::lift_area_front_m2>(
            {"vehicle", "lift_area_front_m2", "lift area, front axle", Area}, byDefault, anyNumber,
            {-0.01, 0.01, within(0.002)},
            {"Lift coefficient times area on the front axle; upwards is positive, downforce negative.",
             "A body that takes air under the nose lifts.",
             "Suspension travel or axle scale in a wind flow; else leave 0 and keep the front load margin wide."}),
        field<&Input::vehicle, &Vehicle::lift_area_rear_m2>(
            {"vehicle", "lift_area_rear_m2", "lift area, rear axle", Area}, byDefault, anyNumber,
            {-0.02, 0.01, within(0.002)},
            {"Lift coefficient times area on the rear axle; upwards is positive, downforce negative.",
             "A rear wing or splitter presses.", "As for the front axle."}),
    };
}

std::vector<PlanField> drivelineFields() {
    return {
        field<&Input::vehicle, &Vehicle::rolling_c0>(
            {"vehicle", "rolling_c0", "rolling resistance", Number}, required, notNegative, {0.015, 0.05, share(0.10)},
            {"Rolling resistance as a share of the load on the tyres, at walking pace.",
             "Rubber on asphalt in the lower half, foam above.",
             "Pull the free-rolling car with a spring scale: force over weight."}),
        field<&Input::vehicle, &Vehicle::rolling_c2_s2pm2>(
            {"vehicle", "rolling_c2_s2pm2", "growth of rolling resistance", RollingGrowth}, byDefault, notNegative,
            {0, 1e-5, within(2e-6)},
            {"Growth of the rolling resistance with the square of speed.", "",
             "Only from coast-downs at several speeds; 0 is a fair start."}),
        field<&Input::vehicle, &Vehicle::internal_ratio>(
            {"vehicle", "internal_ratio", "internal ratio", Number}, required, overZero, {1, 4.5, share(0.001)},
            {"Product of every fixed stage after the spur gear; 1 for a direct spur on the axle.",
             "1 for direct drive, more with a differential stage.",
             "Turn the spur once and count turns of the wheel, or the maker's sheet."}),
        field<&Input::vehicle, &Vehicle::driveline_efficiency>(
            {"vehicle", "driveline_efficiency", "driveline efficiency", Share}, required, fractionOverZero,
            {0.85, 0.98, within(0.01)},
            {"Share of the motor's torque that arrives at the wheels.",
             "One spur stage at the upper end, all-wheel drive lower.",
             "From the power balance of a logged pass; new bearings and clean grease help."}),
        field<&Input::vehicle, &Vehicle::drag_torque_Nm>(
            {"vehicle", "drag_torque_Nm", "drag torque of the driveline", Torque}, byDefault, notNegative,
            {0, 0.05, within(0.003)},
            {"Constant torque at the wheels that bearings and seals take.", "",
             "Thread and small weights on a wheel's rim until it just keeps turning."}),
        field<&Input::vehicle, &Vehicle::wheel_inertia_kgm2>(
            {"vehicle", "wheel_inertia_kgm2", "inertia of all wheels", Inertia}, byDefault, notNegative,
            {2e-5, 3e-3, share(0.10)},
            {"Moment of inertia of all wheels with what turns at their speed, together.", "",
             "About 0.7 of wheel mass times radius squared, for each wheel."}),
        field<&Input::vehicle, &Vehicle::mesh_min_m>(
            {"vehicle", "mesh_min_m", "smallest gear distance", Length}, byDefault, heights,
            {0.015, 0.04, within(1e-4)},
            {"Smallest distance of motor shaft and spur axis that the motor mount allows.", "",
             "Caliper with the motor slid fully in."}),
        field<&Input::vehicle, &Vehicle::mesh_max_m>(
            {"vehicle", "mesh_max_m", "largest gear distance", Length}, byDefault, lengths, {0.02, 0.06, within(1e-4)},
            {"Largest distance of motor shaft and spur axis that the motor mount allows.",
             "A little more than the smallest.", "Caliper with the motor slid fully out."}),
    };
}

std::vector<PlanField> tyreFields() {
    return {
        field<&Input::tyre, &TyreIn::radius_m>({"tyre", "radius_m", "tyre radius", Length}, required, lengths,
                                               {0.025, 0.065, share(0.003)},
                                               {"Radius of the driven tyre standing under load.", "",
                                                "Roll the loaded car ten turns of the wheel: distance over 10·2π."}),
        field<&Input::tyre, &TyreIn::growth>(
            {"tyre", "growth", "largest tyre growth", Share}, byDefault, notNegative, {0, 0.3, within(0.01)},
            {"Largest growth of the radius under spin, as a share of it.",
             "None for belted or foam, much for soft rubber.",
             "High-speed video or a strobe against a scale; gluing and belts reduce it."}),
        field<&Input::tyre, &TyreIn::growth_half_speed_radps>(
            {"tyre", "growth_half_speed_radps", "wheel speed at half the growth", AngularSpeed}, byDefault, overZero,
            {500, 1500, share(0.15)},
            {"Wheel speed at which half of the largest growth is reached.", "", "From the growth at two speeds."}),
        field<&Input::tyre, &TyreIn::slip_stiffness>(
            {"tyre", "slip_stiffness", "slip stiffness", PerSlip}, required, overZero, {10, 25, share(0.10)},
            {"Tyre force per newton of load and unit of slip, for small slip.", "",
             "Wheel speed against measured speed while accelerating on a log; 15 is a fair start."}),
        field<&Input::tyre, &TyreIn::max_speed_radps>(
            {"tyre", "max_speed_radps", "rated wheel speed", AngularSpeed}, noneByDefault, notNegative,
            {1000, 2500, share(0.05)},
            {"Highest wheel speed that the tyre and its wheel are rated or tested for.", "",
             "The maker's speed rating over the radius; without one keep well below what you have tested behind a "
             "guard."}),
    };
}

std::vector<PlanField> gearFields() {
    return {
        field<&Input::gears, &GearsIn::module_m>(
            {"gears", "module_m", "gear module", ToothSize}, required, lengths, {0.0004, 0.0015, share(0.001)},
            {"Tooth size: pitch diameter over number of teeth.", "",
             "Stamped on the gear; of pitch P (teeth per inch of diameter) it is one inch over P."}),
        field<&Input::gears, &GearsIn::pinion_teeth>({"gears", "pinion_teeth", "pinion teeth", Teeth}, required, teeth,
                                                     {10, 50, exact},
                                                     {"Teeth of the pinion that is fitted.", "", "Count them."}),
        field<&Input::gears, &GearsIn::spur_teeth>({"gears", "spur_teeth", "spur teeth", Teeth}, required, teeth,
                                                   {30, 90, exact},
                                                   {"Teeth of the spur gear that is fitted.", "", "Count them."}),
        listField<&Input::gears, &GearsIn::pinions>(
            {"gears", "pinions", "pinions at hand", Teeth},
            derived("the fitted pinion",
                    [](const PlanInput& i) -> std::optional<double> { return i.gears.pinion_teeth; }),
            teeth, {10, 50, exact},
            {"Teeth of every pinion that you own; the gear table tries them all.", "Five to fifteen gears.",
             "Your gear box."}),
        listField<&Input::gears, &GearsIn::spurs>(
            {"gears", "spurs", "spurs at hand", Teeth},
            derived("the fitted spur", [](const PlanInput& i) -> std::optional<double> { return i.gears.spur_teeth; }),
            teeth, {30, 90, exact}, {"Teeth of every spur gear that you own.", "One to five gears.", "Your gear box."}),
    };
}

} // namespace rw
