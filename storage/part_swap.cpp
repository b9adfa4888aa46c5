#include "storage/part_swap.h"

#include "core/error.h"
#include "storage/allowed.h"

#include <algorithm>
#include <array>

namespace rw {

namespace {

std::optional<double> numberOf(const Values& values, const std::string& key) {
    const auto found = values.find(key);
    return found == values.end() ? std::nullopt : found->second.number;
}

Id& placeFor(Setup& setup, ItemKind kind) {
    switch (kind) {
    case ItemKind::Vehicle:
        return setup.vehicle;
    case ItemKind::Motor:
        return setup.motor;
    case ItemKind::Controller:
        return setup.controller;
    case ItemKind::Pack:
        return setup.pack;
    case ItemKind::Tyre:
        return setup.tyre;
    default:
        throw InputError("part", "a " + std::string(kindName(kind)) + " is not put in place of another one as a whole");
    }
}

} // namespace

bool isSetting(std::string_view key) {
    constexpr std::array<std::string_view, 4> settings{"motor.timing_deg", "controller.endpoint",
                                                       "controller.rate_per_s", "pack.charge"};
    return std::ranges::find(settings, key) != settings.end() || key.starts_with("controller.cutoff.");
}

Values valuesWithPart(Values all, ItemKind kind, const Values& part) {
    std::erase_if(all,
                  [kind](const auto& entry) { return keyBelongsTo(kind, entry.first) && !isSetting(entry.first); });
    for (const auto& [key, value] : part)
        all.insert_or_assign(key, value);
    return all;
}

PartSwap swapPart(Setup setup, const Part& part) {
    placeFor(setup, part.id.kind) = part.id;
    PartSwap out;
    const std::string key = std::string(kindName(part.id.kind)) + ".mass_kg";
    const bool weighed = part.id.kind != ItemKind::Vehicle && part.id.kind != ItemKind::Tyre;
    const auto before = numberOf(setup.values, key), now = numberOf(part.values, key);
    if (weighed && before && now) out.massChange_kg = *now - *before;
    setup.values = valuesWithPart(std::move(setup.values), part.id.kind, part.values);
    if (out.massChange_kg)
        if (const auto mass = setup.values.find("vehicle.mass_kg"); mass != setup.values.end() && mass->second.number)
            *mass->second.number += *out.massChange_kg;
    out.setup = std::move(setup);
    return out;
}

} // namespace rw
