#include "core/plan/json_reader.h"

#include "core/error.h"
#include "core/system/input_file.h"

#include <algorithm>

namespace rw {

namespace {

using Type = JsonValue::Type;

std::string nearest(std::string_view word, const std::vector<std::string_view>& known) {
    const std::string_view compared = word.substr(0, 80);
    return std::string(*std::ranges::min_element(known, [&](std::string_view a, std::string_view b) {
        return editDistance(compared, a) < editDistance(compared, b);
    }));
}

bool isNestedIn(std::string_view inner, std::string_view outer) {
    if (outer.empty()) return !inner.empty() && inner.find('.') == std::string_view::npos;
    return inner.size() > outer.size() && inner.starts_with(outer) && inner[outer.size()] == '.';
}

std::string_view lastName(std::string_view group) {
    const std::size_t dot = group.rfind('.');
    return dot == std::string_view::npos ? group : group.substr(dot + 1);
}

template<class Item>
void offer(std::vector<Item>& list, const Item& item) {
    if (std::ranges::find(list, item) == list.end()) list.push_back(item);
}

} // namespace

std::string readInputDocument(const std::string& path) {
    return std::string(InputFile(path, inputDocumentSizeLimit).bytes());
}

void refuseTooLarge(std::size_t size, const std::string& fileName, const std::string& what) {
    if (size > inputDocumentSizeLimit)
        throw InputError(fileName,
                         "is over " + std::to_string(inputDocumentSizeLimit / 1024) + " KiB; that is no " + what);
}

void JsonReader::refuse(const JsonValue& at, const std::string& path, const std::string& message) const {
    throw InputError(source_.place(at.at) + (path.empty() ? "" : ": " + path), message);
}

void JsonReader::expect(const JsonValue& value, Type type, const std::string& path) const {
    if (value.type == type) return;
    refuse(value, path, "expected " + std::string(typeName(type)) + ", found " + std::string(typeName(value.type)));
}

void JsonReader::expectHead(const JsonValue& root, std::string_view kind, std::string_view what) const {
    const std::string name = "\"" + std::string(kind) + "\"";
    expect(root, Type::Object, "");
    const JsonValue* head = root.find("runwright");
    if (head == nullptr)
        refuse(root, "runwright", "missing; " + std::string(what) + " starts with \"runwright\": " + name);
    expect(*head, Type::Text, "runwright");
    if (head->text != kind)
        refuse(*head, "runwright", "expected " + name + ", found \"" + shortened(head->text) + "\"");
    const JsonValue* version = root.find("version");
    if (version == nullptr) refuse(root, "version", "missing; expected 1");
    expect(*version, Type::Number, "version");
    if (version->number != 1.0)
        refuse(*version, "version", "another version of the document; this program reads version 1");
}

// One object of the document and what it may hold; `object` is null where the document leaves it out.
struct JsonReader::Group {
    const JsonValue* object = nullptr;
    const JsonValue& parent;
    std::string_view name;
    std::span<const FieldInfo* const> fields;
    std::span<const std::string_view> otherNames;
    const Visit& visit;
};

void JsonReader::visitFields(const JsonValue& root, std::span<const FieldInfo* const> fields,
                             std::span<const std::string_view> otherNames, const Visit& visit) const {
    visitGroup({&root, root, "", fields, otherNames, visit});
}

void JsonReader::visitGroup(const Group& group) const {
    std::vector<std::string_view> known, inside;
    for (const FieldInfo* field : group.fields) {
        if (field->group == group.name)
            offer(known, field->name);
        else if (isNestedIn(field->group, group.name))
            offer(inside, field->group);
    }
    for (const std::string_view inner : inside)
        offer(known, lastName(inner));
    known.insert(known.end(), group.otherNames.begin(), group.otherNames.end());
    if (group.object != nullptr) expectMembers(*group.object, std::string(group.name), known);
    for (std::size_t i = 0; i < group.fields.size(); ++i) {
        if (group.fields[i]->group != group.name) continue;
        const JsonValue* value = group.object == nullptr ? nullptr : group.object->find(group.fields[i]->name);
        group.visit(i, value, group.object == nullptr ? group.parent : *group.object);
    }
    for (const std::string_view inner : inside) {
        const JsonValue* object = group.object == nullptr ? nullptr : group.object->find(lastName(inner));
        if (object == nullptr && !group.name.empty()) continue;
        visitGroup(
            {object, group.object == nullptr ? group.parent : *group.object, inner, group.fields, {}, group.visit});
    }
}

void JsonReader::expectMembers(const JsonValue& object, const std::string& path,
                               const std::vector<std::string_view>& known) const {
    expect(object, Type::Object, path);
    const std::string prefix = path.empty() ? "" : path + ".";
    for (const auto& [name, value] : object.members)
        if (std::ranges::find(known, name) == known.end())
            refuseUnknown(value, prefix + shortened(name), name, prefix, known);
}

double JsonReader::memberNumber(const JsonValue& object, std::string_view name, const std::string& path) const {
    const JsonValue* value = object.find(name);
    const std::string place = path + "." + std::string(name);
    if (value == nullptr) refuse(object, place, "missing; expected a number");
    expect(*value, Type::Number, place);
    return value->number;
}

void JsonReader::refuseUnknown(const JsonValue& at, const std::string& path, std::string_view nearestTo,
                               const std::string& prefix, const std::vector<std::string_view>& known) const {
    refuse(at, path, "unknown key; the nearest known one is \"" + prefix + nearest(nearestTo, known) + "\"");
}

void JsonReader::refuseMissing(const JsonValue& parent, const FieldInfo& field) const {
    refuse(parent, field.key(), "missing; it has no default (" + std::string(field.meaning) + ")");
}

double JsonReader::number(const FieldInfo& field, const JsonValue& value, const std::string& path) const {
    expect(value, Type::Number, path);
    checkFieldValue(field, value.number, source_.place(value.at) + ": " + path);
    return value.number;
}

std::size_t JsonReader::choice(const FieldInfo& field, const JsonValue& value) const {
    std::string named;
    for (std::size_t i = 0; i < field.choices.size(); ++i) {
        if (value.type == Type::Text && value.text == field.choices[i]) return i;
        named += (i == 0                         ? "\""
                  : i + 1 < field.choices.size() ? ", \""
                                                 : " or \"") +
                 std::string(field.choices[i]) + "\"";
    }
    const std::string found =
        value.type == Type::Text ? "\"" + shortened(value.text) + "\"" : std::string(typeName(value.type));
    refuse(value, field.key(), "expected " + named + ", found " + found);
}

bool JsonReader::flag(const FieldInfo& field, const JsonValue& value) const {
    expect(value, Type::Boolean, field.key());
    return value.boolean;
}

std::vector<int> JsonReader::wholeList(const FieldInfo& field, const JsonValue& value) const {
    expect(value, Type::List, field.key());
    if (value.items.empty()) refuse(value, field.key(), "is empty; list at least one gear or leave the key out");
    std::vector<int> out;
    for (std::size_t i = 0; i < value.items.size(); ++i)
        offer(out, static_cast<int>(number(field, value.items[i], field.key() + "[" + std::to_string(i) + "]")));
    return out;
}

} // namespace rw
