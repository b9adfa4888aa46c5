#include "storage/values.h"

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr std::array<std::string_view, 4> sources{"maker's sheet", "measured", "fitted", "guess"};
constexpr std::array<std::string_view, 3> directions{"", "there", "back"};
constexpr std::array<std::string_view, 3> speedKinds{"timed zone", "peak", "peak, by the wheels"};

template<class Enum, std::size_t Size>
std::optional<Enum> fromName(const std::array<std::string_view, Size>& names, std::string_view name) {
    const auto found = std::ranges::find(names, name);
    if (found == names.end()) return std::nullopt;
    return static_cast<Enum>(found - names.begin());
}

} // namespace

std::string_view sourceName(Source source) { return sources.at(static_cast<std::size_t>(source)); }
std::optional<Source> sourceFromName(std::string_view name) { return fromName<Source>(sources, name); }

std::string_view directionName(Direction direction) { return directions.at(static_cast<std::size_t>(direction)); }
std::optional<Direction> directionFromName(std::string_view name) { return fromName<Direction>(directions, name); }

std::string_view speedKindName(SpeedKind kind) { return speedKinds.at(static_cast<std::size_t>(kind)); }

std::optional<BestSpeed> bestSpeed(const StoredPass& pass) {
    if (pass.zoneSpeed_mps) return BestSpeed{*pass.zoneSpeed_mps, SpeedKind::ZoneMean};
    if (pass.peakSpeed_mps) return BestSpeed{*pass.peakSpeed_mps, SpeedKind::Peak};
    if (pass.peakWheelSpeed_mps) return BestSpeed{*pass.peakWheelSpeed_mps, SpeedKind::PeakWheel};
    return std::nullopt;
}

} // namespace rw
