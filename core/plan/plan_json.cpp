#include "core/plan/plan_json.h"

#include "core/plan/json_reader.h"
#include "core/plan/plan_fields.h"

#include <array>

namespace rw {

namespace {

using Type = JsonValue::Type;

constexpr const char* documentName = "plan input";
constexpr std::string_view uncertaintyKey = "uncertainty", correlationKey = "correlation", learnedKey = "learned";
constexpr std::array<std::string_view, 5> namesBesideGroups{"runwright", "version", uncertaintyKey, correlationKey,
                                                            learnedKey};

class PlanReader {
public:
    explicit PlanReader(const JsonSource& source)
        : json_(source) {}

    PlanInput read(const JsonValue& root);

private:
    std::vector<OcvPoint> readOcv(const JsonValue& value) const;
    void readUncertainty(const JsonValue& object);
    void readCorrelation(const JsonValue& list);
    void readLearned(const JsonValue& object);
    Estimate readEstimate(const JsonValue& object, const std::string& path) const;

    JsonReader json_;
    PlanInput input_;
};

PlanInput PlanReader::read(const JsonValue& root) {
    json_.expectHead(root, "plan", "a plan input");
    std::vector<const FieldInfo*> fields;
    for (const PlanField& field : planFields())
        fields.push_back(&field);
    json_.visitFields(root, fields, namesBesideGroups,
                      [&](std::size_t index, const JsonValue* value, const JsonValue& parent) {
                          const PlanField& field = planFields()[index];
                          if (value == nullptr && field.required)
                              json_.refuseMissing(parent, field);
                          else if (value == nullptr && field.list)
                              field.list(input_) = {static_cast<int>(*field.standIn(input_))};
                          else if (value != nullptr && field.kind == FieldKind::OcvTable)
                              input_.pack.ocv = readOcv(*value);
                          else if (value != nullptr)
                              json_.readInto(field, *value, input_);
                      });
    if (const JsonValue* uncertain = root.find(uncertaintyKey)) readUncertainty(*uncertain);
    if (const JsonValue* pairs = root.find(correlationKey)) readCorrelation(*pairs);
    if (const JsonValue* learned = root.find(learnedKey)) readLearned(*learned);
    return input_;
}

std::vector<OcvPoint> PlanReader::readOcv(const JsonValue& value) const {
    const std::string key = "pack.ocv";
    json_.expect(value, Type::List, key);
    std::vector<OcvPoint> out;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        const JsonValue& row = value.items[i];
        const std::string path = key + "[" + std::to_string(i) + "]";
        json_.expect(row, Type::List, path);
        if (row.items.size() != 2)
            json_.refuse(row, path,
                         "expected [charge, volts per cell], found " + std::to_string(row.items.size()) + " values");
        for (const JsonValue& number : row.items)
            json_.expect(number, Type::Number, path);
        out.push_back({row.items[0].number, row.items[1].number});
    }
    return out;
}

void PlanReader::readUncertainty(const JsonValue& object) {
    json_.expect(object, Type::Object, std::string(uncertaintyKey));
    std::vector<std::string> keys;
    for (const PlanField& field : planFields())
        if (field.kind == FieldKind::Number || field.kind == FieldKind::Whole) keys.push_back(field.key());
    const std::vector<std::string_view> known(keys.begin(), keys.end());
    for (const auto& [name, value] : object.members) {
        const std::string path = std::string(uncertaintyKey) + "." + shortened(name);
        const PlanField* field = findPlanField(name);
        if (field == nullptr) json_.refuseUnknown(value, path, name, "", known);
        if (field->kind != FieldKind::Number && field->kind != FieldKind::Whole)
            json_.refuse(value, path, "is no number and so has no uncertainty");
        json_.expect(value, Type::Number, path);
        if (value.number < 0.0) json_.refuse(value, path, "is negative; a standard uncertainty is at least 0");
        input_.uncertainty[name] = value.number;
    }
}

void PlanReader::readCorrelation(const JsonValue& list) {
    json_.expect(list, Type::List, std::string(correlationKey));
    for (std::size_t i = 0; i < list.items.size(); ++i) {
        const JsonValue& row = list.items[i];
        const std::string path = std::string(correlationKey) + "[" + std::to_string(i) + "]";
        json_.expect(row, Type::List, path);
        if (row.items.size() != 3)
            json_.refuse(row, path,
                         R"(expected ["group.key", "group.key", r], found )" + std::to_string(row.items.size()) +
                             " values");
        json_.expect(row.items[0], Type::Text, path);
        json_.expect(row.items[1], Type::Text, path);
        json_.expect(row.items[2], Type::Number, path);
        input_.correlation.push_back({row.items[0].text, row.items[1].text, row.items[2].number});
    }
}

Estimate PlanReader::readEstimate(const JsonValue& object, const std::string& path) const {
    json_.expectMembers(object, path, {"value", "uncertainty"});
    return {json_.memberNumber(object, "value", path), json_.memberNumber(object, "uncertainty", path)};
}

void PlanReader::readLearned(const JsonValue& object) {
    const std::string path(learnedKey);
    json_.expectMembers(object, path, {"gains", "logs"});
    LearnedInput learned;
    if (const JsonValue* gains = object.find("gains")) {
        const std::string place = path + ".gains";
        json_.expectMembers(*gains, place, {"current", "voltage", "current_zero_A"});
        if (const JsonValue* v = gains->find("current")) learned.currentGain = readEstimate(*v, place + ".current");
        if (const JsonValue* v = gains->find("voltage")) learned.voltageGain = readEstimate(*v, place + ".voltage");
        if (const JsonValue* v = gains->find("current_zero_A"))
            learned.currentZero_A = readEstimate(*v, place + ".current_zero_A");
    }
    if (const JsonValue* logs = object.find("logs")) {
        json_.expect(*logs, Type::List, path + ".logs");
        for (const JsonValue& item : logs->items) {
            json_.expect(item, Type::Text, path + ".logs");
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
    refuseTooLarge(text.size(), fileName, documentName);
    PlanInput input = PlanReader(source).read(parseJson(source));
    checkPlanInput(input, fileName);
    return input;
}

PlanInput readPlanInputFile(const std::string& path) { return readPlanInput(readInputDocument(path), path); }

} // namespace rw
