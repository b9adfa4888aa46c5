// Gear table: every pair of the owner's pinions and spurs that fits the mount, simulated and ranked.
// core/physics/README.md 11.
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <optional>
#include <string>
#include <vector>

namespace rw {

enum class GearRank { Fastest, LeastCurrent, Shortest };

struct GearRow {
    int pinion = 0, spur = 0;
    double overallRatio = 0.0;
    std::optional<double> zoneMean;         // m/s; none: pass not completed
    double peakSpeed = 0.0;                 // m/s
    double peakPackCurrent = 0.0;           // A
    double caseSoakPeak = 0.0;              // °C
    double stopAt = 0.0;                    // m
    std::optional<double> distanceToTarget; // m
    std::optional<Margin> tightest;         // none: no limit set
    bool withinLimits = false;              // completed and no margin negative
    bool makesTarget = false;               // mean through the zone at least the target
};

struct GearTable {
    std::vector<GearRow> rows;          // best first
    std::vector<std::size_t> efficient; // rows that no other beats in both zone speed and peak pack current; rising
};

// Throws InputError for an invalid input. Each row is the plan's first pass with that pair fitted, all else alike,
// sketched (sketchPrecision).
[[nodiscard]] GearTable sweepGears(const PlanInput& input, GearRank rank, const WorkOptions& options = {});
// Puts rows in another order and finds the efficient ones anew.
void rankGears(GearTable& table, GearRank rank);
[[nodiscard]] std::string gearTableJson(const GearTable& table);

} // namespace rw
