// Plan input ⇄ values by key. What goes in one way comes back the other, bit for bit, uncertainties included. Private
// to storage.
#pragma once

#include "core/plan/plan_fields.h"
#include "storage/values.h"

#include <string>
#include <string_view>
#include <vector>

namespace rw {

// Every key that is set or has an uncertainty.
[[nodiscard]] Values valuesFromPlan(const PlanInput& input, Source source);
// Only those that belong to the kind; for a gear wheel those of the pinion or the spur.
[[nodiscard]] Values valuesOf(ItemKind kind, const Values& all);
// `name` is for messages. Throws InputError that names the missing keys, or as checkPlanInput.
[[nodiscard]] PlanInput planFromValues(const Values& values, const std::string& name, const Evidence& evidence = {});
// The values of a part of that kind put into a plan input; what it does not tell stays as it is there. Returns the keys
// that are missing without a default.
[[nodiscard]] std::vector<std::string> putPart(PlanInput& input, ItemKind kind, const Values& values,
                                               const std::string& name);

// Throws InputError where the text is none of a choice's words, or no list that the field takes.
void allowPlanText(const PlanField& field, const std::string& text, const std::string& place);

// The driver's settings of a part, which another part takes over unless it tells its own: timing, endpoint, throttle
// rate, cutoff, charge.
[[nodiscard]] bool isSetting(std::string_view key);

// `all` with the values of a part of that kind in place of those that were there.
[[nodiscard]] Values valuesWithPart(Values all, ItemKind kind, const Values& part);

} // namespace rw
