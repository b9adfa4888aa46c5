#include "storage/own_limits.h"

#include "core/error.h"
#include "storage/plan_values.h"

namespace rw {

namespace {

constexpr std::string_view ofTheReview = "review.";

} // namespace

Values ownLimits(Garage& garage, Id id, const std::string& place) {
    if (id.kind != ItemKind::LimitSet) throw InputError(place, "expected limits, such as limits-1");
    Values out;
    for (const auto& [key, value] : garage.part(id).values)
        out[key].number = value.number, out[key].text = value.text;
    return out;
}

std::string thresholdKey(std::string_view name) { return std::string(ofTheReview) + std::string(name); }

void putLimits(const Values& own, const std::string& name, PlanInput& plan) {
    static_cast<void>(putPart(plan, ItemKind::LimitSet, own, name));
    checkPlanInput(plan, name);
}

void putThresholds(const Values& own, ReviewThresholds& thresholds) {
    for (const auto& [key, value] : own)
        if (key.starts_with(ofTheReview) && value.number)
            setThreshold(thresholds, key.substr(ofTheReview.size()), *value.number);
}

} // namespace rw
