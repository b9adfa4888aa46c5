#include "storage/sample_garage.h"

#include "core/log/import.h"
#include "core/plan/plan.h"
#include "core/plan/plan_json.h"
#include "samples/generate/cars.h"
#include "samples/generate/generate.h"
#include "storage/log_judging.h"
#include "storage/sample_season.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace rw {

namespace {

using sample::Car;
using sample::Day;

constexpr const char* invented =
    "Invented, like everything in this garage: nothing here is a real car, maker, person or place.";

struct CarState {
    Id setup{ItemKind::Setup, 0};
    std::vector<Id> packs;
    std::vector<int> carried; // passes that each pack has carried
};

class Season {
public:
    Season(Garage& garage, std::string& clock)
        : garage_(garage)
        , clock_(clock) {}
    void addCars();
    void addShelf();
    void addDay(const Day& day, std::uint64_t seed);
    void addPlans();
    void addFits() { sample::addFits(garage_, garage_.setup(cars_[Car::Heron].setup).vehicle, airfield_); }

private:
    void addCar(Car car, const PlanInput& plan, const PlanParts& names, const char* description,
                const char* secondPack);
    void addWheels(const PlanInput& plan);
    void describe(Id part, const char* description);
    void measure(Id part);
    Id reviseFor(const Day& day);
    Id addOuting(const Day& day, Id setup);
    generate::Scenario scenario(const Day& day, const PlanInput& plan);
    void addLog(const Day& day, Id setup, Id outing, std::uint64_t seed);

    Garage& garage_;
    std::string& clock_;
    std::map<Car, CarState> cars_;
    [[nodiscard]] Id venueOf(const Day& day) const;
    void addMainDay(generate::Scenario& scenario, const Day& day);

