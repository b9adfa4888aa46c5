// One point of the size map: the overall ratio that makes the target with the most left of the tightest limit.
#pragma once

#include "core/choose/changed_plan.h"
#include "core/plan/plan_input.h"

#include <optional>

namespace rw {

struct SizePoint {
    std::optional<double> ratio; // none: no ratio makes the target
    JudgedPass judged;           // in full at that ratio
    double bestMean = 0.0;       // m/s, sketched: the fastest completed pass found, 0: none
    double bestMeanRatio = 0.0;
};

// The plan's drive.target_mps is the target; its own gearing does not matter. The ratio is looked for between 0.5 and
// 50: a scan in steps of 14 % by sketched passes, the ends of the range that makes the target by bisection, the largest
// margin within by golden section, both to 1e-4. It can miss a range of ratios narrower than a step of the scan that
// lies away from the fastest ratio, and of several humps of the margin all but the one that the scan sees highest.
[[nodiscard]] SizePoint sizePoint(const PlanInput& plan);

} // namespace rw
