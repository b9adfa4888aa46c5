#include "core/json/json_write.h"
#include "core/plan/json_reader.h"
#include "core/plan/labels.h"
#include "core/plan/plan_json.h"

#include <array>

namespace rw {

namespace {

constexpr const char* documentName = "labels document";
constexpr const char* measuredKey = "measured";

// Labels first, then the plan's keys that may be given beyond them, groups as in both tables.
struct Rows {
    std::vector<const FieldInfo*> all;
    std::vector<const LabelField*> labels; // null for a row beyond labels
    std::vector<const PlanField*> beyond;

    Rows() {
        for (const LabelField& field : labelFields())
            add(&field, &field, nullptr);
        for (const PlanField* field : fieldsBeyondLabels())
            add(field, nullptr, field);
    }
    void add(const FieldInfo* info, const LabelField* label, const PlanField* plan) {
        all.push_back(info), labels.push_back(label), beyond.push_back(plan);
    }
};

class LabelsReader {
public:
    explicit LabelsReader(const JsonSource& source)
        : json_(source) {}

    LabelsInput read(const JsonValue& root) {
        json_.expectHead(root, "labels", "a labels document");
        constexpr std::array<std::string_view, 3> others{"runwright", "version", measuredKey};
        const Rows rows;
        json_.visitFields(root, rows.all, others, [&](std::size_t i, const JsonValue* value, const JsonValue& parent) {
            const LabelField* label = rows.labels[i];
            if (label != nullptr && value != nullptr)
                json_.readInto(*label, *value, out_);
            else if (label != nullptr && label->required)
                json_.refuseMissing(parent, *label);
            else if (label == nullptr && value != nullptr && value->type != JsonValue::Type::Null)
                out_.beyond[rows.beyond[i]->key()] = json_.number(*rows.beyond[i], *value, rows.beyond[i]->key());
        });
        if (const JsonValue* measured = root.find(measuredKey)) readMeasured(*measured);
        return out_;
    }

private:
    void readMeasured(const JsonValue& list) {
        json_.expect(list, JsonValue::Type::List, measuredKey);
        std::vector<std::string_view> known;
        for (const auto& [label, key] : measurableLabels())
            known.emplace_back(label);
        for (const JsonValue& item : list.items) {
            json_.expect(item, JsonValue::Type::Text, measuredKey);
            if (!measurableLabels().contains(item.text))
                json_.refuseUnknown(item, std::string(measuredKey) + ": " + shortened(item.text), item.text, "", known);
            out_.measured.insert(item.text);
        }
    }

    JsonReader json_;
    LabelsInput out_;
};

Json& groupOf(Json& root, std::string_view group) {
    Json* at = &root;
    while (!group.empty()) {
        const std::size_t dot = group.find('.');
        at = &(*at)[std::string(group.substr(0, dot))];
        group = dot == std::string_view::npos ? std::string_view() : group.substr(dot + 1);
    }
    return *at;
}

Json numberJson(const FieldInfo& field, double value) {
    if (field.kind == FieldKind::Choice) return field.choices[static_cast<std::size_t>(value)];
    if (field.kind == FieldKind::Flag) return value != 0.0;
    if (field.kind == FieldKind::Whole) return static_cast<int>(value);
    return value;
}

} // namespace

LabelsInput readLabels(std::string_view text, const std::string& fileName) {
    const JsonSource source{text, fileName};
    refuseTooLarge(text.size(), fileName, documentName);
    LabelsInput labels = LabelsReader(source).read(parseJson(source));
    checkLabels(labels, fileName);
    return labels;
}

LabelsInput readLabelsFile(const std::string& path) { return readLabels(readInputDocument(path), path); }

std::string writeLabels(const LabelsInput& labels) {
    Json out;
    out["runwright"] = "labels";
    out["version"] = 1;
    const Rows rows;
    for (std::size_t i = 0; i < rows.all.size(); ++i) {
        const FieldInfo& field = *rows.all[i];
        if (field.kind == FieldKind::WholeList) {
            if (const std::vector<int>& teeth = rows.labels[i]->listOf(labels); !teeth.empty())
                groupOf(out, field.group)[std::string(field.name)] = teeth;
        } else if (rows.labels[i] != nullptr) {
            if (const auto value = rows.labels[i]->get(labels))
                groupOf(out, field.group)[std::string(field.name)] = numberJson(field, *value);
        } else if (const auto given = labels.beyond.find(field.key()); given != labels.beyond.end()) {
            groupOf(out, field.group)[std::string(field.name)] = given->second;
        }
    }
    if (!labels.measured.empty()) out[measuredKey] = labels.measured;
    return out.dump(2) + "\n";
}

std::string labelsPlanJson(const LabelsPlan& result, const std::vector<Worth>& ask) {
    Json out;
    out["plan"] = Json::parse(writePlanInput(result.plan));
    out["estimates"] = Json::array();
    for (const LabelsValue& value : result.values)
        if (value.uncertainty > 0.0 && value.origin != ValueOrigin::Measured)
            out["estimates"].push_back(
                {{"key", value.key}, {"value", value.value}, {"uncertainty", value.uncertainty}, {"from", value.from}});
    out["ask"] = listJson(ask, worthJson);
    return out.dump(2) + "\n";
}

} // namespace rw
