#include "storage/part_swap.h"

#include "storage/allowed.h"

#include <algorithm>
#include <array>

namespace rw {

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

} // namespace rw
