#include "storage/allowed.h"

#include "core/error.h"
#include "storage/plan_values.h"

#include <algorithm>
#include <cmath>
#include <regex>

namespace rw {

namespace {

int tailLength(unsigned char lead) {
    if (lead < 0x80) return 0;
    if (lead >= 0xC2 && lead <= 0xDF) return 1;
    if (lead >= 0xE0 && lead <= 0xEF) return 2;
    if (lead >= 0xF0 && lead <= 0xF4) return 3;
    return -1;
}

std::string_view groupOf(std::string_view key) { return key.substr(0, key.find('.')); }

bool oneOf(std::string_view word, std::initializer_list<std::string_view> words) {
    return std::ranges::find(words, word) != words.end();
}

bool isThreshold(std::string_view key) {
    return key.starts_with("review.") && key.size() > 7 && key.size() <= 80 &&
           key.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-", 7) ==
               std::string_view::npos;
}

void allowValue(const std::string& key, const Value& value) {
    allowText(key, value.text, longestLine * 10);
    allowText(key + ", unit", value.unitShown, longestName);
    allowText(key + ", note", value.note, longestLine);
    if (value.uncertainty && (!std::isfinite(*value.uncertainty) || *value.uncertainty < 0.0))
        throw InputError(key, "a standard uncertainty is a finite number, not negative");
    const PlanField* field = findPlanField(key);
    if (!value.text.empty() && field != nullptr) allowPlanText(*field, value.text, key);
    if (!value.number) return;
    if (field != nullptr && field->get != nullptr && field->kind != FieldKind::Choice)
        checkFieldValue(*field, *value.number, key);
    else
        allowNumber(key, *value.number);
}

} // namespace

bool isUtf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const int tail = tailLength(lead);
        if (tail < 0 || i + static_cast<std::size_t>(tail) >= text.size()) return false;
        for (int k = 1; k <= tail; ++k) {
            const auto byte = static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]);
            if ((byte & 0xC0) != 0x80) return false;
            if (k > 1) continue;
            if ((lead == 0xE0 && byte < 0xA0) || (lead == 0xED && byte > 0x9F) || (lead == 0xF0 && byte < 0x90) ||
                (lead == 0xF4 && byte > 0x8F))
                return false;
        }
        i += static_cast<std::size_t>(tail) + 1;
    }
    return true;
}

void allowText(std::string_view what, std::string_view text, std::size_t longest) {
    const std::string place(what);
    if (text.size() > longest)
        throw InputError(place, "is " + std::to_string(text.size()) + " bytes long; up to " + std::to_string(longest) +
                                    " are kept");
    if (text.find('\0') != std::string_view::npos) throw InputError(place, "holds a NUL character; expected text");
    if (!isUtf8(text)) throw InputError(place, "is not UTF-8 text");
}

void allowName(std::string_view what, std::string_view text) {
    allowText(what, text, longestName);
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        throw InputError(std::string(what), "is empty; expected a name");
}

void allowDate(std::string_view what, std::string_view text) {
    static const std::regex form(
        R"((\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])(T([01]\d|2[0-3]):[0-5]\d(:[0-5]\d(\.\d{1,9})?)?Z?)?)?)");
    if (text.size() > 40 || !std::regex_match(text.begin(), text.end(), form))
        throw InputError(std::string(what), "is no date; expected one like 2026-11-21 or 2026-11-21T14:05");
}

void allowNumber(std::string_view what, double number) {
    if (!std::isfinite(number)) throw InputError(std::string(what), "is not a finite number");
}

void allowCount(std::string_view what, std::size_t count) {
    if (count > mostRows) throw InputError(std::string(what), "are more than " + std::to_string(mostRows));
}

bool keyBelongsTo(ItemKind kind, std::string_view key) {
    const std::string_view group = groupOf(key);
    const bool planKey = findPlanField(key) != nullptr;
    switch (kind) {
    case ItemKind::Gear:
        return oneOf(key, {"gears.module_m", "gears.pinion_teeth", "gears.spur_teeth", "gears.count"});
    case ItemKind::Venue:
        return planKey && oneOf(group, {"venue", "air", "wind"});
    case ItemKind::LimitSet:
        return planKey || isThreshold(key);
    case ItemKind::Setup:
        return planKey && !oneOf(group, {"venue", "air", "wind"});
    case ItemKind::Outing:
        return planKey && (oneOf(group, {"air", "wind"}) || key == "venue.friction");
    default:
        return planKey &&
               group == kindName(kind); // a vehicle, tyre, motor, controller, pack: as their groups are named
    }
}

void allowValues(ItemKind kind, const Values& values) {
    for (const auto& [key, value] : values) {
        if (!keyBelongsTo(kind, key))
            throw InputError(key.substr(0, 80), "is no value of a " + std::string(kindName(kind)));
        allowValue(key, value);
    }
}

} // namespace rw
