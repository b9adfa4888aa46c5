#include "core/json/json_tree.h"

#include "core/error.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iterator>
#include <unordered_set>

namespace rw {

namespace {

constexpr std::string_view byteOrderMark = "\xEF\xBB\xBF";

// Reads characters and tells how far the parser has come: after a string or a bracket that is its last character,
// after a number one character further.
struct CountingIterator {
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    const char* here = nullptr;
    const char** furthest = nullptr;

    reference operator*() const { return *here; }
    CountingIterator& operator++() {
        *furthest = ++here;
        return *this;
    }
    CountingIterator operator++(int) {
        const CountingIterator before = *this;
        ++*this;
        return before;
    }
    bool operator==(const CountingIterator& other) const { return here == other.here; }
    bool operator!=(const CountingIterator& other) const { return here != other.here; }
};

std::string broken(const nlohmann::json::exception& error) {
    const std::string what = error.what();
    // "[json.exception.parse_error.101] parse error at line 1, column 5: syntax error while parsing value - …"
    std::size_t from = what.find(": ");
    if (from == std::string::npos) from = std::min(what.find("] "), what.size() - 2);
    std::string words = what.substr(from + 2);
    // What it read last is at the place named, and may be a megabyte.
    const std::size_t last = words.find("; last read: ");
    const std::size_t expected = words.rfind("; expected ");
    if (last != std::string::npos)
        words =
            words.substr(0, last) + (expected == std::string::npos || expected < last ? "" : words.substr(expected));
    return "not valid JSON: " + shortened(words, 160);
}

// Builds the tree from the parser's events; throws InputError itself for what JSON allows and we do not.
class TreeBuilder : public nlohmann::json_sax<nlohmann::json> {
public:
    TreeBuilder(const JsonSource& source, const char* const& furthest)
        : source_(source)
        , furthest_(furthest) {}

    JsonValue root;

    bool null() override { return plain(JsonValue::Type::Null, 4); }
    bool boolean(bool value) override {
        plain(JsonValue::Type::Boolean, value ? 4 : 5).boolean = value;
        return true;
    }
    bool number_integer(number_integer_t value) override { return number(static_cast<double>(value)); }
    bool number_unsigned(number_unsigned_t value) override { return number(static_cast<double>(value)); }
    bool number_float(number_float_t value, const string_t&) override { return number(value); }
    bool string(string_t& value) override {
        JsonValue& out = add(JsonValue::Type::Text, textStart());
        out.text = std::move(value);
        return true;
    }
    bool binary(binary_t&) override { return false; } // no such thing in text
    bool start_object(std::size_t) override { return open(JsonValue::Type::Object); }
    bool start_array(std::size_t) override { return open(JsonValue::Type::List); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }
    bool key(string_t& name) override {
        if (!names_.back().insert(name).second)
            throw InputError(source_.place(textStart()), "key \"" + shortened(name) + "\" stands twice in one object");
        open_.back()->members.emplace_back(std::move(name), JsonValue{});
        return true;
    }
    bool parse_error(std::size_t position, const std::string&, const nlohmann::json::exception& error) override {
        throw InputError(source_.place(bom() + (position > 0 ? position - 1 : 0)), broken(error));
    }

private:
    struct Added {
        JsonValue& value;
        operator bool() const { return true; }
        bool& boolean = value.boolean;
    };

    [[nodiscard]] std::size_t bom() const { return source_.text.starts_with(byteOrderMark) ? byteOrderMark.size() : 0; }
    [[nodiscard]] std::size_t consumed() const { return static_cast<std::size_t>(furthest_ - source_.text.data()); }

    // Place of the opening quote of the string whose closing quote was just read.
    [[nodiscard]] std::size_t textStart() const {
        std::size_t quote = consumed() - 1;
        while (quote > 0) {
            --quote;
            if (source_.text[quote] != '"') continue;
            std::size_t slashes = 0;
            while (slashes < quote && source_.text[quote - 1 - slashes] == '\\')
                ++slashes;
            if (slashes % 2 == 0) return quote;
        }
        return quote;
    }

