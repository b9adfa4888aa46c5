#include "core/plan/plan_json.h"

#include "core/error.h"
#include "core/plan/json_tree.h"
#include "core/plan/plan_fields.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

using Type = JsonValue::Type;

// What may stand at the top level and inside each group. Nested objects carry a dotted group name in the field table.
constexpr std::string_view uncertaintyKey = "uncertainty", correlationKey = "correlation", learnedKey = "learned";

std::vector<std::string_view> namesIn(std::string_view group) {
    std::vector<std::string_view> names;
    const auto offer = [&](std::string_view name) {
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    };
    for (const PlanField& field : planFields()) {
        if (group.empty())
            offer(field.group.substr(0, field.group.find('.')));
        else if (field.group == group)
            offer(field.name);
        else if (field.group.starts_with(group) && field.group[group.size()] == '.')
            offer(field.group.substr(group.size() + 1));
    }
    if (group.empty())
        for (const std::string_view name :
             {std::string_view("runwright"), std::string_view("version"), uncertaintyKey, correlationKey, learnedKey})
            offer(name);
    return names;
}

std::string nearest(std::string_view word, const std::vector<std::string_view>& known) {
    const std::string_view compared = word.substr(0, 80);
    return std::string(*std::min_element(known.begin(), known.end(), [&](std::string_view a, std::string_view b) {
        return editDistance(compared, a) < editDistance(compared, b);
    }));
}

class Reader {
public:
    explicit Reader(const JsonSource& source)
        : source_(source) {}

    PlanInput read(const JsonValue& root);

private:
    [[noreturn]] void refuse(const JsonValue& at, const std::string& path, const std::string& message) const {
        throw InputError(source_.place(at.at) + (path.empty() ? "" : ": " + path), message);
    }
    void expect(const JsonValue& value, Type type, const std::string& path) const {
        if (value.type == type) return;
        refuse(value, path, "expected " + std::string(typeName(type)) + ", found " + std::string(typeName(value.type)));
    }
    void refuseUnknown(const JsonValue& object, std::string_view group) const;
    void readHead(const JsonValue& root) const;
    void readGroup(const JsonValue* object, std::string_view group, const JsonValue& parent);
    void readField(const PlanField& field, const JsonValue& value);
    double readNumber(const PlanField& field, const JsonValue& value, const std::string& path) const;
    void readChoice(const PlanField& field, const JsonValue& value);
    std::vector<int> readGears(const PlanField& field, const JsonValue& value) const;
    std::vector<OcvPoint> readOcv(const JsonValue& value) const;
    void readUncertainty(const JsonValue& object);
    void readCorrelation(const JsonValue& list);
    void readLearned(const JsonValue& object);
    void refuseOthers(const JsonValue& object, const std::string& path,
                      const std::vector<std::string_view>& known) const;
    Estimate readEstimate(const JsonValue& object, const std::string& path) const;
    double memberNumber(const JsonValue& object, std::string_view name, const std::string& path) const;

    const JsonSource& source_;
    PlanInput input_;
};

void Reader::refuseUnknown(const JsonValue& object, std::string_view group) const {
    const auto known = namesIn(group);
    const std::string prefix = group.empty() ? "" : std::string(group) + ".";
    for (const auto& [name, value] : object.members)
        if (std::find(known.begin(), known.end(), name) == known.end())
            refuse(value, prefix + shortened(name),
                   "unknown key; the nearest known one is \"" + prefix + nearest(name, known) + "\"");
}

void Reader::readHead(const JsonValue& root) const {
    expect(root, Type::Object, "");
    const JsonValue* kind = root.find("runwright");
    if (kind == nullptr) refuse(root, "runwright", "missing; a plan input starts with \"runwright\": \"plan\"");
    expect(*kind, Type::Text, "runwright");
    if (kind->text != "plan") refuse(*kind, "runwright", "expected \"plan\", found \"" + shortened(kind->text) + "\"");
    const JsonValue* version = root.find("version");
    if (version == nullptr) refuse(root, "version", "missing; expected 1");
    expect(*version, Type::Number, "version");
    if (version->number != 1.0)
        refuse(*version, "version", "another version of the document; this program reads version 1");
}

