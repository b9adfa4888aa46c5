// Margins of passes against the limits of the plan. The rules stand in the table of limits.h.
#include "core/plan/limits.h"
#include "core/plan/plan.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

// A current held at its limit meets it only to the solver's rounding: such a margin is 0, not broken.
constexpr double roundingOfFigures = 1e-9;

// None: this limit says nothing of such a pass.
std::optional<double> shareLeft(const LimitRow& row, double value, double allowed, double air_C) {
    switch (row.rule) {
    case MarginRule::Temperature:
        if (allowed > air_C) return 1.0 - (value - air_C) / (allowed - air_C);
        return value > allowed ? std::optional(-1.0) : std::nullopt;
    case MarginRule::Ceiling:
        if (allowed > 0.0) return 1.0 - value / allowed;
        return value > 0.0 ? -1.0 : 0.0; // nothing allowed at all: broken by anything
    case MarginRule::Floor:
        return (value - allowed) / (row.best - allowed);
    }
    return std::nullopt;
}

std::optional<Margin> marginOf(const LimitRow& row, const PlanInput& input, const PassResult& pass) {
    const std::optional<double> allowed = row.allowed(input);
    if (!allowed) return std::nullopt;
    const double value = row.value(input, pass);
    const std::optional<double> left = shareLeft(row, value, *allowed, input.air.temperature_C);
    if (!left || !std::isfinite(value) || !std::isfinite(*left)) return std::nullopt;
    return Margin{row.name, value, *allowed, std::abs(*left) < roundingOfFigures ? 0.0 : *left};
}

} // namespace

std::vector<Margin> margins(const PlanInput& input, const std::vector<PassResult>& passes) {
    std::vector<Margin> worst;
    for (const LimitRow& row : limitTable()) {
        std::optional<Margin> of;
        for (const PassResult& pass : passes)
            if (const auto margin = marginOf(row, input, pass); margin && (!of || margin->margin < of->margin))
                of = margin;
        if (of) worst.push_back(*of);
    }
    std::ranges::stable_sort(worst, {}, &Margin::margin);
    return worst;
}

} // namespace rw
