// The safety words, in one place: command line, planner, About and the pages show the same sentences.
#pragma once

#include <array>
#include <string_view>

namespace rw {

inline constexpr std::string_view shortCaution = // one paragraph for under the margins
    "An estimate, not a promise. Closed course with permission, spotters out, failsafe tested. "
    "Makers’ limits and local law come first.";
inline constexpr std::array<std::string_view, 9> cautions{
    "Every prediction here is an estimate from the figures that were entered; the car may do otherwise.",
    "Run only on a closed course with permission, away from people, animals and traffic.",
    "Post spotters who see the whole strip and can call the pass off; nobody stands beside or beyond it.",
    "Keep the whole stopping distance clear, and as much again beyond it.",
    "Test the failsafe before the first pass: with the transmitter off, the throttle must close and the car brake or "
    "roll out.",
    "Keep wheel speed within the rating of tyres and wheels; look at glue and carcass before each pass.",
    "Charge and store packs as their maker says, never unwatched; a swollen, hot or dented pack is done.",
    "Motor, controller and pack stay hot for minutes after a pass; let them cool before you touch or charge them.",
    "Local law and the makers’ limits come first."};

} // namespace rw
