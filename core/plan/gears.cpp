#include "core/plan/gears.h"

#include "core/plan/pass_json.h"
#include "core/plan/plan_convert.h"
#include "core/plan/plan_figures.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace rw {

namespace {

GearRow rowOf(const PlanInput& input, const PassSetup& setup, const GearPair& pair) {
    PassSetup geared = setup;
    geared.gearing.ratio = pair.ratio;
    const PassResult pass = simulatePass(geared, convertedStart(input), {sketchPrecision});
    const std::vector<Margin> all = margins(input, {pass});
    GearRow row;
    row.pinion = pair.pinion;
    row.spur = pair.spur;
    row.overallRatio = pair.ratio;
    row.zoneMean = pass.zoneMean;
    row.peakSpeed = pass.peakSpeed;
    row.peakPackCurrent = pass.peakPackCurrent;
    row.caseSoakPeak = pass.caseSoakPeak;
    row.stopAt = pass.stopAt;
    row.distanceToTarget = pass.distanceToTarget;
    if (!all.empty()) row.tightest = all.front();
    row.withinLimits = pass.completed && (all.empty() || all.front().margin >= 0.0);
    row.makesTarget = makesTarget(pass, input.drive.target_mps);
    return row;
}

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

// Of rows that both have a zone mean.
bool beats(const GearRow& a, const GearRow& b) {
    if (*a.zoneMean < *b.zoneMean || a.peakPackCurrent > b.peakPackCurrent) return false;
    return *a.zoneMean > *b.zoneMean || a.peakPackCurrent < b.peakPackCurrent;
}

} // namespace

std::vector<GearPair> fittingPairs(const PlanInput& input) {
    std::vector<GearPair> out;
    const auto& vehicle = input.vehicle;
    for (const int pinion : input.gears.pinions)
        for (const int spur : input.gears.spurs)
            if (fitsMount(input.gears.module_m, pinion, spur, vehicle.mesh_min_m, vehicle.mesh_max_m))
                out.push_back({pinion, spur, ratioWith(input, pinion, spur)});
    return out;
}

GearTable sweepGears(const PlanInput& input, GearRank rank, const WorkOptions& options) {
    const PassSetup setup = passSetup(input);
    const std::vector<GearPair> pairs = fittingPairs(input);
    GearTable table;
    table.rows.resize(pairs.size());
    parallelFor(pairs.size(), options, [&](std::size_t i) { table.rows[i] = rowOf(input, setup, pairs[i]); });
    rankGears(table, rank);
    return table;
}

void rankGears(GearTable& table, GearRank rank) {
    auto& rows = table.rows;
    std::ranges::sort(rows, [&](const GearRow& a, const GearRow& b) { return rankKey(a, rank) < rankKey(b, rank); });
    table.efficient.clear();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].zoneMean) continue;
        const auto beater = [&](const GearRow& other) { return other.zoneMean && beats(other, rows[i]); };
        if (std::ranges::none_of(rows, beater)) table.efficient.push_back(i);
    }
}

std::string gearTableJson(const GearTable& table) {
    using Json = nlohmann::ordered_json;
    Json out;
    out["rows"] = Json::array();
    for (const GearRow& row : table.rows) {
        Json item;
        item["pinion"] = row.pinion;
        item["spur"] = row.spur;
        item["overall_ratio"] = row.overallRatio;
        item["zone_mean_mps"] = jsonOrNull(row.zoneMean);
        item["peak_speed_mps"] = row.peakSpeed;
        item["peak_pack_A"] = row.peakPackCurrent;
        item["case_soak_peak_C"] = row.caseSoakPeak;
        item["stop_at_m"] = row.stopAt;
        item["tightest"] =
            row.tightest ? Json{{"limit", row.tightest->limit}, {"margin", row.tightest->margin}} : Json(nullptr);
        item["within_limits"] = row.withinLimits;
        out["rows"].push_back(std::move(item));
    }
    out["efficient"] = table.efficient;
    return out.dump(2) + "\n";
}

} // namespace rw
