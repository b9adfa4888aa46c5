#include "core/plan/sensitivity.h"

#include "core/error.h"
#include "core/plan/plan_figures.h"
#include "core/plan/uncertain.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

constexpr std::array<std::string_view, 7> shownFigures{
    "zone_mean_mps", "peak_pack_A", "min_cell_V", "case_soak_peak_C", "controller_peak_C", "pack_peak_C", "stop_at_m"};

using FigureValues = std::array<std::optional<double>, shownFigures.size()>;

FigureValues figuresOf(const PlanInput& input) {
    FigureValues out;
    try {
        const PassResult pass = simulatePass(convertedSetup(input), startState(input));
        for (std::size_t i = 0; i < out.size(); ++i)
            out[i] = findPlanFigure(shownFigures[i])->get(input, pass);
    } catch (const InputError&) {
        out.fill(std::nullopt); // moved so far that no pass can be computed
    }
    return out;
}

PlanInput moved(PlanInput input, const UncertainField& field, double deviations) {
    field.field->set(input, field.shifted(deviations));
    reconcile(input);
    return input;
}

std::optional<double> difference(std::optional<double> value, std::optional<double> from) {
    return value && from ? std::optional(*value - *from) : std::nullopt;
}

double speedChange(const Sensitivity& input) {
    const SensitivityChange& change = input.changes.front();
    return std::max(std::abs(change.down.value_or(0.0)), std::abs(change.up.value_or(0.0)));
}

} // namespace

SensitivityResult planSensitivity(const PlanInput& input, const WorkOptions& options) {
    checkPlanInput(input, "plan input");
    const std::vector<UncertainField> fields = uncertainFields(input);
    std::vector<FigureValues> values(2 * fields.size() + 1); // down and up of each field, then the plan's own
    SensitivityResult out;
    parallelFor(values.size(), options, [&](std::size_t i) {
        values[i] =
            i < 2 * fields.size() ? figuresOf(moved(input, fields[i / 2], i % 2 == 0 ? -1.0 : 1.0)) : figuresOf(input);
    });
    for (std::size_t k = 0; k < fields.size(); ++k) {
        Sensitivity row{fields[k].field->key(), fields[k].distribution.deviation, {}};
        for (std::size_t f = 0; f < shownFigures.size(); ++f)
            row.changes.push_back({shownFigures[f], difference(values[2 * k][f], values.back()[f]),
                                   difference(values[2 * k + 1][f], values.back()[f])});
        out.inputs.push_back(std::move(row));
    }
    std::ranges::stable_sort(
        out.inputs, [](const Sensitivity& a, const Sensitivity& b) { return speedChange(a) > speedChange(b); });
    return out;
}

} // namespace rw
