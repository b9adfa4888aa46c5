// Where the pass is driven: air, wind, venue. Usual values: common practice.
#include "core/plan/plan_field_builder.h"

namespace rw {

using Input = PlanInput;

namespace {

std::vector<PlanField> weatherFields() {
    return {
        field<&Input::air, &Input::AirInput::temperature_C>(
            {"air", "temperature_C", "air temperature", "°C"}, byDefault(20), temperatures,
            {"Temperature of the air over the strip; it sets air density and what the motor, controller and pack cool "
             "against.",
             "On a day fit for running.",
             "Thermometer in the shade at the height of the car, away from warm asphalt."}),
        field<&Input::air, &Input::AirInput::pressure_Pa>(
            {"air", "pressure_Pa", "station pressure", "Pa"}, derived("from the elevation"), {50000.0, 110000.0, false},
            {"Air pressure at the strip itself, not reduced to sea level; where given it wins over the elevation.",
             "The upper end near sea level; an eighth less for every kilometre up.",
             "Barometer of a phone or weather meter set to station (absolute) pressure."}),
        field<&Input::air, &Input::AirInput::elevation_m>(
            {"air", "elevation_m", "elevation", "m"}, byDefault(0), {-500.0, 5000.0, false},
            {"Height of the strip above sea level, used for the pressure of the standard atmosphere where none is "
             "given.",
             "", "Read it off a map or a position receiver."}),
        field<&Input::air, &Input::AirInput::relative_humidity>(
            {"air", "relative_humidity", "relative humidity", ""}, byDefault(0.5), fraction,
            {"Share of the water vapour that the air could hold; moist air is slightly thinner.",
             "It moves the density by less than a hundredth.", "Weather meter or the nearest weather station."}),
        field<&Input::wind, &Input::WindInput::speed_mps>(
            {"wind", "speed_mps", "wind speed", "m/s"}, byDefault(0), {0.0, 30.0, false},
            {"Speed of the wind at the height of the car.",
             "Calm for attempts; at bumper height often half of what stations report.",
             "Hand-held wind meter close to the ground, averaged over a minute."}),
        field<&Input::wind, &Input::WindInput::from_deg>(
            {"wind", "from_deg", "wind from", "°"}, byDefault(0), anyNumber,
            {"Direction that the wind blows from, clockwise from north, as weather reports give it.",
             "Compared with the heading: equal is a pure head wind, half a turn apart a pure tail wind.",
             "Ribbon and compass, averaged over a minute."}),
    };
}

std::vector<PlanField> venueFields() {
    return {
        field<&Input::venue, &Input::VenueInput::length_m>(
            {"venue", "length_m", "strip length", "m"}, required, lengths,
            {"Whole length that is safe to use, from the start line to where the car must stand.", "",
             "Measuring wheel, or two positions on the ellipsoid; leave out the part you would not drive on."}),
        field<&Input::venue, &Input::VenueInput::run_up_m>(
            {"venue", "run_up_m", "run-up", "m"}, required, lengths,
            {"Distance from standing start to the entry of the timed zone.", "Longer for tall gearing and low grip.",
             "Measuring wheel from start line to the first cone."}),
        field<&Input::venue, &Input::VenueInput::timed_m>({"venue", "timed_m", "timed zone", "m"}, required, lengths,
                                                          {"Length of the zone over which the mean speed counts.",
                                                           "The rules of the event set it.",
                                                           "Tape measure between the timing lines."}),
        field<&Input::venue, &Input::VenueInput::grade>(
            {"venue", "grade", "grade", "m/m"}, byDefault(0), {-0.2, 0.2, false},
            {"Rise over run in the direction driven; uphill is positive.",
             "Roads drain to the sides and are seldom level along.",
             "Level or phone inclinometer on a two-metre batten at several places, averaged."}),
        field<&Input::venue, &Input::VenueInput::heading_deg>(
            {"venue", "heading_deg", "heading", "°"}, byDefault(0), anyNumber,
            {"Direction driven, clockwise from north; only its difference to the wind matters.",
             "Whatever the strip has; the return pass is half a turn further.", "Compass or map."}),
        field<&Input::venue, &Input::VenueInput::friction>(
            {"venue", "friction", "grip (friction coefficient)", ""}, required, {0.05, 2.5, false},
            {"Largest tyre force as a share of the load on the tyre, for this tyre on this surface.",
             "Low on dust or damp, high for soft rubber on clean dry asphalt.",
             "Pull the car sideways with its wheels locked by a spring scale: force over weight; or from a "
             "traction-limited launch."}),
    };
}

} // namespace

std::vector<PlanField> courseFields() {
    std::vector<PlanField> out = weatherFields();
    for (const PlanField& field : venueFields())
        out.push_back(field);
    return out;
}

std::vector<PlanField> driveFields() {
    return {
        field<&Input::start, &Input::StartInput::motor_C>({"start", "motor_C", "motor at the start", "°C"},
                                                          derived("air temperature"), temperatures,
                                                          {"Temperature of winding and case when the throttle opens.",
                                                           "Air temperature for the first pass, more after a warm-up.",
                                                           "Infrared thermometer on the can, or the logged sensor."}),
        field<&Input::start, &Input::StartInput::controller_C>(
            {"start", "controller_C", "controller at the start", "°C"}, derived("air temperature"), temperatures,
            {"Temperature of the controller when the throttle opens.",
             "Air temperature for the first pass, more after a warm-up.",
             "The controller's own telemetry before the pass."}),
        field<&Input::start, &Input::StartInput::pack_C>(
            {"start", "pack_C", "pack at the start", "°C"}, derived("air temperature"), temperatures,
            {"Temperature of the cells when the throttle opens; warm cells have less resistance.",
             "Air temperature, or what the warming box holds.", "Probe between two cells."}),
        field<&Input::drive, &Input::DriveInput::throttle_ramp_s>(
            {"drive", "throttle_ramp_s", "throttle ramp", "s"}, byDefault(0.5), notNegative,
            {"Time over which the driver opens the throttle from zero to full; 0 is full at once.",
             "Longer for powerful cars on poor grip.", "Read it off a log of the throttle channel."}),
        field<&Input::drive, &Input::DriveInput::reaction_s>(
            {"drive", "reaction_s", "reaction time", "s"}, byDefault(0.3), notNegative,
            {"Coasting time between closing the throttle at the zone's exit and the first braking.",
             "More where the driver stands far away.", "From a log: throttle closed to brake applied."}),
        field<&Input::drive, &Input::DriveInput::brake_weight_fraction>(
            {"drive", "brake_weight_fraction", "brake force", "of weight"}, byDefault(0.4), notNegative,
            {"Braking force as a share of the car's weight; the grip of the driven axle limits what arrives.",
             "More unsettles a long car.", "Deceleration from a log in units of g, less what drag takes."}),
        field<&Input::drive, &Input::DriveInput::brake_heat_fraction>(
            {"drive", "brake_heat_fraction", "brake heat into the motor", ""}, byDefault(0), fraction,
            {"Share of the braking power that heats the motor's winding.",
             "None with mechanical brakes; some where the controller brakes through the motor.",
             "Compare the soak of a braked stop with that of a coasted one."}),
        field<&Input::drive, &Input::DriveInput::target_mps>(
            {"drive", "target_mps", "target speed", "m/s"}, noneByDefault, notNegative,
            {"Mean speed through the timed zone that the plan is for.",
             "A step of at most a seventh over what the car has proven.", "Your choice."}),
        field<&Input::drive, &Input::DriveInput::turn_around_s>(
            {"drive", "turn_around_s", "wait between passes", "s"}, byDefault(60), notNegative,
            {"Standing time between the end of one pass and the start of the next, controller switched on.", "",
             "Stopwatch on a normal day, inspection of the tyres included."}),
        field<&Input::drive, &Input::DriveInput::passes>(
            {"drive", "passes", "passes in a row", ""}, byDefault(1), {1.0, 100.0, false},
            {"How many passes are driven one after the other, the wait between them.", "On one charge.",
             "Your choice."}),
    };
}

} // namespace rw