PlanInput Reader::read(const JsonValue& root) {
    readHead(root);
    refuseUnknown(root, "");
    std::vector<std::string_view> done;
    for (const PlanField& field : planFields()) {
        if (field.group.find('.') != std::string_view::npos ||
            std::find(done.begin(), done.end(), field.group) != done.end())
            continue;
        done.push_back(field.group);
        readGroup(root.find(field.group), field.group, root);
    }
    if (const JsonValue* uncertain = root.find(uncertaintyKey)) readUncertainty(*uncertain);
    if (const JsonValue* pairs = root.find(correlationKey)) readCorrelation(*pairs);
    if (const JsonValue* learned = root.find(learnedKey)) readLearned(*learned);
    return input_;
}

// Reads a group's own fields and the objects nested in it; `object` is null where the document leaves the group out.
void Reader::readGroup(const JsonValue* object, std::string_view group, const JsonValue& parent) {
    if (object != nullptr) {
        expect(*object, Type::Object, std::string(group));
        refuseUnknown(*object, group);
    }
    std::vector<std::string_view> nested;
    for (const PlanField& field : planFields()) {
        if (field.group.starts_with(group) && field.group.size() > group.size() && field.group[group.size()] == '.' &&
            std::find(nested.begin(), nested.end(), field.group) == nested.end())
            nested.push_back(field.group);
        if (field.group != group) continue;
        const JsonValue* value = object == nullptr ? nullptr : object->find(field.name);
        if (value != nullptr)
            readField(field, *value);
        else if (field.required)
            refuse(object == nullptr ? parent : *object, field.key(),
                   "missing; it has no default (" + std::string(field.meaning) + ")");
        else if (field.name == "pinions")
            input_.gears.pinions = {input_.gears.pinion_teeth};
        else if (field.name == "spurs")
            input_.gears.spurs = {input_.gears.spur_teeth};
    }
    for (const std::string_view inner : nested)
        if (const JsonValue* value = object == nullptr ? nullptr : object->find(inner.substr(group.size() + 1)))
            readGroup(value, inner, *object);
}

void Reader::readField(const PlanField& field, const JsonValue& value) {
    if (field.kind == FieldKind::Choice) return readChoice(field, value);
    if (field.kind == FieldKind::OcvTable)
        input_.pack.ocv = readOcv(value);
    else if (field.kind == FieldKind::WholeList)
        (field.name == "pinions" ? input_.gears.pinions : input_.gears.spurs) = readGears(field, value);
    else if (value.type == Type::Null && field.nullable)
        field.set(input_, std::nullopt);
    else
        field.set(input_, readNumber(field, value, field.key()));
}

double Reader::readNumber(const PlanField& field, const JsonValue& value, const std::string& path) const {
    expect(value, Type::Number, path);
    checkFieldValue(field, value.number, source_.place(value.at) + ": " + path);
    return value.number;
}

void Reader::readChoice(const PlanField& field, const JsonValue& value) {
    std::string named;
    for (std::size_t i = 0; i < field.choices.size(); ++i) {
        if (value.type == Type::Text && value.text == field.choices[i])
            return field.set(input_, static_cast<double>(i));
        named += (i == 0                         ? "\""
                  : i + 1 < field.choices.size() ? ", \""
                                                 : " or \"") +
                 std::string(field.choices[i]) + "\"";
    }
    const std::string found =
        value.type == Type::Text ? "\"" + shortened(value.text) + "\"" : std::string(typeName(value.type));
    refuse(value, field.key(), "expected " + named + ", found " + found);
}

std::vector<int> Reader::readGears(const PlanField& field, const JsonValue& value) const {
    expect(value, Type::List, field.key());
    if (value.items.empty()) refuse(value, field.key(), "is empty; list at least one gear or leave the key out");
    std::vector<int> out;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        const double teeth = readNumber(field, value.items[i], field.key() + "[" + std::to_string(i) + "]");
        const int count = static_cast<int>(teeth);
        if (std::find(out.begin(), out.end(), count) == out.end()) out.push_back(count);
    }
    return out;
}

std::vector<OcvPoint> Reader::readOcv(const JsonValue& value) const {
    const std::string key = "pack.ocv";
    expect(value, Type::List, key);
    std::vector<OcvPoint> out;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        const JsonValue& row = value.items[i];
        const std::string path = key + "[" + std::to_string(i) + "]";
        expect(row, Type::List, path);
        if (row.items.size() != 2)
            refuse(row, path,
                   "expected [charge, volts per cell], found " + std::to_string(row.items.size()) + " values");
        for (const JsonValue& number : row.items)
            expect(number, Type::Number, path);
        out.push_back({row.items[0].number, row.items[1].number});
    }
    return out;
}

