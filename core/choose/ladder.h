// Ladder: by which steps to climb from a proven speed to a target without breaking something. Each step is the smallest
// change that makes its speed within limits: another pair of the owner's gears, else one more cell with a pair, two
// more, …
#pragma once

#include "core/plan/parallel.h"
#include "core/plan/plan.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct LadderOptions {
    double step = 0.15;      // a speed is at most this share above the one before; over 0 to 1
    std::size_t runs = 2000; // of each step's spread
    WorkOptions work;
};

// Of the spread of a step's plan. Where the plan states no uncertainty, all three are the same.
struct LadderFigure {
    std::string_view figure; // of plan_figures.h
    double p05 = 0.0, mean = 0.0, p95 = 0.0;
};

// go_on_if: the seen figure is at most (least) this. stop_if: at least (most).
struct LadderCondition {
    std::string_view figure;
    bool atMost = true;
    double value = 0.0;
    std::string why; // of stop_if, a sentence
};

// A key of the plan input as it is from now on; in the key's unit.
struct LadderSetting {
    std::string key;
    double value = 0.0;
};

struct LadderStep {
    double speed = 0.0;             // m/s, to be made through the zone
    std::string change;             // "pinion 28 to 30", or "the setup as it is"
    std::vector<LadderSetting> set; // what differs from the step before
    PlanInput plan;                 // drive.target_mps is the speed
    std::vector<LadderFigure> expect;
    std::vector<LadderCondition> goOnIf, stopIf;
    std::optional<double> wait_s; // the shortest wait of the plan with a fifth on top; none: no wait is enough
    std::vector<Margin> margins;  // of its first pass, tightest first
    double targetProbability = 0.0, limitProbability = 0.0;             // the latter: any limit broken
    [[nodiscard]] bool risky() const { return limitProbability > 0.1; } // never the default
};

// The nearest try at a speed that no change makes within limits: of those that make it, the one with most left of the
// tightest limit; else the fastest, with what stands in its way and how much speed is missing as a share.
struct LadderBlock {
    double speed = 0.0; // m/s
    std::string_view limit;
    double margin = 0.0;
};

struct Ladder {
    std::vector<LadderStep> steps; // rising; a speed that the setup of a step makes as well is that step's
    std::optional<LadderBlock> blocked;
};

// Speeds in m/s, 0 < proven < target. Every step is judged by its full first pass. Throws InputError for an invalid
// input, speeds or step.
[[nodiscard]] Ladder climbLadder(const PlanInput& input, double proven, double target,
                                 const LadderOptions& options = {});
[[nodiscard]] std::string ladderJson(const Ladder& ladder);

} // namespace rw
