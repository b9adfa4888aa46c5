// The one table of limits that a plan is held against: what each is called, how it is shown, what of a pass it looks
// at, what it allows, and what to do when it is broken. Margins, chances, both programs and the pages read it; a new
// limit is one row here.
#pragma once

#include "core/dimension.h"
#include "core/pass/pass.h"
#include "core/plan/plan_input.h"

#include <optional>
#include <span>
#include <string_view>

namespace rw {

enum class MarginRule : std::uint8_t {
    Temperature, // share of what is allowed over the air's temperature that is left
    Ceiling,     // share of what is allowed that is left
    Floor        // share that is left of the way from `best` down to what is allowed
};

struct LimitRow {
    std::string_view name;      // JSON: "case_comfort"
    std::string_view title;     // "Motor case, after soak"
    std::string_view shortName; // for tables: "motor case"
    Dimension dimension = Dimension::Number;
    int decimals = 0;              // in the shown unit
    std::string_view allowedWords; // before what is allowed: "comfort", "at least"
    std::string_view advice;       // what to do when it is broken, one sentence
    MarginRule rule = MarginRule::Ceiling;
    double best = 0.0; // Floor alone: where everything is left
    double (*value)(const PlanInput&, const PassResult&) = nullptr;
    std::optional<double> (*allowed)(const PlanInput&) = nullptr; // none: no such limit in this plan
};

[[nodiscard]] std::span<const LimitRow> limitTable();
[[nodiscard]] const LimitRow& limitRow(std::string_view name); // of a name in the table
[[nodiscard]] std::string_view boundText(Limit limit);         // what held the current: "motor current limit"

} // namespace rw
