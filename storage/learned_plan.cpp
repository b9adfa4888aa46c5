#include "storage/learned_plan.h"

#include "core/error.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "storage/allowed.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace rw {

namespace {

constexpr std::array carriedKinds{ItemKind::Vehicle, ItemKind::Tyre, ItemKind::Motor, ItemKind::Controller,
                                  ItemKind::Pack};

// Nothing else was said of the key since the fit began.
bool asBefore(const PlanInput& plan, const PlanField& field, const FittedParameter& parameter) {
    const auto deviation = plan.uncertainty.find(parameter.key);
    return field.get(plan) == parameter.before && deviation != plan.uncertainty.end() &&
           deviation->second == parameter.beforeDeviation;
}

} // namespace

bool carriedByFits(const std::string& key) {
    return std::ranges::any_of(carriedKinds, [&key](ItemKind kind) { return keyBelongsTo(kind, key); });
}

// The fit's correlations; those of before stay where the fit says nothing of their keys.
Evidence evidenceOf(const Fit& fit, Evidence before) {
    std::set<std::string, std::less<>> keys;
    for (const FittedParameter& parameter : fit.parameters)
        keys.insert(parameter.key);
    std::erase_if(before.correlation, [&keys](const KeyCorrelation& pair) {
        return keys.contains(pair.first) || keys.contains(pair.second);
    });
    const std::size_t n = fit.parameters.size();
    const auto covariance = [&](std::size_t i, std::size_t k) { return fit.covariance[i * n + k]; };
    for (std::size_t i = 0; !fit.covariance.empty() && i < n; ++i)
        for (std::size_t k = i + 1; k < n; ++k) {
            const double scale = std::sqrt(covariance(i, i) * covariance(k, k));
            const double r = scale > 0.0 ? covariance(i, k) / scale : 0.0;
            const bool both = carriedByFits(fit.parameters[i].key) && carriedByFits(fit.parameters[k].key);
            if (both && r != 0.0 && std::abs(r) < 1.0)
                before.correlation.push_back({fit.parameters[i].key, fit.parameters[k].key, r});
        }
    if (fit.learned) {
        const std::vector<std::string> earlier = before.learned ? before.learned->logs : std::vector<std::string>{};
        before.learned = fit.learned;
        for (const std::string& log : earlier)
            if (std::ranges::find(before.learned->logs, log) == before.learned->logs.end())
                before.learned->logs.push_back(log);
    }
    return before;
}

std::optional<PlanInput> learnedFrom(const Fit& fit, PlanInput plan) {
    bool any = false;
    for (const FittedParameter& parameter : fit.parameters) {
        const PlanField* const field = findPlanField(parameter.key);
        const bool usable = field != nullptr && field->get && field->set && parameter.standardError;
        if (!usable || !carriedByFits(parameter.key)) continue;
        if (!asBefore(plan, *field, parameter)) return {};
        field->set(plan, parameter.value);
        plan.uncertainty[parameter.key] = *parameter.standardError;
        any = any || parameter.determined;
    }
    if (!any) return {};
    Evidence evidence = evidenceOf(fit, {std::move(plan.correlation), std::move(plan.learned)});
    plan.correlation = std::move(evidence.correlation);
    plan.learned = evidence.learned ? std::move(evidence.learned) : LearnedInput{};
    try {
        checkPlanInput(plan, "fit");
    } catch (const InputError&) {
        return {};
    }
    return plan;
}

} // namespace rw