    JsonValue& add(JsonValue::Type type, std::size_t at) {
        JsonValue* place = &root;
        if (!open_.empty()) {
            JsonValue& parent = *open_.back();
            if (parent.type == JsonValue::Type::List) parent.items.emplace_back();
            place = parent.type == JsonValue::Type::List ? &parent.items.back() : &parent.members.back().value;
        }
        place->type = type;
        place->at = at;
        return *place;
    }
    Added plain(JsonValue::Type type, std::size_t length) { return {add(type, consumed() - length)}; }
    bool number(double value) {
        const auto isNumeric = [](char c) {
            return (c >= '0' && c <= '9') || std::string_view("+-.eE").find(c) != std::string_view::npos;
        };
        std::size_t at = consumed();
        if (at > 0 && (at > source_.text.size() || !isNumeric(source_.text[at - 1]))) --at;
        while (at > 0 && isNumeric(source_.text[at - 1]))
            --at;
        add(JsonValue::Type::Number, at).number = value;
        return true;
    }
    bool open(JsonValue::Type type) {
        if (open_.size() == jsonDepthLimit)
            throw InputError(source_.place(consumed() - 1),
                             "nested deeper than " + std::to_string(jsonDepthLimit) + " levels");
        open_.push_back(&add(type, consumed() - 1));
        names_.emplace_back();
        return true;
    }
    bool close() {
        open_.pop_back();
        names_.pop_back();
        return true;
    }

    const JsonSource& source_;
    const char* const& furthest_;
    std::vector<JsonValue*> open_; // a parent's list does not grow while a child is open
    std::vector<std::unordered_set<std::string>> names_;
};

} // namespace

const JsonValue* JsonValue::find(std::string_view name) const {
    for (const auto& [key, value] : members)
        if (key == name) return &value;
    return nullptr;
}

std::string_view typeName(JsonValue::Type type) {
    switch (type) {
    case JsonValue::Type::Null:
        return "null";
    case JsonValue::Type::Boolean:
        return "true or false";
    case JsonValue::Type::Number:
        return "a number";
    case JsonValue::Type::Text:
        return "a text";
    case JsonValue::Type::List:
        return "a list";
    case JsonValue::Type::Object:
        return "an object";
    }
    return "";
}

std::string JsonSource::place(std::size_t offset) const {
    const std::string_view before = text.substr(0, std::min(offset, text.size()));
    const auto lines = std::ranges::count(before, '\n');
    const std::size_t lineStart = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
    std::size_t column = before.size() - lineStart + 1;
    if (lineStart == 0 && text.starts_with(byteOrderMark) && column > byteOrderMark.size())
        column -= byteOrderMark.size();
    return name + ":" + std::to_string(lines + 1) + ":" + std::to_string(column);
}

JsonValue parseJson(const JsonSource& source) {
    const char* begin = source.text.data();
    const char* const end = begin + source.text.size();
    if (source.text.starts_with(byteOrderMark)) begin += byteOrderMark.size();
    const char* furthest = begin;
    TreeBuilder builder(source, furthest);
    if (begin == end) throw InputError(source.place(source.text.size()), "not valid JSON: the document is empty");
    nlohmann::json::sax_parse(CountingIterator{begin, &furthest}, CountingIterator{end, &furthest}, &builder);
    return std::move(builder.root);
}

std::string shortened(std::string_view told, std::size_t limit) {
    std::string words;
    for (const char c : told) { // a complaint is one line
        if (c == '\n' || c == '\r')
            words += c == '\n' ? "\\n" : "\\r";
        else
            words += c;
    }
    if (words.size() <= limit) return words;
    std::size_t head = limit / 2;
    std::size_t tail = words.size() - limit / 2;
    const auto inside = [&](std::size_t i) { return (static_cast<unsigned char>(words[i]) & 0xC0U) == 0x80U; };
    while (head > 0 && inside(head))
        --head; // not in the middle of a UTF-8 character
    while (tail < words.size() && inside(tail))
        ++tail;
    return words.substr(0, head) + "…" + words.substr(tail);
}

std::size_t editDistance(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) {
        for (std::size_t j = 0; j <= b.size(); ++j) {
            if (i == 0 || j == 0) {
                d[i][j] = i + j;
                continue;
            }
            const std::size_t replaced = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, replaced});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    }
    return d[a.size()][b.size()];
}

} // namespace rw
