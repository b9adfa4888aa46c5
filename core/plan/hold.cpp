#include "core/plan/hold.h"

#include "core/plan/plan_fields.h"

#include <algorithm>
#include <array>
#include <utility>

namespace rw {

namespace {

constexpr double mostOfTheWay = 0.5, allOfIt = 0.9;
constexpr double noChange = 1e-3; // of the zone mean: less is below what a pass repeats to
constexpr std::size_t mostCandidates = 12;

bool oneCellMoreHelps(PlanInput input, double zoneMean) {
    ++input.pack.series;
    if (!fieldAllows(*findPlanField("pack.series"), input.pack.series)) return false;
    const PassResult pass = simulatePass(convertedSetup(input), startState(input));
    return pass.zoneMean && *pass.zoneMean > zoneMean * (1.0 + noChange);
}

HoldBack whatHeldBack(const PlanInput& input, const PassResult& pass) {
    HoldBack out;
    if (!pass.completed || !pass.zoneExit || !pass.zoneMean) return out;
    const std::array bound{
        std::pair{Limit::Traction, pass.bound.traction}, std::pair{Limit::MotorCurrent, pass.bound.motorCurrent},
        std::pair{Limit::PackCurrent, pass.bound.packCurrent}, std::pair{Limit::Cutoff, pass.bound.cutoff}};
    const auto longest = std::ranges::max_element(bound, {}, &std::pair<Limit, double>::second);
    if (longest->second < mostOfTheWay * *pass.zoneExit) return out;
    out.limit = longest->first;
    out.seconds = longest->second;
    out.allTheWay = longest->second >= allOfIt * *pass.zoneExit;
    out.cellsHelp = oneCellMoreHelps(input, *pass.zoneMean);
    return out;
}

bool holdsWith(PlanInput input, const GearRow& row) {
    input.gears.pinion_teeth = row.pinion;
    input.gears.spur_teeth = row.spur;
    const std::vector<PassResult> passes = simulatePasses(input, convertedSetup(input));
    const bool completed = std::ranges::all_of(passes, [](const PassResult& pass) { return pass.completed; });
    const std::vector<Margin> all = margins(input, passes);
    return completed && (all.empty() || all.front().margin >= 0.0);
}

void lookForGears(const PlanInput& input, const WorkOptions& options, HoldAnswer& answer) {
    const GearTable table = sweepGears(input, GearRank::Fastest, options);
    std::size_t tried = 0;
    for (const GearRow& row : table.rows) {
        if (row.pinion == input.gears.pinion_teeth && row.spur == input.gears.spur_teeth) continue;
        ++answer.pairsTried;
        if (answer.wouldHold || !row.withinLimits || tried == mostCandidates) continue;
        ++tried;
        if (holdsWith(input, row)) answer.wouldHold = row;
    }
}

} // namespace

HoldAnswer willItHold(const PlanInput& input, const PlanResult& result, const WorkOptions& options) {
    HoldAnswer answer;
    answer.completed = !result.passes.empty() &&
                       std::ranges::all_of(result.passes, [](const PassResult& pass) { return pass.completed; });
    answer.broken = static_cast<int>(
        std::ranges::count_if(result.margins, [](const Margin& margin) { return margin.margin < 0.0; }));
    if (!result.margins.empty()) answer.tightest = result.margins.front();
    if (!result.passes.empty()) answer.heldBack = whatHeldBack(input, result.passes.front());
    if (!answer.holds()) lookForGears(input, options, answer);
    return answer;
}

} // namespace rw
