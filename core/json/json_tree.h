// A small JSON document with the place of every value, so that complaints can name line and column.
// RFC 8259, stricter where it matters here: no duplicate names, depth at most 100, numbers must fit a double.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace rw {

inline constexpr std::size_t jsonDepthLimit = 100;

struct JsonMember;

struct JsonValue {
    enum class Type { Null, Boolean, Number, Text, List, Object };
    Type type = Type::Null;
    bool boolean = false;
    double number = 0.0;
    std::size_t at = 0; // offset of its first character
    std::string text;
    std::vector<JsonValue> items;    // List
    std::vector<JsonMember> members; // Object, in order

    [[nodiscard]] const JsonValue* find(std::string_view name) const;
};

// A struct of its own, not a pair: a pair of an unfinished type is not allowed inside that type.
struct JsonMember {
    JsonMember(std::string memberName, JsonValue memberValue)
        : name(std::move(memberName))
        , value(std::move(memberValue)) {}
    std::string name;
    JsonValue value;
};

[[nodiscard]] std::string_view typeName(JsonValue::Type type); // "a number"

// The text with its name, for messages.
struct JsonSource {
    std::string_view text;
    std::string name;
    [[nodiscard]] std::string place(std::size_t offset) const; // "name:line:column", both from 1, columns in bytes
};

// Throws InputError at line and column. A UTF-8 byte order mark is passed over.
[[nodiscard]] JsonValue parseJson(const JsonSource& source);

// Words from a stranger's file, short enough for a message and in one line.
[[nodiscard]] std::string shortened(std::string_view words, std::size_t limit = 60);
// Fewest insertions, deletions, replacements and swaps of neighbours that turn one word into the other.
[[nodiscard]] std::size_t editDistance(std::string_view a, std::string_view b);

} // namespace rw
