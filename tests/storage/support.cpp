#include "tests/storage/support.h"

#include <unistd.h>

#include <atomic>
#include <fstream>
#include <sstream>

namespace rw::test {

namespace fs = std::filesystem;

TempFolder::TempFolder() {
    static std::atomic<int> count{0};
    path_ =
        fs::temp_directory_path() / ("runwright-storage-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
    fs::create_directories(path_);
}

TempFolder::~TempFolder() {
    std::error_code ignored;
    fs::permissions(path_, fs::perms::owner_all, ignored);
    fs::remove_all(path_, ignored);
}

std::string readBytes(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

void writeBytes(const std::string& path, const std::string& bytes) {
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

PlanInput fullPlan() {
    PlanInput p;
    p.air = {21.3, 98765.4321, 123.0, 0.47};
    p.wind = {
        1.7,
        0.1 + 0.2,
    };
    p.venue = {240.0, 130.0, 20.0, -0.0, 271.5, 0.93};
    p.vehicle.mass_kg = 4.612, p.vehicle.wheelbase_m = 0.412, p.vehicle.cg_behind_front_m = 0.2091,
    p.vehicle.cg_height_m = 0.038;
    p.vehicle.driven = DrivenAxle::All;
    p.vehicle.drag_area_m2 = 0.0192, p.vehicle.drag_height_m = 0.051;
    p.vehicle.lift_area_front_m2 = 0.0031, p.vehicle.lift_area_rear_m2 = -0.012;
    p.vehicle.rolling_c0 = 0.021, p.vehicle.rolling_c2_s2pm2 = 3e-6;
    p.vehicle.internal_ratio = 2.6, p.vehicle.driveline_efficiency = 0.913, p.vehicle.drag_torque_Nm = 0.011;
    p.vehicle.wheel_inertia_kgm2 = 1.9e-4, p.vehicle.mesh_min_m = 0.021, p.vehicle.mesh_max_m = 0.052;
    p.tyre = {0.0545, 0.061, 900.0, 17.5, 1100.0};
    p.gears = {0.001, 26, 42, {24, 26, 25, 27}, {40, 42, 44}};
    p.motor.kv_rpm_per_V = 2087.0, p.motor.resistance_ohm = 0.0041, p.motor.no_load_current_A = 5.7,
    p.motor.no_load_voltage_V = 20.0;
    p.motor.timing_deg = 7.5, p.motor.inertia_kgm2 = 2.3e-5, p.motor.poles = 4, p.motor.max_speed_rpm = 60000.0;
    p.motor.winding_capacity_JpK = 55.0, p.motor.case_capacity_JpK = 180.0, p.motor.winding_case_KpW = 0.31,
    p.motor.case_air_KpW = 2.2;
    p.motor.cooling_coefficient = 0.07, p.motor.iron_loss_to_winding = 0.25;
    p.controller.resistance_ohm = 0.0009, p.controller.endpoint = 0.97, p.controller.rate_per_s = 3.5;
    p.controller.motor_current_limit_A = 320.0, p.controller.pack_current_limit_A = 260.0;
    p.controller.continuous_A = 200.0, p.controller.burst_A = 400.0;
    p.controller.cutoff = {CutoffMode::Soft, 3.4, 0.4};
    p.controller.capacity_JpK = 120.0, p.controller.case_air_KpW = 1.4, p.controller.max_electrical_rpm = 240000.0;
    p.pack.series = 6, p.pack.parallel = 2, p.pack.capacity_Ah = 5.8, p.pack.cell_resistance_ohm = 0.00214;
    p.pack.cell_resistance_B_K = 2100.0, p.pack.lead_resistance_ohm = 0.0011, p.pack.rc_resistance_ohm = 0.0009;
    p.pack.rc_capacitance_F = 2200.0, p.pack.charge = 0.985, p.pack.continuous_c_rate = 45.0,
    p.pack.burst_c_rate = 90.0;
    p.pack.ocv = {{0.0, 3.1}, {0.3333333333333333, 3.77}, {1.0, 4.19999999}};
    p.pack.capacity_JpK = 820.0, p.pack.case_air_KpW = 3.3;
    p.start = {28.0, 29.5, 38.25};
    p.drive.target_mps = 41.7, p.drive.passes = 4;
    p.uncertainty = {{"vehicle.drag_area_m2", 0.0007},
                     {"air.temperature_C", 1.5},
                     {"gears.module_m", 0.0},
                     {"motor.kv_rpm_per_V", 9.0}};
    return p;
}

std::string logText(unsigned seed, int rows) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> noise(0.0, 1.0);
    std::ostringstream out;
    out << "Time [s],Voltage [V],Current [A],Throttle [%]\n";
    for (int i = 0; i < rows; ++i)
        out << i * 0.02 << ',' << 24.0 - noise(random) << ',' << 100.0 * noise(random) << ',' << (i % 100) << '\n';
    return out.str();
}

LogRecord logRecordFor(const std::string& bytes, int passes) {
    LogRecord out;
    out.name = "day.csv";
    out.packed = packLog(bytes);
    out.rows = 200;
    out.started = "2026-11-21T14:05:09";
    out.dialect = R"({"separator":","})";
    out.review = R"({"notes":["invented"]})";
    out.sessions = {{0, 99, 2, 101, 0.0, 2.0, 6, 25.1, {}, {}}, {100, 199, 102, 201, 12.0, 2.0, {}, {}, {}, {}}};
    for (int i = 0; i < passes; ++i) {
        PassRecord pass;
        pass.session = i == 0 ? 0 : 1;
        pass.start_s = 0.5 + i, pass.end_s = 1.25 + i, pass.complete = i != 2;
        pass.figures = {{"zone_speed_mps", 40.0 + i / 7.0}, {"peak_A", 210.0 + i},
                        {"pack_ohm", 0.014 + 1e-4 * i},     {"min_cell_V", 3.3},
                        {"rpm_per_volt", 2010.5},           {"distance_m", 201.0 / 3.0}};
        pass.direction = i % 2 == 0 ? Direction::There : Direction::Back;
        out.passes.push_back(pass);
    }
    return out;
}

Filled fill(Garage& garage) {
    Filled out;
    out.plan = garage.addSetupFromPlan(fullPlan(), {"Heron fast", "Heron", "84 mm no. 1", "200 A", "6S no. 2",
                                                    "belted 109", "north strip", Source::Measured});
    Setup edited = garage.setup(out.plan.setup);
    edited.values["gears.pinion_teeth"].number = 27.0;
    out.revision = garage.revise(edited, "cutoff off leaves room for one step");
    Outing outing;
    outing.name = "Saturday", outing.date = "2026-11-21", outing.venue = out.plan.venue,
    outing.setups = {out.plan.setup, out.revision};
    outing.weather["air.temperature_C"] = {11.5, "", "°C", 0.5, Source::Measured, "shade"};
    outing.photos = {"photos/strip.jpg"}, outing.notes = "gusty after noon";
    out.outing = garage.addOuting(outing);
    const auto addPart = [&garage](ItemKind kind, const char* name, const char* document) {
        Part part;
        part.id.kind = kind, part.name = name, part.document = document;
        return garage.add(part);
    };
    out.map = addPart(ItemKind::ColumnMap, "day logger", R"({"runwright":"column-map","version":1,"columns":{}})");
    out.checklist = addPart(ItemKind::Checklist, "before a pass", "failsafe tested\nspotters in place\n");
    Part limits;
    limits.id.kind = ItemKind::LimitSet, limits.name = "careful", limits.values["motor.comfort_C"].number = 70.0;
    limits.values["review.sagWatch"].number = 3.3;
    out.limits = garage.add(limits);
    LogRecord log = logRecordFor(logText(1));
    log.setup = out.revision, log.outing = out.outing, log.columnMap = out.map, log.notes = "third pass lifted early";
    log.judging = R"({"runwright":"log-judging","version":1,"cells":[6]})", log.track = R"({"invented":[1.5,null]})";
    log.passes[0].noted = {{SpeedKind::ZoneMean, 40.25, 0.2}, {SpeedKind::Peak, 43.0, 0.3}};
    out.log = garage.addLog(log).log;
    StoredPlan plan;
    plan.name = "attempt", plan.setup = out.revision, plan.venue = out.plan.venue, plan.input = "{\"a\":1}",
    plan.result = "{}", plan.settings = "{}";
    out.storedPlan = garage.addPlan(plan);
    Fit fit;
    fit.name = "drag from three passes", fit.setup = out.revision,
    fit.passes = {{ItemKind::Pass, 1}, {ItemKind::Pass, 2}};
    fit.parameters = {{"vehicle.drag_area_m2", 0.0192, 0.0007, true, "", 0.0178, 0.0206, 0.02, 0.002, ""},
                      {"tyre.growth", 0.06, {}, false, "too few speeds", {}, {}, {}, {}, ""}};
    fit.covariance = {4.9e-7, 0.0, 0.0, 1.0};
    fit.learned = LearnedInput{{1.0 / 3.0 + 0.7, 0.01}, {1.001, 0.002}, {-0.25, 0.5}, {log.packed.sha256}};
    out.fit = garage.addFit(fit);
    return out;
}

namespace {

std::string real(const std::optional<double>& value) {
    if (!value) return "none";
    std::ostringstream out;
    out << std::hexfloat << *value;
    return out.str();
}

std::string named(const std::optional<Id>& id) { return id ? toString(*id) : "none"; }

void write(std::ostream& out, const Values& values) {
    for (const auto& [key, v] : values)
        out << "  " << key << '=' << real(v.number) << '|' << v.text << '|' << v.unitShown << '|' << real(v.uncertainty)
            << '|' << sourceName(v.source) << '|' << v.note << '\n';
}

void write(std::ostream& out, const std::optional<LearnedInput>& learned) {
    if (!learned) return;
    for (const Estimate& gain : {learned->currentGain, learned->voltageGain, learned->currentZero_A})
        out << "  gain " << real(gain.value) << '|' << real(gain.uncertainty) << '\n';
    for (const std::string& log : learned->logs)
        out << "  from " << log << '\n';
}

void writeLog(std::ostream& out, Garage& garage, const StoredLog& l) {
    out << toString(l.id) << '|' << l.name << '|' << l.sha256 << '|' << l.size << '|' << l.rows << '|' << l.started
        << '|' << l.dialect << '|' << l.edits << '|' << named(l.setup) << '|' << named(l.outing) << '|'
        << named(l.columnMap) << '|' << l.notes << '|' << l.retired << '\n';
    if (!l.judging.empty()) out << l.judging << '\n';
    if (l.hasTrack) out << garage.logTrack(l.id) << '\n';
    out << garage.logReview(l.id) << garage.logBytes(l.id).size() << '\n';
    for (const StoredSession& s : garage.sessions(l.id))
        out << "  " << toString(s.id) << '|' << s.index << '|' << s.record.startRow << '|' << s.record.endRow << '|'
            << real(s.record.start_s) << '|' << real(s.record.duration_s) << '|' << s.record.cells.value_or(0) << '|'
            << real(s.record.resting_V) << '|' << named(s.record.setup) << '|' << named(s.record.pack) << '\n';
    PassFilter mine;
    mine.log = l.id, mine.order = PassFilter::Order::Oldest;
    for (const StoredPass& p : garage.passes(mine)) {
        out << "  " << toString(p.id) << '|' << p.sessionIndex << '|' << p.index << '|' << named(p.setup) << '|'
            << named(p.pack) << '|' << p.when << '|' << real(p.start_s) << '|' << real(p.end_s) << '|' << p.complete
            << '|' << directionName(p.direction) << '|' << p.notes << '\n';
        for (const auto& [key, value] : garage.figures(p.id))
            out << "    " << key << '=' << real(value) << '\n';
        for (const SpeedNote& noted : p.noted)
            out << "    noted " << speedKindName(noted.kind) << '=' << real(noted.mps) << " ± "
                << real(noted.uncertainty_mps) << '\n';
    }
}

} // namespace

std::string contentOf(Garage& garage) {
    std::ostringstream out;
    for (const ItemKind kind : allKinds()) {
        if (!isPart(kind)) continue;
        for (const Part& p : garage.parts(kind, true)) {
            out << toString(p.id) << '|' << p.name << '|' << p.description << '|' << p.notes << '|' << p.document << '|'
                << p.retired << '\n';
            write(out, p.values);
        }
    }
    for (const Setup& s : garage.setups({}, true)) {
        out << toString(s.id) << '|' << s.name << '|' << s.revision << '|' << toString(s.first) << '|'
            << named(s.parent) << '|' << s.reason << '|' << toString(s.vehicle) << toString(s.motor)
            << toString(s.controller) << toString(s.pack) << toString(s.tyre) << toString(s.pinion) << toString(s.spur)
            << '|' << s.notes << '|' << s.retired << '\n';
        write(out, s.values);
        for (const KeyCorrelation& pair : s.evidence.correlation)
            out << "  " << pair.first << '~' << pair.second << '=' << real(pair.coefficient) << '\n';
        write(out, s.evidence.learned);
    }
    for (const Outing& o : garage.outings(true)) {
        out << toString(o.id) << '|' << o.name << '|' << o.date << '|' << named(o.venue) << '|' << o.notes << '|'
            << o.retired << '\n';
        for (const Id id : o.setups)
            out << "  " << toString(id) << '\n';
        for (const std::string& photo : o.photos)
            out << "  " << photo << '\n';
        write(out, o.weather);
    }
    for (const StoredLog& l : garage.logs({}, true))
        writeLog(out, garage, l);
    for (const StoredPlan& p : garage.plans({}, true))
        out << toString(p.id) << '|' << p.name << '|' << named(p.setup) << '|' << named(p.venue) << '|' << p.input
            << p.result << p.settings << p.program << '|' << p.notes << '|' << p.retired << '\n';
    for (const Fit& f : garage.fits({}, true)) {
        out << toString(f.id) << '|' << f.name << '|' << named(f.setup) << '|' << f.report << '|' << f.notes << '|'
            << f.retired << '\n';
        for (const Id id : f.passes)
            out << "  " << toString(id) << '\n';
        for (const FittedParameter& p : f.parameters)
            out << "  " << p.key << '|' << real(p.value) << '|' << real(p.standardError) << '|' << p.determined << '|'
                << p.whyNot << '\n';
        for (const FittedParameter& p : f.parameters)
            if (p.low || p.high || p.before || p.beforeDeviation || !p.conflict.empty())
                out << "  " << p.key << '|' << real(p.low) << '|' << real(p.high) << '|' << real(p.before) << '|'
                    << real(p.beforeDeviation) << '|' << p.conflict << '\n';
        for (const double number : f.covariance)
            out << "  " << real(number) << '\n';
        write(out, f.learned);
        if (f.accepted) out << "  accepted as " << toString(*f.accepted) << '\n';
        for (const FittedValue& value : f.taken)
            out << "  " << toString(value.item) << '|' << value.key << '\n';
    }
    return out.str();
}

} // namespace rw::test
