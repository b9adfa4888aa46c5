// Where the pass is driven: air, wind, venue. Usual values: common practice.
#include "core/physics/air.h"
#include "core/plan/plan_field_builder.h"

namespace rw {

using Input = PlanInput;

namespace {

std::optional<double> airTemperature(const PlanInput& input) { return input.air.temperature_C; }

} // namespace

std::vector<PlanField> weatherFields() {
    return {
        field<&Input::air, &Input::AirInput::temperature_C>(
            {"air", "temperature_C", "air temperature", Temperature}, byDefault, temperatures, {5, 35, within(1)},
            {"Temperature of the air over the strip; it sets air density and what the motor, controller and pack cool "
             "against.",
             "On a day fit for running.",
             "Thermometer in the shade at the height of the car, away from warm asphalt."}),
        field<&Input::air, &Input::AirInput::pressure_Pa>(
            {"air", "pressure_Pa", "station pressure", Pressure},
            derived("from the elevation",
                    [](const PlanInput& i) -> std::optional<double> { return standardPressure(i.air.elevation_m); }),
            {50000.0, 110000.0, false}, {85000, 104000, within(200)},
            {"Air pressure at the strip itself, not reduced to sea level; where given it wins over the elevation.",
             "The upper end near sea level; an eighth less for every kilometre up.",
             "Barometer of a phone or weather meter set to station (absolute) pressure."}),
        field<&Input::air, &Input::AirInput::elevation_m>(
            {"air", "elevation_m", "elevation", Distance}, byDefault, {-500.0, 5000.0, false}, {0, 500, within(10)},
            {"Height of the strip above sea level, used for the pressure of the standard atmosphere where none is "
             "given.",
             "", "Read it off a map or a position receiver."}),
        field<&Input::air, &Input::AirInput::relative_humidity>(
            {"air", "relative_humidity", "relative humidity", Share}, byDefault, fraction, {0.3, 0.8, within(0.05)},
            {"Share of the water vapour that the air could hold; moist air is slightly thinner.",
             "It moves the density by less than a hundredth.", "Weather meter or the nearest weather station."}),
        field<&Input::wind, &Input::WindInput::speed_mps>(
            {"wind", "speed_mps", "wind speed", Speed}, byDefault, {0.0, 30.0, false}, {0, 3, within(0.5)},
            {"Speed of the wind at the height of the car.",
             "Calm for attempts; at bumper height often half of what stations report.",
             "Hand-held wind meter close to the ground, averaged over a minute."}),
        field<&Input::wind, &Input::WindInput::from_deg>(
            {"wind", "from_deg", "wind from", Angle}, byDefault, anyNumber, {0, 360, within(15)},
            {"Direction that the wind blows from, clockwise from north, as weather reports give it.",
             "Compared with the heading: equal is a pure head wind, half a turn apart a pure tail wind.",
             "Ribbon and compass, averaged over a minute."}),
    };
}

std::vector<PlanField> venueFields() {
    return {
        field<&Input::venue, &Input::VenueInput::length_m>(
            {"venue", "length_m", "strip length", Distance}, required, lengths, {150, 1500, share(0.003)},
            {"Whole length that is safe to use, from the start line to where the car must stand.", "",
             "Measuring wheel, or two positions on the ellipsoid; leave out the part you would not drive on."}),
        field<&Input::venue, &Input::VenueInput::run_up_m>(
            {"venue", "run_up_m", "run-up", Distance}, required, lengths, {30, 800, share(0.003)},
            {"Distance from standing start to the entry of the timed zone.", "Longer for tall gearing and low grip.",
             "Measuring wheel from start line to the first cone."}),
        field<&Input::venue, &Input::VenueInput::timed_m>(
            {"venue", "timed_m", "timed zone", Distance}, required, lengths, {10, 100, share(0.001)},
            {"Length of the zone over which the mean speed counts.", "The rules of the event set it.",
             "Tape measure between the timing lines."}),
        field<&Input::venue, &Input::VenueInput::grade>(
            {"venue", "grade", "grade", Grade}, byDefault, {-0.2, 0.2, false}, {-0.01, 0.01, within(0.001)},
            {"Rise over run in the direction driven; uphill is positive.",
             "Roads drain to the sides and are seldom level along.",
             "Level or phone inclinometer on a two-metre batten at several places, averaged."}),
        field<&Input::venue, &Input::VenueInput::heading_deg>(
            {"venue", "heading_deg", "heading", Angle}, byDefault, anyNumber, {0, 360, within(5)},
            {"Direction driven, clockwise from north; only its difference to the wind matters.",
             "Whatever the strip has; the return pass is half a turn further.", "Compass or map."}),
        field<&Input::venue, &Input::VenueInput::friction>(
            {"venue", "friction", "grip (friction coefficient)", Number}, required, {0.05, 2.5, false},
            {0.6, 1.8, share(0.05)},
            {"Largest tyre force as a share of the load on the tyre, for this tyre on this surface.",
             "Low on dust or damp, high for soft rubber on clean dry asphalt.",
             "Pull the car sideways with its wheels locked by a spring scale: force over weight; or from a "
             "traction-limited launch."}),
    };
}

std::vector<PlanField> driveFields() {
    return {
        field<&Input::start, &Input::StartInput::motor_C>({"start", "motor_C", "motor at the start", Temperature},
                                                          derived("air temperature", airTemperature), temperatures,
                                                          {5, 60, within(2)},
                                                          {"Temperature of winding and case when the throttle opens.",
                                                           "Air temperature for the first pass, more after a warm-up.",
                                                           "Infrared thermometer on the can, or the logged sensor."}),
        field<&Input::start, &Input::StartInput::controller_C>(
            {"start", "controller_C", "controller at the start", Temperature},
            derived("air temperature", airTemperature), temperatures, {5, 45, within(2)},
            {"Temperature of the controller when the throttle opens.",
             "Air temperature for the first pass, more after a warm-up.",
             "The controller's own telemetry before the pass."}),
        field<&Input::start, &Input::StartInput::pack_C>(
            {"start", "pack_C", "pack at the start", Temperature}, derived("air temperature", airTemperature),
            temperatures, {5, 45, within(2)},
            {"Temperature of the cells when the throttle opens; warm cells have less resistance.",
             "Air temperature, or what the warming box holds.", "Probe between two cells."}),
        field<&Input::drive, &Input::DriveInput::throttle_ramp_s>(
            {"drive", "throttle_ramp_s", "throttle ramp", Time}, byDefault, notNegative, {0.5, 3, within(0.05)},
            {"Time over which the driver opens the throttle from zero to full; 0 is full at once.",
             "Longer for powerful cars on poor grip.", "Read it off a log of the throttle channel."}),
        field<&Input::drive, &Input::DriveInput::reaction_s>(
            {"drive", "reaction_s", "reaction time", Time}, byDefault, notNegative, {0.2, 0.5, within(0.05)},
            {"Coasting time between closing the throttle at the zone's exit and the first braking.",
             "More where the driver stands far away.", "From a log: throttle closed to brake applied."}),
        field<&Input::drive, &Input::DriveInput::brake_weight_fraction>(
            {"drive", "brake_weight_fraction", "brake force", WeightShare}, byDefault, notNegative,
            {0.2, 0.5, within(0.03)},
            {"Braking force as a share of the car's weight; the grip of the driven axle limits what arrives.",
             "More unsettles a long car.", "Deceleration from a log in units of g, less what drag takes."}),
        field<&Input::drive, &Input::DriveInput::brake_heat_fraction>(
            {"drive", "brake_heat_fraction", "brake heat into the motor", Share}, byDefault, fraction,
            {0, 0.3, within(0.05)},
            {"Share of the braking power that heats the motor's winding.",
             "None with mechanical brakes; some where the controller brakes through the motor.",
             "Compare the soak of a braked stop with that of a coasted one."}),
        field<&Input::drive, &Input::DriveInput::target_mps>(
            {"drive", "target_mps", "target speed", Speed}, noneByDefault, notNegative, {15, 80, exact},
            {"Mean speed through the timed zone that the plan is for.",
             "A step of at most a seventh over what the car has proven.", "Your choice."}),
        field<&Input::drive, &Input::DriveInput::turn_around_s>(
            {"drive", "turn_around_s", "wait between passes", Time}, byDefault, notNegative, {60, 600, share(0.02)},
            {"Standing time between the end of one pass and the start of the next, controller switched on.", "",
             "Stopwatch on a normal day, inspection of the tyres included."}),
        field<&Input::drive, &Input::DriveInput::passes>(
            {"drive", "passes", "passes in a row", Number}, byDefault, {1.0, 100.0, false}, {1, 4, exact},
            {"How many passes are driven one after the other, the wait between them.", "On one charge.",
             "Your choice."}),
    };
}

} // namespace rw
