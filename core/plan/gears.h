// Gear table: every pair of the owner's pinions and spurs that fits the mount, simulated and ranked.
// core/physics/README.md 11.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <algorithm>
#include <string>
#include <vector>

namespace rw {

enum class GearRank { Fastest, LeastCurrent, Shortest };

// A first pass held against the plan's limits and target.
struct JudgedPass : PassResult {
    Margin tightest;           // every plan has the strip's at least
    bool withinLimits = false; // completed and no margin negative, comfort and continuous ratings included
    bool makesTarget = false;  // mean through the zone at least the plan's target; false without one
};
// `setup` is the converted input, perhaps with another ratio. Throws like simulatePass.
[[nodiscard]] JudgedPass judgedPass(const PlanInput& input, const PassSetup& setup,
                                    const PassPrecision& precision = fullPrecision);
[[nodiscard]] PassSetup gearedTo(PassSetup setup, double overallRatio);

struct GearPair {
    int pinion = 0, spur = 0;
    double overallRatio = 0.0;
};
// The owner's pairs that fit the mount, pinions outermost, in the order of the lists.
[[nodiscard]] std::vector<GearPair> fittingPairs(const PlanInput& input);

struct GearRow : GearPair, JudgedPass {};

struct GearTable {
    std::vector<GearRow> rows;          // best first
    std::vector<std::size_t> efficient; // rows that no other beats in both zone speed and peak pack current; rising
};

// Throws InputError for an invalid input. Each row is the plan's first pass with that pair fitted, all else alike,
// sketched (sketchPrecision).
[[nodiscard]] GearTable sweepGears(const PlanInput& input, GearRank rank, const WorkOptions& options = {});
// Rows that have a zone mean and that no other beats in both its merits, a pair of which larger is better; rising.
template<class Row, class Merits>
[[nodiscard]] std::vector<std::size_t> efficientRows(const std::vector<Row>& rows, Merits merits) {
    const auto beats = [&](const Row& a, const Row& b) {
        const auto one = merits(a), other = merits(b);
        return one.first >= other.first && one.second >= other.second && one != other;
    };
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const auto beater = [&](const Row& other) { return other.zoneMean && beats(other, rows[i]); };
        if (rows[i].zoneMean && std::ranges::none_of(rows, beater)) out.push_back(i);
    }
    return out;
}
// Puts rows in another order and finds the efficient ones anew.
void rankGears(GearTable& table, GearRank rank);
[[nodiscard]] std::string gearTableJson(const GearTable& table);

} // namespace rw