    Id strip_{ItemKind::Venue, 0}, airfield_{ItemKind::Venue, 0}, taxiway_{ItemKind::Venue, 0};
};

void Season::describe(Id id, const char* description) {
    Part part = garage_.part(id);
    part.description = description;
    part.notes = invented;
    garage_.update(part);
}

// Where a season leaves the numbers: some measured, some from a sheet, some guessed. Shares: common practice for such
// means, from memory. Every note says that it is invented.
struct Known {
    std::string_view key;
    double share;    // standard uncertainty as a share of the value
    double absolute; // and as a number of the key's unit, where the value may be 0; the larger counts
    Source source;
    const char* note;
};
constexpr Known known[] = {
    {"vehicle.mass_kg", 0.002, 0.0, Source::Measured, "invented: kitchen scale, ready to run"},
    {"vehicle.wheelbase_m", 0.003, 0.0, Source::Measured, "invented: ruler"},
    {"vehicle.cg_behind_front_m", 0.02, 0.0, Source::Measured, "invented: two scales"},
    {"vehicle.cg_height_m", 0.1, 0.0, Source::Guess, "invented: by eye"},
    {"vehicle.drag_area_m2", 0.08, 0.0, Source::Guess, "invented: to be fitted from coast-downs"},
    {"vehicle.lift_area_front_m2", 0.5, 0.001, Source::Guess, "invented: no measurement yet"},
    {"vehicle.lift_area_rear_m2", 0.5, 0.001, Source::Guess, "invented: no measurement yet"},
    {"vehicle.rolling_c0", 0.15, 0.0, Source::Guess, "invented: pulled with a spring scale once"},
    {"vehicle.wheel_inertia_kgm2", 0.15, 0.0, Source::Guess, "invented: rolled down a ramp"},
    {"vehicle.driveline_efficiency", 0.015, 0.0, Source::Guess, "invented: usual for straight-cut gears"},
    {"tyre.radius_m", 0.005, 0.0, Source::Measured, "invented: rolled five turns along a tape"},
    {"tyre.growth", 0.3, 0.0, Source::Guess, "invented: seen in one picture"},
    {"motor.mass_kg", 0.002, 0.0, Source::Measured, "invented: kitchen scale"},
    {"controller.mass_kg", 0.002, 0.0, Source::Measured, "invented: kitchen scale"},
    {"pack.mass_kg", 0.002, 0.0, Source::Measured, "invented: kitchen scale"},
    {"motor.kv_rpm_per_V", 0.02, 0.0, Source::MakersSheet, "invented: a sheet without a tolerance"},
    {"motor.resistance_ohm", 0.1, 0.0, Source::MakersSheet, "invented: a sheet without a tolerance"},
    {"motor.no_load_current_A", 0.1, 0.0, Source::Measured, "invented: clamp meter"},
    {"motor.case_capacity_JpK", 0.13, 0.0, Source::Guess, "invented: from its mass"},
    {"motor.winding_case_KpW", 0.15, 0.0, Source::Guess, "invented: usual for the size"},
    {"motor.case_air_KpW", 0.18, 0.0, Source::Guess, "invented: cooling timed once"},
    {"controller.resistance_ohm", 0.2, 0.0, Source::Guess, "invented: from the heat after a pass"},
    {"controller.capacity_JpK", 0.18, 0.0, Source::Guess, "invented: from its mass"},
    {"pack.cell_resistance_ohm", 0.1, 0.0, Source::Measured, "invented: charger's reading, warm"},
    {"pack.lead_resistance_ohm", 0.2, 0.0, Source::Guess, "invented: by length and section"},
    {"pack.rc_resistance_ohm", 0.2, 0.0, Source::Guess, "invented: from the first second of a load"},
    {"pack.capacity_Ah", 0.03, 0.0, Source::Measured, "invented: what the charger put back"},
    {"pack.charge", 0.0, 0.01, Source::Measured, "invented: from the voltage at rest"},
    {"venue.friction", 0.08, 0.0, Source::Guess, "invented: dry, swept asphalt"},
    {"air.temperature_C", 0.0, 1.0, Source::Measured, "invented: in the shade"},
    {"air.pressure_Pa", 0.0, 200.0, Source::Measured, "invented: weather station"},
    {"wind.speed_mps", 0.0, 0.5, Source::Guess, "invented: a ribbon on a stick"},
};

void Season::measure(Id id) {
    Part part = garage_.part(id);
    for (const Known& one : known) {
        const auto found = part.values.find(one.key);
        if (found == part.values.end() || !found->second.number) continue;
        found->second.uncertainty = std::max(std::abs(*found->second.number) * one.share, one.absolute);
        found->second.source = one.source;
        found->second.note = one.note;
    }
    garage_.update(part);
}

void Season::addCar(Car car, const PlanInput& plan, const PlanParts& names, const char* description,
                    const char* secondPack) {
    const PlanIds made = garage_.addSetupFromPlan(plan, names);
    Setup setup = garage_.setup(made.setup);
    for (const Id part : {setup.vehicle, setup.tyre, setup.motor, setup.controller, setup.pack, made.venue})
        measure(part);
    garage_.remove(made.setup); // made again of what is known now
    setup.id = garage_.addSetup(garage_.composeSetup(setup));
    describe(setup.vehicle, description);
    const Id second = garage_.duplicate(setup.pack, secondPack);
    for (const Id pack : {setup.pack, second})
        describe(pack, "invented pack");
    addWheels(plan);
    cars_[car] = {setup.id, {setup.pack, second}, {0, 0}};
    if (car == Car::Wren)
        strip_ = made.venue;
    else if (car == Car::Heron)
        airfield_ = made.venue;
    else
        garage_.remove(made.venue); // it runs on the airfield too
}

// What lies in the drawer: one of each wheel that the plan lists.
void Season::addWheels(const PlanInput& plan) {
    const std::vector<Part> there = garage_.parts(ItemKind::Gear);
    const auto addWheel = [&](const char* word, const std::string& key, int teeth) {
        Part gear;
        gear.id.kind = ItemKind::Gear;
        gear.name = std::string(word) + " " + std::to_string(teeth);
        gear.notes = invented;
        gear.values["gears.module_m"].number = plan.gears.module_m;
        gear.values[key].number = teeth;
        const bool atHand = std::ranges::any_of(there, [&](const Part& other) {
            return numberOf(other.values, "gears.module_m") == plan.gears.module_m &&
                   numberOf(other.values, key) == teeth;
        });
        if (!atHand) garage_.add(gear);
    };
    for (const int teeth : plan.gears.pinions)
        addWheel("pinion", "gears.pinion_teeth", teeth);
    for (const int teeth : plan.gears.spurs)
        addWheel("spur", "gears.spur_teeth", teeth);
}

// A power system of its own weight, kg, and a controller for so many cells.
PlanInput weighed(PlanInput plan, double motor, double controller, double pack, int mostCells) {
    plan.motor.mass_kg = motor;
    plan.controller.mass_kg = controller;
    plan.controller.max_cells = mostCells;
    plan.pack.mass_kg = pack;
    return plan;
}

void Season::addCars() {
    addCar(Car::Heron, weighed(generate::middleCar(), 0.43, 0.17, 0.86, 8),
           {"Heron", "Heron", "six-cell motor no. 1", "six-cell controller", "6S no. 1", "belted 92", "airfield, west",
            Source::MakersSheet},
           "six cells, all wheels driven, 4.3 kg", "6S no. 2");
    addCar(Car::Wren, weighed(generate::lightCar(), 0.21, 0.09, 0.42, 4),
           {"Wren", "Wren", "four-cell motor", "four-cell controller", "4S no. 1", "foam 62", "north strip",
            Source::MakersSheet},
           "four cells, rear axle driven, 1.9 kg", "4S no. 2");
    addCar(Car::Teal, weighed(generate::heavyCar(), 0.62, 0.24, 1.31, 8),
           {"Old Teal", "Old Teal", "eight-cell motor", "eight-cell controller", "8S no. 1", "belted 110", "airfield",
            Source::MakersSheet},
           "eight cells, all wheels driven, long", "8S no. 2");
    describe(garage_.duplicate(garage_.setup(cars_[Car::Heron].setup).motor, "six-cell motor no. 2"),
             "spare, not run yet");
    describe(strip_, "closed side road, used with permission; 400 m");
    describe(airfield_, "disused taxiway, used with permission; 400 m");
    taxiway_ = garage_.duplicate(airfield_, "airfield, whole length");
    Part whole = garage_.part(taxiway_);
    whole.values["venue.length_m"].number = 650.0;
    whole.values["venue.run_up_m"].number = 220.0;
    garage_.update(whole);
    describe(taxiway_, "the same taxiway from the fence on, used with permission; 650 m");
}

void Season::addShelf() {
    Part list;
    list.id.kind = ItemKind::Checklist;
    list.name = "Before a pass";
    list.document = "course closed, permission at hand\nspotters in place, strip clear\nfailsafe tested\nwheels and "
                    "tyres looked at\n"
                    "pack charged, warm, tied down\nstopping room walked\n";
    garage_.add(list);
    Part limits;
    limits.id.kind = ItemKind::LimitSet;
    limits.name = "Careful";
    limits.description = "below the makers' limits";
    limits.notes = invented;
    for (const auto& [key, value] : {std::pair{"motor.comfort_C", 70.0},
                                     {"motor.limit_C", 90.0},
                                     {"controller.limit_C", 90.0},
                                     {"pack.limit_C", 55.0}})
        limits.values[key].number = value;
    garage_.add(limits);
}

Id Season::reviseFor(const Day& day) {
    CarState& car = cars_[day.car];
    const auto& [reason, pinion, cutoff_V] = day.change;
    if (reason.empty()) return car.setup;
    PlanInput plan = garage_.planInput(car.setup, airfield_);
    if (pinion > 0) plan.gears.pinion_teeth = pinion;
    if (pinion > 0) plan.gears.pinions = {pinion - 2, pinion - 1, pinion, pinion + 1};
    if (cutoff_V && *cutoff_V > 0.0)
        plan.controller.cutoff.cell_V = cutoff_V;
    else if (cutoff_V)
        plan.controller.cutoff.mode = CutoffMode::Off;
    if (pinion == 0 && !cutoff_V) plan.vehicle.lift_area_front_m2 -= 0.004;
    car.setup = garage_.reviseFromPlan(car.setup, plan, std::string(reason));
    return car.setup;
}

Id Season::venueOf(const Day& day) const {
    return day.driving.mainDay ? taxiway_ : day.car == Car::Wren ? strip_ : airfield_;
}

Id Season::addOuting(const Day& day, Id setup) {
    Outing outing;
    outing.name = day.title;
    outing.date = day.date;
    outing.venue = venueOf(day);
    outing.setups = {setup};
    outing.notes = day.notes;
    outing.weather["air.temperature_C"] = {day.temperature_C, "", "°C", 1.0, Source::Measured, "in the shade"};
    outing.weather["wind.speed_mps"] = {day.wind_mps, "", "m/s", 0.5, Source::Guess, ""};
    return garage_.addOuting(outing);
}

generate::Scenario Season::scenario(const Day& day, const PlanInput& plan) {
    generate::Scenario out;
    out.name = std::string(day.date);
    out.story = "an outing of the sample garage: " + std::string(day.title);
    out.sensors.packTemperature.present = true;
    out.sensors.speed.present = true;
    CarState& car = cars_[day.car];
    const int sessions = day.driving.onePack ? 1 : 2;
    for (int i = 0; i < sessions; ++i) {
        const auto pack = static_cast<std::size_t>((day.driving.firstPack - 1 + i) % 2);
        generate::SessionPlan session;
        // What the Heron's numbers truly are lies within what its owner is unsure of: its logs can teach it.
        session.plan = day.car == Car::Heron ? generate::asItTrulyIs(plan) : plan;
        session.plan.pack.charge = day.driving.charge;
        session.plan.pack.cell_resistance_ohm *=
            (pack == 0 ? 1.0 : 1.12) * (1.0 + 0.006 * car.carried[pack]); // packs age
        session.plan.start = {day.temperature_C + 5.0 + 8.0 * i, day.temperature_C + 4.0 + 6.0 * i,
                              std::max(day.temperature_C, 28.0)};
        session.after_s = 60.0;
        for (int p = 0; p < day.driving.passesEach; ++p)
            session.passes.push_back({p == 0 ? 4.0 : day.driving.waits_s, {}});
        if (!day.driving.mainDay) session.passes.front().trouble.airborneAt = day.driving.airborneAt_s;
        out.sessions.push_back(std::move(session));
        car.carried[pack] += day.driving.passesEach;
    }
    if (day.driving.mainDay) addMainDay(out, day);
    return out;
}

// Old Teal lends its first pack, full, for the second session; three passes with short waits.
void Season::addMainDay(generate::Scenario& scenario, const Day& day) {
    CarState& teal = cars_[Car::Teal];
    generate::SessionPlan& eight = scenario.sessions.at(1);
    eight.plan.pack = garage_.planInput(teal.setup, taxiway_).pack;
    eight.plan.pack.charge = 1.0;
    eight.passes = {{4.0, {}}, {30.0, {}}, {30.0, {}}};
    eight.passes[1].trouble.airborneAt = day.driving.airborneAt_s;
    teal.carried[0] += static_cast<int>(eight.passes.size());
}

void Season::addLog(const Day& day, Id setupId, Id outing, std::uint64_t seed) {
    const Id venue = venueOf(day);
    const generate::GeneratedLog made =
        generate::generateLog(scenario(day, garage_.planInput(setupId, venue, outing)), seed);
    const CarState& car = cars_[day.car];
    LogContext context;
    context.setup = setupId;
    context.outing = outing;
    for (std::size_t i = 0; i < (day.driving.onePack ? 1U : 2U); ++i)
        context.packs.emplace_back(day.driving.mainDay && i == 1
                                       ? cars_.at(Car::Teal).packs[0]
                                       : car.packs[(static_cast<std::size_t>(day.driving.firstPack) - 1 + i) % 2]);
    const JudgedLog judged = readAndJudge(made.text, made.fileName, logJudging(garage_, context));
    LogRecord record = logRecord(packLog(made.text), judged, context);
    record.started = std::string(day.date) + "T09:30:00";
    record.notes = "A generated log: no car ever drove this.";
    // Without wind and grade there is the same as back: noted by turns, as the drivers did.
    for (std::size_t i = 0; i < record.passes.size() && day.wind_mps == 0.0; ++i)
        record.passes[i].direction = i % 2 == 0 ? Direction::There : Direction::Back;
    garage_.addLog(record);
}

void Season::addDay(const Day& day, std::uint64_t seed) {
    clock_ = std::string(day.date) + "T07:00:00Z";
    const Id setup = reviseFor(day);
    clock_ = std::string(day.date) + "T12:00:00Z";
    const Id outing = addOuting(day, setup);
    addLog(day, setup, outing, seed);
}

void Season::addPlans() {
    for (const auto& [car, state] : cars_) {
        const Id venue = car == Car::Wren ? strip_ : airfield_;
        const PlanInput input = garage_.planInput(state.setup, venue);
        StoredPlan plan;
        plan.name = garage_.setup(state.setup).name + ", next attempt";
        plan.setup = state.setup;
        plan.venue = venue;
        plan.input = writePlanInput(input);
        plan.result = planResultJson(input, simulatePlan(input));
        plan.settings = "{}";
        plan.notes = invented;
        garage_.addPlan(plan);
    }
}

} // namespace

Garage createSampleGarage(const std::string& path, const std::function<void(double)>& progress) {
    std::string clock = "2026-03-01T10:00:00Z";
    GarageOptions options;
    options.now = [&clock] { return clock; };
    Garage::create(path, options, [&](Garage& garage) {
        Season season(garage, clock);
        season.addCars();
        season.addShelf();
        std::uint64_t done = 0;
        for (const Day& day : sample::season()) {
            season.addDay(day, 1000 + done++);
            if (progress) progress(static_cast<double>(done) / static_cast<double>(sample::season().size() + 1));
        }
        season.addPlans();
        season.addFits();
    });
    return Garage::open(path);
}

} // namespace rw
