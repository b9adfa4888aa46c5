#include "core/plan/limit_texts.h"

#include <algorithm>
#include <array>
#include <cassert>

namespace rw {

namespace {

constexpr std::array texts{
    LimitText{"winding_limit", "motor winding, limit", "°C", 1, false,
              "Gear down, lower the endpoint or shorten the run-up; the winding is hotter than any sensor shows."},
    LimitText{"case_comfort", "motor case, comfortable", "°C", 1, false,
              "Wait longer between passes, gear down a tooth, or give it air."},
    LimitText{"case_limit", "motor case, limit", "°C", 1, false,
              "Gear down or take fewer passes; magnets that get too hot stay weak."},
    LimitText{"controller_comfort", "controller, comfortable", "°C", 1, false,
              "Give the controller air, or gear down a tooth."},
    LimitText{"controller_limit", "controller, limit", "°C", 1, false,
              "Gear down or fit a larger controller; one that shuts down at speed takes the brakes with it."},
    LimitText{"pack_comfort", "pack, comfortable", "°C", 1, false,
              "Start cooler, wait longer, or fit a pack with less resistance."},
    LimitText{"pack_limit", "pack, limit", "°C", 1, false,
              "Do not run it: hot lithium cells swell and burn; gear down or fit a stronger pack."},
    LimitText{"pack_continuous", "pack current, continuous rating", "A", 1, false,
              "Gear down, set the pack current limit, or fit a pack with a higher rating; short bursts age it."},
    LimitText{"pack_burst", "pack current, burst rating", "A", 1, false,
              "Gear down or set the pack current limit below the burst rating."},
    LimitText{"controller_continuous", "motor current, continuous rating", "A", 1, false,
              "Lengthen the throttle ramp, gear down, or set the motor current limit."},
    LimitText{"controller_burst", "motor current, burst rating", "A", 1, false,
              "Lengthen the throttle ramp, gear down, or set the motor current limit below the burst rating."},
    LimitText{"motor_speed", "motor speed", "rpm", 0, false,
              "Gear up, take fewer cells or less timing; rotors burst above their rating."},
    LimitText{"electrical_speed", "electrical speed", "rpm", 0, false,
              "Gear up or fit a motor with fewer poles; the controller loses step above its limit."},
    LimitText{"tyre_speed", "tyre speed", "rad/s", 0, false,
              "Do not run these tyres so fast: fit rated ones, larger ones, or lower the speed."},
    LimitText{"cell_voltage", "cell voltage", "V", 2, true,
              "Fit a stronger or fuller pack, or gear down; the cutoff may take the power."},
    LimitText{"front_load", "front axle load", "", 2, true,
              "Move weight forward, lower the drag height, add front downforce, or lengthen the throttle ramp."},
    LimitText{"strip", "strip length", "m", 1, false,
              "Shorten the run-up, brake harder, or find a longer strip: it does not stop in time."},
};

constexpr std::array<std::string_view, 7> cautionTexts{
    "The makers' limits and local law come first; these figures are estimates.",
    "Run only on a closed course with permission, spotters posted, nobody beside or beyond the strip.",
    "Test the failsafe: receiver off must mean throttle closed and brakes on.",
    "Keep the whole stopping distance free, and as much again beyond it.",
    "Stay under the speed rating of tyres and wheels; look at every tyre after every pass.",
    "Charge and carry lithium packs in a safe place; a swollen, hot or dented pack is done.",
    "Motor, controller and pack stay hot for minutes after the pass."};

} // namespace

const LimitText& limitText(std::string_view limit) {
    const auto found =
        std::find_if(texts.begin(), texts.end(), [&](const LimitText& text) { return text.limit == limit; });
    assert(found != texts.end());
    return *found;
}

std::string_view boundText(Limit limit) {
    switch (limit) {
    case Limit::None:
        return "nothing";
    case Limit::MotorCurrent:
        return "motor current limit";
    case Limit::PackCurrent:
        return "pack current limit";
    case Limit::Traction:
        return "traction";
    case Limit::Cutoff:
        return "cutoff";
    }
    return "";
}

std::span<const std::string_view> cautions() { return cautionTexts; }

} // namespace rw
