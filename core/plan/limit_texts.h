// What a person reads about each limit of a plan, and the cautions that go with a broken one.
#pragma once

#include "core/pass/pass.h"
#include "core/plan/plan.h"

#include <span>
#include <string>
#include <string_view>

namespace rw {

struct LimitText {
    std::string_view limit; // "case_comfort"
    std::string_view label; // "motor case, comfortable"
    std::string_view unit;  // of value and allowed
    int decimals = 0;
    bool floor = false;      // the value must stay above what is allowed
    std::string_view advice; // what to do when it is broken, one sentence
};

[[nodiscard]] const LimitText& limitText(std::string_view limit); // of a name in marginNames()
[[nodiscard]] std::string_view boundText(Limit limit);            // "motor current limit"
// Shown wherever a limit is broken. Predictions stay estimates when none is.
[[nodiscard]] std::span<const std::string_view> cautions();

} // namespace rw
