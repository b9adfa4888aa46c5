#include "tests/storage/json_schema.h"

#include <cmath>
#include <regex>
#include <set>
#include <stdexcept>

namespace rw::test {

namespace {

using nlohmann::json;

class Validator {
public:
    explicit Validator(const json& root)
        : root_(root) {}

    std::string complaint(const json& schema, const json& value, const std::string& at) const {
        for (const auto& [keyword, rule] : schema.items()) {
            const std::string found = one(keyword, rule, schema, value, at);
            if (!found.empty()) return found;
        }
        return {};
    }

private:
    static bool isType(const json& value, const std::string& type) {
        if (type == "null") return value.is_null();
        if (type == "boolean") return value.is_boolean();
        if (type == "string") return value.is_string();
        if (type == "array") return value.is_array();
        if (type == "object") return value.is_object();
        if (type == "number") return value.is_number();
        if (type == "integer") return value.is_number() && std::floor(value.get<double>()) == value.get<double>();
        throw std::logic_error("type " + type);
    }

    static std::size_t characters(const std::string& text) {
        std::size_t count = 0;
        for (const char c : text)
            count += (c & 0xC0) != 0x80 ? 1 : 0;
        return count;
    }

    std::string one(const std::string& keyword, const json& rule, const json& schema, const json& value,
                    const std::string& at) const {
        static const std::set<std::string> notes{"$schema", "$defs", "title", "description"};
        if (notes.contains(keyword)) return {};
        const auto unless = [&](bool ok) {
            return ok ? std::string() : at + ": " + keyword + " " + rule.dump().substr(0, 80);
        };
        if (keyword == "$ref")
            return complaint(root_.at(json::json_pointer(rule.get<std::string>().substr(1))), value, at);
        if (keyword == "const") return unless(value == rule);
        if (keyword == "enum") return unless(std::find(rule.begin(), rule.end(), value) != rule.end());
        if (keyword == "type") {
            if (rule.is_string()) return unless(isType(value, rule));
            return unless(std::any_of(rule.begin(), rule.end(), [&](const json& type) { return isType(value, type); }));
        }
        if (keyword == "oneOf") return oneOf(rule, value, at);
        if (keyword == "pattern")
            return unless(!value.is_string() ||
                          std::regex_search(value.get<std::string>(), std::regex(rule.get<std::string>())));
        if (keyword == "minLength") return unless(!value.is_string() || characters(value) >= rule.get<std::size_t>());
        if (keyword == "maxLength") return unless(!value.is_string() || characters(value) <= rule.get<std::size_t>());
        if (keyword == "minimum") return unless(!value.is_number() || value.get<double>() >= rule.get<double>());
        if (keyword == "maximum") return unless(!value.is_number() || value.get<double>() <= rule.get<double>());
        if (keyword == "maxItems") return unless(!value.is_array() || value.size() <= rule.get<std::size_t>());
        if (keyword == "required")
            return unless(!value.is_object() || std::all_of(rule.begin(), rule.end(), [&](const json& name) {
                return value.contains(name.get<std::string>());
            }));
        if (keyword == "items") return items(rule, value, at);
        if (keyword == "properties") return properties(rule, value, at);
        if (keyword == "additionalProperties") return additional(rule, schema, value, at);
        throw std::logic_error("keyword " + keyword);
    }

    std::string oneOf(const json& rules, const json& value, const std::string& at) const {
        int fitting = 0;
        std::string why;
        for (const json& rule : rules) {
            const std::string found = complaint(rule, value, at);
            if (found.empty())
                ++fitting;
            else
                why += "; " + found;
        }
        return fitting == 1 ? "" : at + ": fits " + std::to_string(fitting) + " of oneOf" + why;
    }
    std::string items(const json& rule, const json& value, const std::string& at) const {
        if (!value.is_array()) return {};
        for (std::size_t i = 0; i < value.size(); ++i)
            if (const std::string found = complaint(rule, value[i], at + "/" + std::to_string(i)); !found.empty())
                return found;
        return {};
    }
    std::string properties(const json& rules, const json& value, const std::string& at) const {
        if (!value.is_object()) return {};
        for (const auto& [name, rule] : rules.items())
            if (const auto member = value.find(name); member != value.end())
                if (const std::string found = complaint(rule, *member, at + "/" + name); !found.empty()) return found;
        return {};
    }
    std::string additional(const json& rule, const json& schema, const json& value, const std::string& at) const {
        if (!value.is_object()) return {};
        for (const auto& [name, member] : value.items()) {
            if (schema.contains("properties") && schema["properties"].contains(name)) continue;
            if (rule.is_boolean()) {
                if (!rule.get<bool>()) return at + ": unknown " + name;
            } else if (const std::string found = complaint(rule, member, at + "/" + name); !found.empty()) {
                return found;
            }
        }
        return {};
    }

    const json& root_;
};

} // namespace

std::string schemaComplaint(const json& schema, const json& document) {
    return Validator(schema).complaint(schema, document, "");
}

} // namespace rw::test
