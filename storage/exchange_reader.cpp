#include "storage/exchange_reader.h"

#include "core/error.h"

#include <cmath>

namespace rw::store {

Members::Members(const JsonSource& source, const JsonValue& object, const IdsByRef& ids)
    : source_(source)
    , object_(object)
    , ids_(ids) {
    if (object.type != JsonValue::Type::Object) fail("expected an object, found " + std::string(typeName(object.type)));
}

void Members::fail(const JsonValue& at, const std::string& sentence) const {
    throw InputError(source_.place(at.at), sentence);
}

const JsonValue& Members::need(std::string_view name, JsonValue::Type type) {
    asked_.emplace(name);
    const JsonValue* member = object_.find(name);
    if (member == nullptr) fail("'" + std::string(name) + "' is missing");
    if (member->type != type)
        fail(*member, "'" + std::string(name) + "' is " + std::string(typeName(member->type)) + "; expected " +
                          std::string(typeName(type)));
    return *member;
}

const JsonValue* Members::maybe(std::string_view name, JsonValue::Type type) {
    const JsonValue* member = object_.find(name);
    if (member != nullptr && member->type == JsonValue::Type::Null) {
        asked_.emplace(name);
        return nullptr;
    }
    return &need(name, type);
}

std::string Members::text(std::string_view name) { return need(name, JsonValue::Type::Text).text; }
std::string Members::textIfAny(std::string_view name) { return has(name) ? text(name) : std::string(); }
bool Members::boolean(std::string_view name) { return need(name, JsonValue::Type::Boolean).boolean; }
double Members::number(std::string_view name) { return need(name, JsonValue::Type::Number).number; }

std::int64_t Members::whole(std::string_view name) {
    const JsonValue& member = need(name, JsonValue::Type::Number);
    constexpr double exact = 9007199254740991.0; // 2^53 − 1: RFC 8259, section 6
    if (member.number != std::floor(member.number) || std::abs(member.number) > exact)
        fail(member, "'" + std::string(name) + "' is no whole number");
    return static_cast<std::int64_t>(member.number);
}

std::optional<double> Members::maybeNumber(std::string_view name) {
    const JsonValue* member = maybe(name, JsonValue::Type::Number);
    return member == nullptr ? std::nullopt : std::optional(member->number);
}

std::optional<double> Members::numberIfAny(std::string_view name) {
    return has(name) ? std::optional(number(name)) : std::nullopt;
}

std::optional<std::int64_t> Members::maybeWhole(std::string_view name) {
    return maybe(name, JsonValue::Type::Number) == nullptr ? std::nullopt : std::optional(whole(name));
}

Id Members::referenceOf(const JsonValue& text) const {
    if (text.type != JsonValue::Type::Text) fail(text, "expected the id of an item before this one");
    const auto found = ids_.find(text.text);
    if (found == ids_.end()) fail(text, "'" + shortened(text.text) + "' is no item before this one");
    return found->second;
}

Id Members::reference(std::string_view name) { return referenceOf(need(name, JsonValue::Type::Text)); }

std::optional<Id> Members::maybeReference(std::string_view name) {
    const JsonValue* member = maybe(name, JsonValue::Type::Text);
    return member == nullptr ? std::nullopt : std::optional(referenceOf(*member));
}

const std::vector<JsonValue>& Members::list(std::string_view name) { return need(name, JsonValue::Type::List).items; }

Value Members::value(const JsonValue& object) const {
    Members members(source_, object, ids_);
    Value out;
    out.number = members.maybeNumber("number");
    out.text = members.text("text");
    out.unitShown = members.text("unit");
    out.uncertainty = members.maybeNumber("uncertainty");
    const std::string name = members.text("source");
    const auto source = sourceFromName(name);
    if (!source)
        members.fail("'" + shortened(name) +
                     "' is no source; expected maker's sheet, measured, fitted, guess, label or estimated");
    out.source = *source;
    out.note = members.text("note");
    members.finish();
    return out;
}

Values Members::values(std::string_view name) {
    Values out;
    for (const auto& [key, object] : need(name, JsonValue::Type::Object).members)
        out.emplace(key, value(object));
    return out;
}

Figures Members::figures(std::string_view name) {
    Figures out;
    for (const auto& [key, number] : need(name, JsonValue::Type::Object).members) {
        if (number.type != JsonValue::Type::Number) fail(number, "expected a number");
        out.emplace(key, number.number);
    }
    return out;
}

void Members::finish() const {
    for (const auto& [name, value] : object_.members)
        if (!asked_.contains(name)) fail(value, "'" + shortened(name) + "' is not known here");
}

} // namespace rw::store
