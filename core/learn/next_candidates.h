// The single changes that an owner can make with what the plan lists. Internal to core/learn.
#pragma once

#include "core/learn/learn.h"
#include "core/pass/pass.h"

#include <vector>

namespace rw::learning {

struct Candidate {
    std::string words;
    std::vector<NextSetting> set;
    PlanInput plan;
};

// "Nothing" first. `passes` are the plan's own, simulated: they say what bound.
[[nodiscard]] std::vector<Candidate> candidatesOf(const PlanInput& plan, const std::vector<PassResult>& passes);

} // namespace rw::learning
