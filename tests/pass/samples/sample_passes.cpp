#include "tests/pass/samples/sample_passes.h"

#include "core/plan/plan.h"
#include "core/plan/plan_json.h"

#include <algorithm>
#include <filesystem>
#include <functional>

namespace rw::testing {

namespace {

struct SamplePlan {
    std::string name;
    PlanInput input;
};

std::vector<SamplePlan> samplePlans() {
    std::vector<SamplePlan> plans;
    for (const auto& entry : std::filesystem::directory_iterator(RUNWRIGHT_SOURCE_DIR "/samples/plans"))
        if (entry.path().extension() == ".json")
            plans.push_back({entry.path().stem().string(), readPlanInputFile(entry.path().string())});
    std::sort(plans.begin(), plans.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
    return plans;
}

struct Change {
    const char* name;
    std::function<void(PassSetup&, StartState&)> apply;
};

const Change changes[] = {
    {"no ramp",
     [](PassSetup& s, StartState&) {
         s.driving.throttleRamp = 0.0;
         s.controller.dutyRate.reset();
     }},
    {"low grip", [](PassSetup& s, StartState&) { s.strip.friction = 0.35; }},
    {"tight motor current", [](PassSetup& s, StartState&) { s.controller.motorCurrentLimit = 90.0; }},
    {"tight pack current", [](PassSetup& s, StartState&) { s.controller.packCurrentLimit = 60.0; }},
    {"soft cutoff on a low pack",
     [](PassSetup& s, StartState& start) {
         s.controller.cutoff = CutoffMode::Soft;
         s.controller.cutoffVoltage = 3.6 * s.pack.series;
         start.charge = 0.35;
     }},
    {"hard cutoff acts",
     [](PassSetup& s, StartState& start) {
         s.controller.cutoff = CutoffMode::Hard;
         s.controller.cutoffVoltage = 3.7 * s.pack.series;
         s.controller.cutoffDelay = 0.4;
         start.charge = 0.3;
     }},
    {"hard cutoff at once",
     [](PassSetup& s, StartState& start) {
         s.controller.cutoff = CutoffMode::Hard;
         s.controller.cutoffVoltage = 3.65 * s.pack.series;
         s.controller.cutoffDelay = 0.0;
         start.charge = 0.4;
     }},
    {"uphill against the wind",
     [](PassSetup& s, StartState&) {
         s.strip.grade = 0.03;
         s.strip.headWind = 7.0;
     }},
    {"downhill before the wind",
     [](PassSetup& s, StartState&) {
         s.strip.grade = -0.04;
         s.strip.headWind = -9.0;
     }},
    {"endpoint below full", [](PassSetup& s, StartState&) { s.controller.endpoint = 0.8; }},
    {"too steep to start",
     [](PassSetup& s, StartState&) {
         s.strip.grade = 0.2;
         s.controller.motorCurrentLimit = 12.0;
     }},
    {"cut off on the run-up",
     [](PassSetup& s, StartState&) {
         s.controller.cutoff = CutoffMode::Hard;
         s.controller.cutoffVoltage = 4.15 * s.pack.series;
         s.controller.cutoffDelay = 0.2;
         s.strip.grade = 0.02;
     }},
    {"brakes slide",
     [](PassSetup& s, StartState&) {
         s.driving.brakeFraction = 1.5;
         s.strip.friction = 0.6;
     }},
};

} // namespace

std::vector<SamplePass> samplePasses() {
    std::vector<SamplePass> passes;
    for (const SamplePlan& plan : samplePlans()) {
        const PassSetup setup = passSetup(plan.input);
        const StartState start = startState(plan.input);
        passes.push_back({plan.name + ", there", setup, start});
        passes.push_back({plan.name + ", back", reversed(setup), start});
        const StartState again = standFor(setup, simulatePass(setup, start).end, plan.input.drive.turn_around_s);
        passes.push_back({plan.name + ", again", setup, again});
    }
    return passes;
}

std::vector<SamplePass> harderPasses() {
    std::vector<SamplePass> passes;
    for (const SamplePlan& plan : samplePlans()) {
        for (const Change& change : changes) {
            SamplePass pass{plan.name + ", " + change.name, passSetup(plan.input), startState(plan.input)};
            change.apply(pass.setup, pass.start);
            passes.push_back(pass);
        }
    }
    return passes;
}

std::vector<Figure> figuresOf(const PassResult& r) {
    return {{"zone_mean", r.zoneMean, 0.0},
            {"zone_entry", r.zoneEntry, 0.0},
            {"zone_exit", r.zoneExit, 0.0},
            {"peak_speed", r.peakSpeed, 0.0},
            {"peak_speed_at", r.peakSpeedAt, 0.0},
            {"time_to_target", r.timeToTarget, 0.0},
            {"distance_to_target", r.distanceToTarget, 0.0},
            {"min_pack_voltage", r.minPackVoltage, 0.0},
            {"min_cell_voltage", r.minCellVoltage, 0.0},
            {"peak_pack_current", r.peakPackCurrent, 0.0},
            {"peak_motor_current", r.peakMotorCurrent, 0.0},
            {"peak_electrical", r.peakElectrical, 0.0},
            {"peak_shaft", r.peakShaft, 0.0},
            {"peak_motor_speed", r.peakMotorSpeed, 0.0},
            {"peak_wheel_speed", r.peakWheelSpeed, 0.0},
            {"charge_used", r.chargeUsed, 0.0},
            {"energy_used", r.energyUsed, 0.0},
            {"winding_exit", r.windingExit, 0.0},
            {"case_exit", r.caseExit, 0.0},
            {"case_soak_peak", r.caseSoakPeak, 0.0},
            {"case_soak_peak_after", r.caseSoakPeakAfter, 0.0},
            {"winding_peak", r.windingPeak, 0.0},
            {"case_peak", r.casePeak, 0.0},
            {"controller_peak", r.controllerPeak, 0.0},
            {"pack_peak", r.packPeak, 0.0},
            {"ripple", r.ripple, 0.0},
            {"min_front_load_ratio", r.minFrontLoadRatio, 0.0},
            // Seconds of a limit that hardly bound: 1e-6 of a millisecond at least, far below what anyone reads.
            {"bound_motor_current", r.bound.motorCurrent, 1e-3},
            {"bound_pack_current", r.bound.packCurrent, 1e-3},
            {"bound_traction", r.bound.traction, 1e-3},
            {"bound_cutoff", r.bound.cutoff, 1e-3},
            {"braking", r.braking, 0.0},
            {"stop_at", r.stopAt, 0.0},
            {"duration", r.duration, 0.0},
            {"end_charge", r.end.charge, 0.0},
            {"end_polarisation", r.end.polarisation, 0.0},
            {"end_winding", r.end.winding, 0.0},
            {"end_case", r.end.motorCase, 0.0},
            {"end_controller", r.end.controller, 0.0},
            {"end_pack", r.end.pack, 0.0}};
}

} // namespace rw::testing
