// Where one regime ends: distances that are positive inside it and change sign at its border. And from one into the
// next, at a located border.
#pragma once

#include "core/pass/dop853_coefficients.h"
#include "core/pass/model.h"

#include <array>
#include <optional>

namespace rw::pass {

enum class Border : std::uint8_t {
    // Another duty becomes the least.
    Throttle,
    Motor,
    Pack,
    SoftCutoff,
    Traction,
    Fold, // the limit's current cannot be had any more
    // Small switches: current, torque, axles on the ground.
    Flow,
    Push,
    FrontUp,
    RearUp,
    Fly,
    Slide, // the tyre reaches or leaves -μN
    Calm,  // as fast as the wind from behind
    OcvKnot,
    Start,
    Rest,
    ZoneExit,
    CutoffVoltage,
    Count_
};
inline constexpr std::size_t borderCount = static_cast<std::size_t>(Border::Count_);
using BorderDistances = std::array<double, borderCount>;

// What the loop knows beside the regime.
struct Watch {
    double zoneExit = 0.0; // m
    bool beforeExit = true;
    bool rolled = false;      // has exceeded the rest speed
    bool hardCutoff = false;  // the voltage is watched
    bool belowCutoff = false; // its clock runs
};

inline constexpr double restSpeed = 0.2; // m/s

// Stages of an explicit step that are looked at for borders and peaks, in order of time: good estimates.
inline constexpr std::array<int, 4> innerStages{3, 5, 9, 10};
[[nodiscard]] constexpr double innerShare(std::size_t place) {
    return dop853::c[static_cast<std::size_t>(innerStages[place])];
}
struct Place {
    State state{};
    Solution solution;
};
using InnerPlaces = std::array<Place, innerStages.size()>;

[[nodiscard]] BorderDistances borderDistances(const Model& model, double time, const State& y, const Regime& regime,
                                              const Solution& s, const Watch& watch);
// The distances that the state alone tells; none for the others and for one that is not watched.
[[nodiscard]] std::optional<double> distanceOfState(const Model& model, const State& y, const Regime& regime,
                                                    const Watch& watch, Border border);
// Lifted by what rounding may take from a distance that is 0 all along: negative where the border is crossed.
[[nodiscard]] double lifted(double margin);
// The least of them, lifted: negative where a border is crossed.
[[nodiscard]] double leastDistance(const BorderDistances& margins);
// Whose distance is the least, if it is crossed.
[[nodiscard]] std::optional<Border> crossed(const BorderDistances& margins);

// Where a border is first seen to be crossed, a share of the step; the step's end where at no place before. A limit may
// take over and let go again within one step. seenAt(place, share): at an inner place as its stage saw it;
// distancesAt(share): truly there.
struct Seen {
    double share = 1.0;
    BorderDistances distances;
};
template<class SeenAt, class DistancesAt>
Seen firstSeen(const InnerPlaces& inner, const BorderDistances& atEnd, const SeenAt& seenAt,
               const DistancesAt& distancesAt) {
    for (std::size_t i = 0; i < inner.size(); ++i) {
        const double share = innerShare(i);
        if (!crossed(seenAt(inner[i], share))) continue;
        const BorderDistances there = distancesAt(share);
        if (crossed(there)) return {share, there};
    }
    return {1.0, atEnd};
}

// A limit may take over and let go within one long step: first steps after a change are short. Leaving the edge of
// sliding, the slip runs like a cube root of time: shorter still.
inline constexpr double stepAfterJump = 5e-3, stepAfterBorder = 2e-2, stepAfterSliding = 1e-4; // s

// Where the integration stands when it meets the border.
struct Meeting {
    double time = 0.0;
    const State& state;
    const Solution& solution;
};

// Changes the regime for every border but Rest, ZoneExit and CutoffVoltage, which are the loop's own. Returns the first
// step to try.
double cross(const Model& model, Border border, const Meeting& at, Regime& regime, double& hint);

} // namespace rw::pass
