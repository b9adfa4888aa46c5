// Reach: which gearing, cell count or drag area makes a target speed, each changed alone; or what stands in the way.
#pragma once

#include "core/plan/gears.h"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rw {

struct ReachPair : GearPair {
    std::optional<double> zoneMean; // m/s
};

// zoneMean: the best there is, none where no pass is completed. binding: what stands in the way, empty when reachable:
// "motor_current", "pack_current", "traction", "cutoff" (that limit taken away would give the most), "run_up" (more of
// it would), else "power" (motor, pack and drag as they are).
struct Reach {
    bool reachable = false;
    std::optional<double> zoneMean;
    std::string_view binding;
};

struct GearingReach : Reach {
    std::optional<std::pair<double, double>> ratios; // lowest and highest whose zone mean is at least the target
    std::optional<ReachPair> nearestPair; // the owner's: one that makes it, else nearest to the range or best ratio
};

struct CellsReach : Reach {
    std::vector<int> counts;
};

struct DragReach : Reach {
    std::optional<double> largest; // m²
};

struct ReachResult {
    GearingReach gearing;
    CellsReach cells;
    DragReach dragArea;
};

// Target in m/s, over 0. Throws InputError for an invalid input or target. Ratios from 0.5 to 50, to 1e-6.
[[nodiscard]] ReachResult reachTarget(const PlanInput& input, double target, const WorkOptions& options = {});
[[nodiscard]] std::string reachJson(const ReachResult& result);

} // namespace rw
