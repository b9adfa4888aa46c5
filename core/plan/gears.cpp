#include "core/plan/gears.h"

#include "core/json/json_write.h"
#include "core/plan/plan_figures.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace rw {

namespace {

// Smaller is better: rows that meet the conditions first, then the figure, then pinion and spur.
using RankKey = std::tuple<bool, double, int, int>;

RankKey rankKey(const GearRow& row, GearRank rank) {
    constexpr double last = std::numeric_limits<double>::infinity();
    switch (rank) {
    case GearRank::Fastest:
        return {!row.withinLimits, row.zoneMean ? -*row.zoneMean : last, row.pinion, row.spur};
    case GearRank::LeastCurrent:
        return {!(row.withinLimits && row.makesTarget), row.peakPackCurrent, row.pinion, row.spur};
    case GearRank::Shortest:
        return {!(row.withinLimits && row.makesTarget), row.distanceToTarget.value_or(last), row.pinion, row.spur};
    }
    return {};
}

} // namespace

JudgedPass judgedPass(const PlanInput& input, const PassSetup& setup, const PassPrecision& precision) {
    JudgedPass out{simulatePass(setup, startState(input), {precision}), {}};
    const std::vector<Margin> all = margins(input, {out});
    if (!all.empty()) out.tightest = all.front();
    out.withinLimits = out.completed && out.tightest.margin >= 0.0;
    out.makesTarget = makesTarget(out, input.drive.target_mps);
    return out;
}

PassSetup gearedTo(PassSetup setup, double overallRatio) {
    setup.gearing.ratio = overallRatio;
    return setup;
}

std::vector<GearPair> fittingPairs(const PlanInput& input) {
    std::vector<GearPair> out;
    const auto& vehicle = input.vehicle;
    for (const int pinion : input.gears.pinions)
        for (const int spur : input.gears.spurs)
            if (fitsMount(input.gears.module_m, pinion, spur, vehicle.mesh_min_m, vehicle.mesh_max_m))
                out.push_back({pinion, spur, overallRatio(pinion, spur, vehicle.internal_ratio)});
    return out;
}

GearTable sweepGears(const PlanInput& input, GearRank rank, const WorkOptions& options) {
    const PassSetup setup = passSetup(input);
    const std::vector<GearPair> pairs = fittingPairs(input);
    GearTable table;
    table.rows.resize(pairs.size());
    parallelFor(pairs.size(), options, [&](std::size_t i) {
        table.rows[i] = {pairs[i], judgedPass(input, gearedTo(setup, pairs[i].overallRatio), sketchPrecision)};
    });
    rankGears(table, rank);
    return table;
}

void rankGears(GearTable& table, GearRank rank) {
    auto& rows = table.rows;
    std::ranges::sort(rows, [&](const GearRow& a, const GearRow& b) { return rankKey(a, rank) < rankKey(b, rank); });
    table.efficient =
        efficientRows(rows, [](const GearRow& row) { return std::pair(*row.zoneMean, -row.peakPackCurrent); });
}

std::string gearTableJson(const GearTable& table) {
    Json out;
    out["rows"] = listJson(table.rows, [](const GearRow& row) {
        return Json{{"pinion", row.pinion},
                    {"spur", row.spur},
                    {"overall_ratio", row.overallRatio},
                    {"zone_mean_mps", jsonOrNull(row.zoneMean)},
                    {"peak_speed_mps", row.peakSpeed},
                    {"peak_pack_A", row.peakPackCurrent},
                    {"case_soak_peak_C", row.caseSoakPeak},
                    {"stop_at_m", row.stopAt},
                    {"tightest", {{"limit", row.tightest.limit}, {"margin", row.tightest.margin}}},
                    {"within_limits", row.withinLimits}};
    });
    out["efficient"] = table.efficient;
    return out.dump(2) + "\n";
}

} // namespace rw
