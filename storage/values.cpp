#include "storage/values.h"

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr std::array<std::string_view, 6> sources{"maker's sheet", "measured", "fitted", "guess", "label", "estimated"};
constexpr std::array<std::string_view, 3> directions{"", "there", "back"};
constexpr std::array<std::string_view, 3> speedKinds{"timed zone", "peak", "peak, by the wheels"};

template<class Enum, std::size_t Size>
std::optional<Enum> fromName(const std::array<std::string_view, Size>& names, std::string_view name) {
    const auto found = std::ranges::find(names, name);
    if (found == names.end()) return std::nullopt;
    return static_cast<Enum>(found - names.begin());
}

} // namespace

const Value* valueOf(const Values& values, std::string_view key) {
    const auto found = values.find(key);
    return found == values.end() ? nullptr : &found->second;
}

std::optional<double> numberOf(const Values& values, std::string_view key) {
    const Value* const value = valueOf(values, key);
    return value == nullptr ? std::nullopt : value->number;
}

std::string_view sourceName(Source source) { return sources.at(static_cast<std::size_t>(source)); }
std::optional<Source> sourceFromName(std::string_view name) { return fromName<Source>(sources, name); }

std::string_view directionName(Direction direction) { return directions.at(static_cast<std::size_t>(direction)); }
std::optional<Direction> directionFromName(std::string_view name) { return fromName<Direction>(directions, name); }

std::string_view speedKindName(SpeedKind kind) { return speedKinds.at(static_cast<std::size_t>(kind)); }

std::optional<double> speedOf(const StoredPass& pass, SpeedKind kind) {
    const std::optional<double>& measured = kind == SpeedKind::ZoneMean ? pass.zoneSpeed_mps
                                            : kind == SpeedKind::Peak   ? pass.peakSpeed_mps
                                                                        : pass.peakWheelSpeed_mps;
    if (measured) return measured;
    const auto noted = std::ranges::find(pass.noted, kind, &SpeedNote::kind);
    return noted == pass.noted.end() ? std::nullopt : std::optional(noted->mps);
}

std::optional<BestSpeed> bestSpeed(const StoredPass& pass) {
    for (const SpeedKind kind : {SpeedKind::ZoneMean, SpeedKind::Peak, SpeedKind::PeakWheel})
        if (const auto speed = speedOf(pass, kind)) return BestSpeed{*speed, kind};
    return std::nullopt;
}

} // namespace rw
