#include "storage/plan_values.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "storage/allowed.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>

namespace rw {

namespace {

using nlohmann::json;

json tableOf(const std::vector<OcvPoint>& points) {
    json out = json::array();
    for (const OcvPoint& point : points)
        out.push_back({point.charge, point.volts_perCell});
    return out;
}

std::string listText(const PlanField& field, const PlanInput& input) {
    if (field.kind == FieldKind::OcvTable) return tableOf(input.pack.ocv).dump();
    return json(field.listOf(input)).dump();
}

[[noreturn]] void notAList(const std::string& place) {
    throw InputError(place, "is stored as something else than the list that it should be");
}

double numberIn(const JsonValue& value, const std::string& place) {
    if (value.type != JsonValue::Type::Number) notAList(place);
    return value.number;
}

void setList(PlanInput& input, const PlanField& field, const std::string& text, const std::string& place) {
    const JsonValue list = parseJson({text, place});
    if (list.type != JsonValue::Type::List) notAList(place);
    if (field.kind == FieldKind::OcvTable) {
        input.pack.ocv.clear();
        for (const JsonValue& row : list.items) {
            if (row.type != JsonValue::Type::List || row.items.size() != 2) notAList(place);
            input.pack.ocv.push_back({numberIn(row.items[0], place), numberIn(row.items[1], place)});
        }
        return;
    }
    std::vector<int>& teeth = field.list(input);
    teeth.clear();
    for (const JsonValue& item : list.items) {
        checkFieldValue(field, numberIn(item, place), place);
        teeth.push_back(static_cast<int>(item.number));
    }
}

void setChoice(PlanInput& input, const PlanField& field, const std::string& word, const std::string& place) {
    for (std::size_t i = 0; i < field.choices.size(); ++i)
        if (field.choices[i] == word) return field.set(input, static_cast<double>(i));
    throw InputError(place, "'" + shortened(word) + "' is none of the choices");
}

bool isList(const PlanField& field) { return field.kind == FieldKind::WholeList || field.kind == FieldKind::OcvTable; }

// Whether the field has a value there.
bool putField(PlanInput& input, const PlanField& field, const Values& values, const std::string& name) {
    const std::string key = field.key();
    const Value* const found = valueOf(values, key);
    if (found == nullptr) return false;
    const Value& value = *found;
    const std::string place = name + ": " + key;
    if (value.uncertainty) input.uncertainty.insert_or_assign(key, *value.uncertainty);
    if (isList(field) && !value.text.empty())
        setList(input, field, value.text, place);
    else if (field.kind == FieldKind::Choice && !value.text.empty())
        setChoice(input, field, value.text, place);
    else if (value.number && field.get != nullptr)
        field.set(input, value.number);
    else
        return false;
    return true;
}

} // namespace

void allowPlanText(const PlanField& field, const std::string& text, const std::string& place) {
    PlanInput scratch;
    if (isList(field))
        setList(scratch, field, text, place);
    else if (field.kind == FieldKind::Choice)
        setChoice(scratch, field, text, place);
    else
        throw InputError(place, "is a number, not a text");
}

Values valuesFromPlan(const PlanInput& input, Source source) {
    Values out;
    for (const PlanField& field : planFields()) {
        Value value;
        value.source = source;
        if (isList(field)) {
            value.text = listText(field, input);
        } else if (const auto number = field.get(input)) {
            if (field.kind == FieldKind::Choice)
                value.text = field.choices[static_cast<std::size_t>(*number)];
            else
                value.number = number;
        }
        const auto uncertainty = input.uncertainty.find(field.key());
        if (uncertainty != input.uncertainty.end()) value.uncertainty = uncertainty->second;
        if (value.number || !value.text.empty() || value.uncertainty) out.emplace(field.key(), value);
    }
    return out;
}

Values valuesOf(ItemKind kind, const Values& all) {
    Values out;
    for (const auto& [key, value] : all)
        if (keyBelongsTo(kind, key)) out.emplace(key, value);
    return out;
}

std::vector<std::string> putPart(PlanInput& input, ItemKind kind, const Values& values, const std::string& name) {
    std::vector<std::string> missing;
    for (const PlanField& field : planFields())
        if (const std::string key = field.key(); keyBelongsTo(kind, key))
            if (!putField(input, field, values, name) && field.required) missing.push_back(key);
    return missing;
}

PlanInput planFromValues(const Values& values, const std::string& name, const Evidence& evidence) {
    PlanInput out;
    std::string missing;
    for (const PlanField& field : planFields())
        if (!putField(out, field, values, name) && field.required)
            missing += (missing.empty() ? "" : ", ") + field.key();
    if (!missing.empty()) throw InputError(name, "these are missing: " + missing);
    for (const PlanField& field : planFields())
        if (field.list && field.list(out).empty()) field.list(out) = {static_cast<int>(*field.standIn(out))};
    const auto uncertain = [&out](const std::string& key) { return out.uncertainty.contains(key); };
    for (const KeyCorrelation& pair : evidence.correlation)
        if (uncertain(pair.first) && uncertain(pair.second)) out.correlation.push_back(pair);
    out.learned = evidence.learned;
    checkPlanInput(out, name);
    return out;
}

bool isSetting(std::string_view key) {
    constexpr std::array<std::string_view, 4> settings{"motor.timing_deg", "controller.endpoint",
                                                       "controller.rate_per_s", "pack.charge"};
    return std::ranges::find(settings, key) != settings.end() || key.starts_with("controller.cutoff.");
}

Values valuesWithPart(Values all, ItemKind kind, const Values& part) {
    std::erase_if(all,
                  [kind](const auto& entry) { return keyBelongsTo(kind, entry.first) && !isSetting(entry.first); });
    for (const auto& [key, value] : part)
        all.insert_or_assign(key, value);
    return all;
}

} // namespace rw
