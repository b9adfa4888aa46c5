// Names of things in the garage: short, stable, never used twice ("vehicle-3", "setup-12", "log-40").
#pragma once

#include <string> // first: the moc of Qt 6.4 stumbles over <compare> where it is the first header that it meets

#include <compare>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace rw {

enum class ItemKind : std::uint8_t {
    Vehicle,
    Tyre,
    Motor,
    Controller,
    Pack,
    Gear,
    Venue,
    LimitSet,
    ColumnMap,
    Checklist, // parts
    Setup,
    Outing,
    Log,
    Session,
    Pass,
    Plan,
    Fit
};

[[nodiscard]] std::span<const ItemKind> allKinds();
[[nodiscard]] bool isPart(ItemKind kind);                 // Vehicle … Checklist
[[nodiscard]] std::string_view kindName(ItemKind kind);   // "vehicle", "limits", "map", …: the word before the number
[[nodiscard]] std::string_view kindPlural(ItemKind kind); // "vehicles": what `garage list` takes
[[nodiscard]] std::optional<ItemKind> kindFromPlural(std::string_view word);
[[nodiscard]] std::optional<ItemKind> kindFromName(std::string_view word);

struct Id {
    ItemKind kind = ItemKind::Vehicle;
    std::int64_t number = 0; // from 1; 0: not stored yet

    [[nodiscard]] bool stored() const { return number > 0; }
    auto operator<=>(const Id&) const = default;
};

[[nodiscard]] std::string toString(Id id); // "vehicle-3"
[[nodiscard]] std::optional<Id> idFromText(std::string_view text);
// Throws InputError(place, …) where the text is no id.
[[nodiscard]] Id parseId(std::string_view text, const std::string& place);

} // namespace rw
