// From boxes and labels to a whole plan: what is printed or measured as it is, everything else estimated by the rules
// of labels_rules.h with its standard uncertainty. Values given beyond labels replace their estimate; their uncertainty
// is that of a good measurement by hand, from the field table.
#pragma once

#include "core/plan/labels_input.h"
#include "core/plan/plan_input.h"
#include "core/plan/worth.h"

#include <string>
#include <string_view>
#include <vector>

namespace rw {

enum class ValueOrigin { Label, Measured, Estimated };

struct LabelsValue {
    std::string key;                       // of the plan
    double value = 0.0, uncertainty = 0.0; // in the key's unit; 0: taken as exact
    ValueOrigin origin = ValueOrigin::Label;
    std::string from; // "label", "measured", or the rule and its source
};

struct LabelsPlan {
    PlanInput plan;                  // whole and valid, with an uncertainty for every estimated key
    std::vector<LabelsValue> values; // every number that labels, measurements or rules gave
};

// Throws InputError naming the label that is missing, out of range or contradicts others.
[[nodiscard]] LabelsPlan estimatePlan(const LabelsInput& labels, const std::string& fileName = "labels");

// A complete labels document to start from. The car is invented.
[[nodiscard]] LabelsInput exampleLabels();

// Throws InputError like readPlanInput.
[[nodiscard]] LabelsInput readLabels(std::string_view text, const std::string& fileName);
[[nodiscard]] LabelsInput readLabelsFile(const std::string& path); // "-" is standard input
[[nodiscard]] std::string writeLabels(const LabelsInput& labels);  // what is empty is left out
// {plan, estimates, ask}.
[[nodiscard]] std::string labelsPlanJson(const LabelsPlan& result, const std::vector<Worth>& ask);

} // namespace rw
