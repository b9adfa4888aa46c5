#include "core/learn/unknowns.h"

#include "core/error.h"
#include "core/physics/air.h"
#include "core/plan/uncertain.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {

namespace {

bool oneOf(std::string_view word, std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::string_view groupOf(std::string_view key) { return key.substr(0, key.find('.')); }

} // namespace

bool carriedKey(std::string_view key) {
    return key != "pack.charge" && oneOf(groupOf(key), {"vehicle", "tyre", "motor", "controller", "pack"});
}

namespace learning {

namespace {

// Estimated for the day; wind, charge and start temperatures are nuisances of passes and starts instead.
bool dayKey(std::string_view key) { return groupOf(key) == "air" || oneOf(key, {"venue.grade", "venue.friction"}); }

bool replacedKey(std::string_view key) {
    return groupOf(key) == "wind" || groupOf(key) == "start" || oneOf(key, {"venue.heading_deg", "pack.charge"});
}

UnknownItem itemOf(Unknown kind, const UncertainField& field) {
    UnknownItem out;
    out.kind = kind;
    out.field = field.field;
    out.mean = field.distribution.mean;
    out.deviation = field.distribution.deviation;
    out.low = field.field->low;
    out.high = field.field->high;
    constexpr double sliver = 1e-6; // of the deviation: an end that is not allowed itself
    if (field.field->lowOpen) out.low += sliver * std::min(out.deviation, out.mean - out.low);
    // A tenth of a standard error where the logs tell a value to a hundredth of what was known: what a coarser
    // step adds by its curvature would be taken for knowledge. The integrator's error, which is the same on both sides,
    // shows only far below. Of the value, where the prior is much wider than it.
    constexpr double share = 1e-3;
    out.step = share * out.deviation;
    if (out.mean != 0.0) out.step = std::min(out.step, share * std::abs(out.mean));
    return out;
}

} // namespace

LearnedKeys learnedKeys(const PlanInput& plan) {
    LearnedKeys out;
    for (const UncertainField& field : uncertainFields(plan)) {
        const std::string key = field.field->key();
        const bool number = field.field->kind == FieldKind::Number;
        if (number && carriedKey(key))
            out.carried.push_back(itemOf(Unknown::Carried, field));
        else if (number && dayKey(key))
            out.ofTheDay.push_back(itemOf(Unknown::OfTheDay, field));
        else if (!number || !replacedKey(key))
            out.ignored.push_back(key);
    }
    if (out.carried.empty())
        throw InputError("the plan",
                         "has no uncertain key that is carried on; give at least one of vehicle, tyre, motor, "
                         "controller or pack a standard uncertainty under \"uncertainty\"");
    return out;
}

namespace {

// How early it bends, of a deviation and of the way to the end: below, an end is mostly 0, and a value that is all but
// unknown must not be pushed away from it.
constexpr double softness = 0.25, leastWay = 0.2;

double softBelow(const UnknownItem& u) {
    if (u.soft) return *u.soft;
    const double way = u.mean - u.low;
    return softness * (way > 0.0 ? std::min(u.deviation, way) : u.deviation);
}
double softAbove(const UnknownItem& u) {
    if (u.soft) return *u.soft;
    return softness * std::clamp(u.high - u.mean, leastWay * u.deviation, u.deviation);
}

// max(u, low) without its corner, and its slope.
double above(double u, double low, double soft) {
    return u - low > 40.0 * soft ? u : low + soft * std::log1p(std::exp((u - low) / soft));
}
double slopeAbove(double u, double low, double soft) { return 1.0 / (1.0 + std::exp((low - u) / soft)); }

} // namespace

double UnknownItem::valueAt(double z) const {
    return -above(-above(mean + deviation * z, low, softBelow(*this)), -high, softAbove(*this));
}

double UnknownItem::slopeAt(double z) const {
    const double straight = mean + deviation * z, bend = softBelow(*this);
    return deviation * slopeAbove(straight, low, bend) *
           slopeAbove(-above(straight, low, bend), -high, softAbove(*this));
}

std::optional<double> windUncertainty(const PlanInput& plan) {
    const auto along = [&plan](double speed, double from, double heading) {
        return headWind(plan.wind.speed_mps + speed, plan.wind.from_deg + from, plan.venue.heading_deg + heading);
    };
    const double speed = statedUncertainty(plan, "wind.speed_mps"), from = statedUncertainty(plan, "wind.from_deg"),
                 heading = statedUncertainty(plan, "venue.heading_deg");
    if (!(speed > 0.0 || from > 0.0)) return std::nullopt;
    const std::array changes{along(speed, 0.0, 0.0) - along(0.0, 0.0, 0.0),
                             along(0.0, from, 0.0) - along(0.0, 0.0, 0.0),
                             along(0.0, 0.0, heading) - along(0.0, 0.0, 0.0)};
    double squares = 0.0;
    for (const double change : changes)
        squares += change * change;
    return std::max(std::sqrt(squares), prior::leastWind);
}

} // namespace learning

} // namespace rw
