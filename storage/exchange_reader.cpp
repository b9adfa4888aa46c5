#include "storage/exchange_reader.h"

#include "core/error.h"
#include "storage/codec.h"
#include "storage/evidence.h"

#include <cmath>

namespace rw::store {

Reader::Reader(const JsonSource& source, const JsonValue& object, const IdsByRef& ids)
    : source_(source)
    , object_(object)
    , ids_(ids) {
    if (object.type != JsonValue::Type::Object) fail("expected an object, found " + std::string(typeName(object.type)));
}

void Reader::fail(const JsonValue& at, const std::string& sentence) const {
    throw InputError(source_.place(at.at), sentence);
}

const JsonValue& Reader::need(const char* name, JsonValue::Type type) {
    asked_.emplace(name);
    const JsonValue* member = object_.find(name);
    if (member == nullptr) fail("'" + std::string(name) + "' is missing");
    if (member->type != type)
        fail(*member, "'" + std::string(name) + "' is " + std::string(typeName(member->type)) + "; expected " +
                          std::string(typeName(type)));
    return *member;
}

bool Reader::isNull(const char* name) {
    const JsonValue* member = object_.find(name);
    if (member == nullptr || member->type != JsonValue::Type::Null) return false;
    asked_.emplace(name);
    return true;
}

void Reader::operator()(const char* name, std::int64_t& out) {
    const JsonValue& member = need(name, JsonValue::Type::Number);
    constexpr double exact = 9007199254740991.0; // 2^53 − 1: RFC 8259, section 6
    if (member.number != std::floor(member.number) || std::abs(member.number) > exact)
        fail(member, "'" + std::string(name) + "' is no whole number");
    out = static_cast<std::int64_t>(member.number);
}

void Reader::within(const char* name, int& out, int least, int most, const char* complaint) {
    std::int64_t number = 0;
    (*this)(name, number);
    if (number < least || number > most) fail(complaint);
    out = static_cast<int>(number);
}

void Reader::operator()(const char* name, Values& out) {
    for (const auto& [key, value] : need(name, JsonValue::Type::Object).members)
        read(value, out[key]);
}

void Reader::operator()(const char* name, Figures& out) {
    for (const auto& [key, number] : need(name, JsonValue::Type::Object).members)
        read(number, out[key]);
}

void Reader::operator()(const char* name, Evidence& out) { out = readEvidence(text(name), source_.name + ": " + name); }

void Reader::ifAny(const char* name, std::optional<LearnedInput>& out) {
    if (has(name)) out = readLearnedInput(text(name), source_.name + ": " + name);
}

void Reader::packed(PackedLog& out) {
    std::string bytes;
    (*this)("sha256", out.sha256), (*this)("size", out.size), (*this)("bytes", bytes);
    try {
        out.zstd = base64Decode(bytes);
        if (zstdFingerprint(out.zstd, largestLog) != std::pair(out.sha256, out.size))
            fail("the log's bytes are not those that its SHA-256 and size name");
    } catch (const InputError&) {
        throw;
    } catch (const std::runtime_error& error) {
        fail(std::string("the log's bytes are broken: ") + error.what());
    }
}

void Reader::read(const JsonValue& item, Id& out) const {
    if (item.type != JsonValue::Type::Text) fail(item, "expected the id of an item before this one");
    const auto found = ids_.find(item.text);
    if (found == ids_.end()) fail(item, "'" + shortened(item.text) + "' is no item before this one");
    out = found->second;
}

void Reader::read(const JsonValue& item, std::string& out) const {
    if (item.type != JsonValue::Type::Text) fail(item, "expected a path"); // the only list of texts
    out = item.text;
}

void Reader::read(const JsonValue& item, double& out) const {
    if (item.type != JsonValue::Type::Number) fail(item, "expected a number");
    out = item.number;
}

void Reader::finish() const {
    for (const auto& [name, value] : object_.members)
        if (!asked_.contains(name)) fail(value, "'" + shortened(name) + "' is not known here");
}

} // namespace rw::store
