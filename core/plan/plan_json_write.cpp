#include "core/plan/plan_json.h"

#include "core/plan/plan_fields.h"
#include "core/shortest_text.h"

#include <cmath>

namespace rw {

namespace {

// Shortest text that reads back to the same double.
std::string numberText(double value) { return std::isfinite(value) ? shortestText(value) : "null"; }

std::string listText(const std::vector<int>& list) {
    std::string out = "[";
    for (const int item : list)
        out += (out.size() > 1 ? ", " : "") + std::to_string(item);
    return out + "]";
}

std::string ocvText(const std::vector<OcvPoint>& table) {
    std::string out = "[";
    for (const OcvPoint& row : table)
        out += (out.size() > 1 ? ", [" : "[") + numberText(row.charge) + ", " + numberText(row.volts_perCell) + "]";
    return out + "]";
}

// Empty where the key is best left out: unset, with a default that depends on other keys.
std::string valueText(const PlanField& field, const PlanInput& input) {
    if (field.kind == FieldKind::WholeList) return listText(field.listOf(input));
    if (field.kind == FieldKind::OcvTable) return ocvText(input.pack.ocv);
    const auto value = field.get(input);
    if (!value) return field.defaultText == "none" || field.required ? "null" : "";
    if (field.kind == FieldKind::Choice)
        return "\"" + std::string(field.choices[static_cast<std::size_t>(*value)]) + "\"";
    return numberText(*value);
}

// Lines of an object, one member each, commas set by the caller's closing.
class ObjectText {
public:
    explicit ObjectText(int depth)
        : indent_(static_cast<std::size_t>(depth) * 2 + 2, ' ')
        , closing_(static_cast<std::size_t>(depth) * 2, ' ') {}
    void add(std::string_view name, const std::string& value) {
        body_ += (body_.empty() ? "" : ",\n") + indent_ + "\"" + std::string(name) + "\": " + value;
    }
    [[nodiscard]] std::string text() const { return body_.empty() ? "{}" : "{\n" + body_ + "\n" + closing_ + "}"; }

private:
    std::string indent_, closing_, body_;
};

std::string groupText(std::string_view group, const PlanInput& input, int depth) {
    ObjectText out(depth);
    std::string_view nestedDone;
    for (const PlanField& field : planFields()) {
        if (field.group == group) {
            const std::string value = valueText(field, input);
            if (!value.empty()) out.add(field.name, value);
        } else if (field.group.starts_with(group) && field.group.size() > group.size() &&
                   field.group[group.size()] == '.' && field.group != nestedDone) {
            nestedDone = field.group;
            out.add(field.group.substr(group.size() + 1), groupText(field.group, input, depth + 1));
        }
    }
    return out.text();
}

std::string estimateText(const Estimate& estimate) {
    return "{\"value\": " + numberText(estimate.value) + ", \"uncertainty\": " + numberText(estimate.uncertainty) + "}";
}

std::string correlationText(const std::vector<KeyCorrelation>& pairs) {
    std::string out = "[";
    for (const KeyCorrelation& pair : pairs)
        out += (out.size() > 1 ? ",\n    [\"" : "\n    [\"") + pair.first + "\", \"" + pair.second + "\", " +
               numberText(pair.coefficient) + "]";
    return out + "\n  ]";
}

std::string learnedText(const LearnedInput& learned) {
    ObjectText gains(2);
    gains.add("current", estimateText(learned.currentGain));
    gains.add("voltage", estimateText(learned.voltageGain));
    gains.add("current_zero_A", estimateText(learned.currentZero_A));
    std::string logs = "[";
    for (const std::string& log : learned.logs)
        logs += (logs.size() > 1 ? ", \"" : "\"") + log + "\"";
    ObjectText out(1);
    out.add("gains", gains.text());
    out.add("logs", logs + "]");
    return out.text();
}

} // namespace

std::string writePlanInput(const PlanInput& input) {
    ObjectText out(0);
    out.add("runwright", "\"plan\"");
    out.add("version", "1");
    std::string_view done;
    for (const PlanField& field : planFields()) {
        const std::string_view group = field.group.substr(0, field.group.find('.'));
        if (group == done) continue;
        done = group;
        out.add(group, groupText(group, input, 1));
    }
    ObjectText uncertain(1);
    for (const auto& [key, value] : input.uncertainty)
        uncertain.add(key, numberText(value));
    out.add("uncertainty", uncertain.text());
    if (!input.correlation.empty()) out.add("correlation", correlationText(input.correlation));
    if (input.learned) out.add("learned", learnedText(*input.learned));
    return out.text() + "\n";
}

} // namespace rw
