#include "storage/id.h"

#include "core/error.h"

#include <array>
#include <charconv>

namespace rw {

namespace {

struct KindWords {
    ItemKind kind;
    std::string_view name, plural;
};
constexpr std::array words{
    KindWords{ItemKind::Vehicle, "vehicle", "vehicles"},
    KindWords{ItemKind::Tyre, "tyre", "tyres"},
    KindWords{ItemKind::Motor, "motor", "motors"},
    KindWords{ItemKind::Controller, "controller", "controllers"},
    KindWords{ItemKind::Pack, "pack", "packs"},
    KindWords{ItemKind::Gear, "gear", "gears"},
    KindWords{ItemKind::Venue, "venue", "venues"},
    KindWords{ItemKind::LimitSet, "limits", "limit-sets"},
    KindWords{ItemKind::ColumnMap, "map", "maps"},
    KindWords{ItemKind::Checklist, "checklist", "checklists"},
    KindWords{ItemKind::Setup, "setup", "setups"},
    KindWords{ItemKind::Outing, "outing", "outings"},
    KindWords{ItemKind::Log, "log", "logs"},
    KindWords{ItemKind::Session, "session", "sessions"},
    KindWords{ItemKind::Pass, "pass", "passes"},
    KindWords{ItemKind::Plan, "plan", "plans"},
    KindWords{ItemKind::Fit, "fit", "fits"},
};

constexpr auto kinds = [] {
    std::array<ItemKind, words.size()> out{};
    for (std::size_t i = 0; i < words.size(); ++i)
        out[i] = words[i].kind;
    return out;
}();

const KindWords& wordsOf(ItemKind kind) { return words[static_cast<std::size_t>(kind)]; }

std::optional<ItemKind> find(std::string_view word, std::string_view KindWords::*member) {
    for (const KindWords& entry : words)
        if (entry.*member == word) return entry.kind;
    return std::nullopt;
}

} // namespace

std::span<const ItemKind> allKinds() { return kinds; }
bool isPart(ItemKind kind) { return kind <= ItemKind::Checklist; }
std::string_view kindName(ItemKind kind) { return wordsOf(kind).name; }
std::string_view kindPlural(ItemKind kind) { return wordsOf(kind).plural; }
std::optional<ItemKind> kindFromPlural(std::string_view word) { return find(word, &KindWords::plural); }
std::optional<ItemKind> kindFromName(std::string_view word) { return find(word, &KindWords::name); }

std::string toString(Id id) { return std::string(kindName(id.kind)) + "-" + std::to_string(id.number); }

std::optional<Id> idFromText(std::string_view text) {
    const std::size_t dash = text.rfind('-');
    if (dash == std::string_view::npos) return std::nullopt;
    const auto kind = kindFromName(text.substr(0, dash));
    const std::string_view digits = text.substr(dash + 1);
    std::int64_t number = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (!kind || error != std::errc{} || end != digits.data() + digits.size() || number < 1) return std::nullopt;
    if (digits.front() == '0') return std::nullopt;
    return Id{*kind, number};
}

Id parseId(std::string_view text, const std::string& place) {
    if (const auto id = idFromText(text)) return *id;
    throw InputError(place, "'" + std::string(text.substr(0, 40)) +
                                "' is no id; expected one like vehicle-3, setup-12 or log-40");
}

} // namespace rw