void Reader::readUncertainty(const JsonValue& object) {
    expect(object, Type::Object, std::string(uncertaintyKey));
    std::vector<std::string> keys;
    for (const PlanField& field : planFields())
        if (field.kind == FieldKind::Number || field.kind == FieldKind::Whole) keys.push_back(field.key());
    const std::vector<std::string_view> known(keys.begin(), keys.end());
    for (const auto& [name, value] : object.members) {
        const std::string path = std::string(uncertaintyKey) + "." + shortened(name);
        const PlanField* field = findPlanField(name);
        if (field == nullptr)
            refuse(value, path, "unknown key; the nearest known one is \"" + nearest(name, known) + "\"");
        if (field->kind != FieldKind::Number && field->kind != FieldKind::Whole)
            refuse(value, path, "is no number and so has no uncertainty");
        expect(value, Type::Number, path);
        if (value.number < 0.0) refuse(value, path, "is negative; a standard uncertainty is at least 0");
        input_.uncertainty[name] = value.number;
    }
}

void Reader::readCorrelation(const JsonValue& list) {
    expect(list, Type::List, std::string(correlationKey));
    for (std::size_t i = 0; i < list.items.size(); ++i) {
        const JsonValue& row = list.items[i];
        const std::string path = std::string(correlationKey) + "[" + std::to_string(i) + "]";
        expect(row, Type::List, path);
        if (row.items.size() != 3)
            refuse(row, path,
                   R"(expected ["group.key", "group.key", r], found )" + std::to_string(row.items.size()) + " values");
        expect(row.items[0], Type::Text, path);
        expect(row.items[1], Type::Text, path);
        expect(row.items[2], Type::Number, path);
        input_.correlation.push_back({row.items[0].text, row.items[1].text, row.items[2].number});
    }
}

void Reader::refuseOthers(const JsonValue& object, const std::string& path,
                          const std::vector<std::string_view>& known) const {
    expect(object, Type::Object, path);
    for (const auto& [name, value] : object.members)
        if (std::find(known.begin(), known.end(), name) == known.end())
            refuse(value, path + "." + shortened(name),
                   "unknown key; the nearest known one is \"" + path + "." + nearest(name, known) + "\"");
}

double Reader::memberNumber(const JsonValue& object, std::string_view name, const std::string& path) const {
    const JsonValue* value = object.find(name);
    const std::string place = path + "." + std::string(name);
    if (value == nullptr) refuse(object, place, "missing; expected a number");
    expect(*value, Type::Number, place);
    return value->number;
}

Estimate Reader::readEstimate(const JsonValue& object, const std::string& path) const {
    refuseOthers(object, path, {"value", "uncertainty"});
    return {memberNumber(object, "value", path), memberNumber(object, "uncertainty", path)};
}

void Reader::readLearned(const JsonValue& object) {
    const std::string path(learnedKey);
    refuseOthers(object, path, {"gains", "logs"});
    LearnedInput learned;
    if (const JsonValue* gains = object.find("gains")) {
        const std::string place = path + ".gains";
        refuseOthers(*gains, place, {"current", "voltage", "current_zero_A"});
        if (const JsonValue* v = gains->find("current")) learned.currentGain = readEstimate(*v, place + ".current");
        if (const JsonValue* v = gains->find("voltage")) learned.voltageGain = readEstimate(*v, place + ".voltage");
        if (const JsonValue* v = gains->find("current_zero_A"))
            learned.currentZero_A = readEstimate(*v, place + ".current_zero_A");
    }
    if (const JsonValue* logs = object.find("logs")) {
        expect(*logs, Type::List, path + ".logs");
        for (const JsonValue& item : logs->items) {
            expect(item, Type::Text, path + ".logs");
            learned.logs.push_back(item.text);
        }
    }
    input_.learned = std::move(learned);
}

} // namespace

std::vector<OcvPoint> defaultOcv() {
    return {{0, 3.27},   {0.05, 3.61}, {0.1, 3.69}, {0.2, 3.75}, {0.3, 3.79}, {0.4, 3.82},
            {0.5, 3.85}, {0.6, 3.91},  {0.7, 3.98}, {0.8, 4.05}, {0.9, 4.12}, {1, 4.20}};
}

PlanInput readPlanInput(std::string_view text, const std::string& fileName) {
    const JsonSource source{text, fileName};
    if (text.size() > planInputSizeLimit)
        throw InputError(fileName,
                         "is over " + std::to_string(planInputSizeLimit / 1024) + " KiB; that is no plan input");
    const PlanInput input = Reader(source).read(parseJson(source));
    checkPlanInput(input, fileName);
    return input;
}

} // namespace rw
