// An object of an exchange document, member by member: types checked, nothing left unread. Private to storage.
#pragma once

#include "core/json/json_tree.h"
#include "storage/values.h"

#include <map>
#include <set>
#include <string>

namespace rw::store {

using IdsByRef = std::map<std::string, Id, std::less<>>; // the document's ids → this garage's

class Members {
public:
    // Throws InputError where the value is no object. References are looked up in `ids`.
    Members(const JsonSource& source, const JsonValue& object, const IdsByRef& ids);

    [[nodiscard]] bool has(std::string_view name) const { return object_.find(name) != nullptr; }
    [[nodiscard]] std::string text(std::string_view name);
    [[nodiscard]] std::string textIfAny(std::string_view name); // "" where the member is not there
    [[nodiscard]] bool boolean(std::string_view name);
    [[nodiscard]] double number(std::string_view name);
    [[nodiscard]] std::int64_t whole(std::string_view name); // within ±2^53
    [[nodiscard]] std::optional<double> maybeNumber(std::string_view name);
    [[nodiscard]] std::optional<double> numberIfAny(std::string_view name); // none where the member is not there
    [[nodiscard]] std::optional<std::int64_t> maybeWhole(std::string_view name);
    [[nodiscard]] Id reference(std::string_view name);
    [[nodiscard]] std::optional<Id> maybeReference(std::string_view name);
    [[nodiscard]] const std::vector<JsonValue>& list(std::string_view name);
    [[nodiscard]] Values values(std::string_view name);
    [[nodiscard]] Figures figures(std::string_view name);
    [[nodiscard]] Id referenceOf(const JsonValue& text) const;

    void finish() const; // throws InputError for a member that was not asked for
    [[noreturn]] void fail(const JsonValue& at, const std::string& sentence) const;
    [[noreturn]] void fail(const std::string& sentence) const { fail(object_, sentence); }

private:
    const JsonValue& need(std::string_view name, JsonValue::Type type);
    const JsonValue* maybe(std::string_view name, JsonValue::Type type); // null where the member is null
    [[nodiscard]] Value value(const JsonValue& object) const;

    const JsonSource& source_;
    const JsonValue& object_;
    const IdsByRef& ids_;
    std::set<std::string, std::less<>> asked_;
};

} // namespace rw::store
