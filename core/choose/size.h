// Size: what to buy or wind for a target. The plan's motor as a frame that can be wound otherwise, any number of the
// plan's cells, the gearing free: a map of what is left of the tightest limit over cells and speed constant.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rw {

struct SizeOptions {
    int fewestCells = 2, mostCells = 12;         // 1 … 24
    int cellStep = 1;                            // every one, every other one, …
    std::optional<std::pair<double, double>> kv; // rpm/V, may be equal; none: a third to three times the plan's
    std::size_t kvSteps = 24;                    // of the grid, geometric, both bounds included
    bool refined = true;                         // for a first look not: best is a point of the grid, no nearest
    std::size_t runs = 2000;                     // of the spread at the best point; 0: none
    WorkOptions work;
};

// A point that makes the target.
struct SizeCell {
    double margin = 0.0;                                                  // of the tightest limit
    std::string_view limit;                                               // its name
    double overallRatio = 0.0, peakPackCurrent = 0.0, caseSoakPeak = 0.0; // 1, A, °C
};

struct SizeBest {
    int cells = 0;
    double kv = 0.0, overallRatio = 0.0; // rpm/V, 1
    Margin tightest;
    PlanInput plan; // the ratio through vehicle.internal_ratio, gears as they are
    std::optional<double> targetProbability;
};

// Where no point makes the target: the fastest one, and what stands in its way (as in reach.h).
struct SizeNearest {
    int cells = 0;
    double kv = 0.0, overallRatio = 0.0, zoneMean = 0.0; // rpm/V, 1, m/s
    std::string_view binding;
};

struct SizeMap {
    std::vector<int> cells;
    std::vector<double> kv;                                // rpm/V, rising
    std::vector<std::vector<std::optional<SizeCell>>> map; // [cells][kv]; none: no ratio makes the target there
    std::optional<SizeBest> best;                          // the point with the largest margin, refined over kv to 1 %
    std::optional<SizeNearest> nearest;                    // none where best is there, or no pass is completed at all
};

// Target in m/s, over 0. Every point is the full first pass at the ratio found (size_point.h says how). Throws
// InputError for an invalid input, target, cells or kv.
[[nodiscard]] SizeMap sizePower(const PlanInput& input, double target, const SizeOptions& options = {});
[[nodiscard]] std::string sizeJson(const SizeMap& size);

} // namespace rw
