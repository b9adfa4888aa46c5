// Reading an input document of this program (plan, labels) against its field table: what may stand where, and the same
// complaints for all of them. Every function throws InputError with line, column and key path.
#pragma once

#include "core/json/json_tree.h"
#include "core/plan/plan_fields.h"

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// A document larger than this is refused before it is read or parsed; a whole one has about 4 KiB.
inline constexpr std::size_t inputDocumentSizeLimit = std::size_t{1024} * 1024;

[[nodiscard]] std::string readInputDocument(const std::string& path); // the text of a file, "-": standard input
void refuseTooLarge(std::size_t size, const std::string& fileName, const std::string& what);

class JsonReader {
public:
    explicit JsonReader(const JsonSource& source)
        : source_(source) {}

    [[noreturn]] void refuse(const JsonValue& at, const std::string& path, const std::string& message) const;
    void expect(const JsonValue& value, JsonValue::Type type, const std::string& path) const;
    // "runwright": kind, "version": 1. `what` in words: "a plan input".
    void expectHead(const JsonValue& root, std::string_view kind, std::string_view what) const;

    // Calls visit for every field, once, in the table's order within each group: with its value, or null where the
    // document has none, and with the object that would hold it. Nested groups ("controller.cutoff") come after the
    // fields of their parent, and only where the document has them. Refuses what is neither a field nor one of the
    // other names at the top.
    using Visit = std::function<void(std::size_t field, const JsonValue* value, const JsonValue& parent)>;
    void visitFields(const JsonValue& root, std::span<const FieldInfo* const> fields,
                     std::span<const std::string_view> otherNames, const Visit& visit) const;

    [[noreturn]] void refuseUnknown(const JsonValue& at, const std::string& path, std::string_view nearestTo,
                                    const std::string& prefix, const std::vector<std::string_view>& known) const;
    // An object without other members than these.
    void expectMembers(const JsonValue& object, const std::string& path,
                       const std::vector<std::string_view>& known) const;
    [[nodiscard]] double memberNumber(const JsonValue& object, std::string_view name, const std::string& path) const;
    [[noreturn]] void refuseMissing(const JsonValue& parent, const FieldInfo& field) const;
    // A value into its field; null puts back what stands for none. Not for tables.
    template<class Input>
    void readInto(const InputField<Input>& field, const JsonValue& value, Input& input) const {
        if (field.kind == FieldKind::Choice)
            field.set(input, static_cast<double>(choice(field, value)));
        else if (field.kind == FieldKind::Flag)
            field.set(input, flag(field, value) ? 1.0 : 0.0);
        else if (field.kind == FieldKind::WholeList)
            field.list(input) = wholeList(field, value);
        else if (value.type == JsonValue::Type::Null && field.nullable)
            field.set(input, std::nullopt);
        else
            field.set(input, number(field, value, field.key()));
    }
    [[nodiscard]] double number(const FieldInfo& field, const JsonValue& value, const std::string& path) const;

private:
    [[nodiscard]] std::size_t choice(const FieldInfo& field, const JsonValue& value) const; // index into its choices
    [[nodiscard]] bool flag(const FieldInfo& field, const JsonValue& value) const;
    [[nodiscard]] std::vector<int> wholeList(const FieldInfo& field, const JsonValue& value) const; // each once
    struct Group;
    void visitGroup(const Group& group) const;

    const JsonSource& source_;
};

} // namespace rw
