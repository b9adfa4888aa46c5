// An object of an exchange document, member by member: types checked, nothing left unread. Private to storage.
#pragma once

#include "core/json/json_tree.h"
#include "storage/exchange_members.h"

#include <map>
#include <set>
#include <string>

namespace rw::store {

using IdsByRef = std::map<std::string, Id, std::less<>>; // the document's ids → this garage's

class Reader {
public:
    // Throws InputError where the value is no object. References are looked up in `ids`.
    Reader(const JsonSource& source, const JsonValue& object, const IdsByRef& ids);
    // A thing that is the whole of an object.
    template<class Thing>
    static void object(const JsonSource& source, const JsonValue& value, const IdsByRef& ids, Thing& out) {
        Reader reader(source, value, ids);
        members(reader, out);
        reader.finish();
    }

    void operator()(const char* name, std::string& out) { out = need(name, JsonValue::Type::Text).text; }
    void operator()(const char* name, bool& out) { out = need(name, JsonValue::Type::Boolean).boolean; }
    void operator()(const char* name, double& out) { out = need(name, JsonValue::Type::Number).number; }
    void operator()(const char* name, std::int64_t& out); // within ±2^53
    void operator()(const char* name, Id& out) { read(need(name, JsonValue::Type::Text), out); }
    void operator()(const char* name, Values& out);
    void operator()(const char* name, Figures& out);
    void operator()(const char* name, Evidence& out);
    template<class T>
    void operator()(const char* name, std::optional<T>& out) {
        if (!isNull(name)) (*this)(name, out.emplace());
    }
    template<class T>
    void operator()(const char* name, std::vector<T>& out) {
        for (const JsonValue& item : list(name))
            read(item, out.emplace_back());
    }
    template<class T>
    void ifAny(const char* name, T& out) {
        if (has(name)) (*this)(name, out);
    }
    template<class T>
    void ifAny(const char* name, std::optional<T>& out) {
        if (has(name)) (*this)(name, out.emplace());
    }
    void ifAny(const char* name, std::optional<LearnedInput>& out);
    void within(const char* name, int& out, int least, int most, const char* complaint);
    void within(const char* name, std::optional<int>& out, int least, int most, const char* complaint) {
        if (!isNull(name)) within(name, out.emplace(), least, most, complaint);
    }
    void word(const char* name, auto& out, const auto&, const auto& fromName, const auto& complaint) {
        const std::string word = text(name);
        const auto found = fromName(word);
        if (!found) fail(complaint("'" + shortened(word) + "'"));
        out = *found;
    }
    void packed(PackedLog& out); // checked against its SHA-256 and size

    [[nodiscard]] std::string text(const char* name) { return need(name, JsonValue::Type::Text).text; }
    [[nodiscard]] const std::vector<JsonValue>& list(const char* name) {
        return need(name, JsonValue::Type::List).items;
    }
    void finish() const; // throws InputError for a member that was not asked for
    [[noreturn]] void fail(const JsonValue& at, const std::string& sentence) const;
    [[noreturn]] void fail(const std::string& sentence) const { fail(object_, sentence); }

private:
    [[nodiscard]] bool has(const char* name) const { return object_.find(name) != nullptr; }
    bool isNull(const char* name);
    const JsonValue& need(const char* name, JsonValue::Type type);
    void read(const JsonValue& item, Id& out) const;
    void read(const JsonValue& item, std::string& out) const;
    void read(const JsonValue& item, double& out) const;
    void read(const JsonValue& item, auto& out) const { object(source_, item, ids_, out); }

    const JsonSource& source_;
    const JsonValue& object_;
    const IdsByRef& ids_;
    std::set<std::string, std::less<>> asked_;
};

} // namespace rw::store
