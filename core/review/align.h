// Where a measured speed lies on another clock: normalised cross-correlation with the wheels' speed.
// core/log/README.md 1. Both signals are laid on an even grid; samples that either lacks are left out of the sums at
// every lag [Padfield, Masked Object Registration in the Fourier Domain, IEEE Trans. Image Process. 21 (2012) 2706];
// then refined between grid points. Scale and offset of either signal do not matter.
#pragma once

#include <optional>
#include <span>

namespace rw::review {

struct SpeedSignal {
    std::span<const double> time;  // s, rising
    std::span<const double> speed; // any unit; NaN where missing
    double hole = 1.0;             // s: no value is made up between samples further apart
};
struct Alignment {
    double offset = 0.0;      // s to add to the second signal's stamps
    double correlation = 0.0; // Pearson's, over what both cover
    double covered = 0.0;     // share of the first signal's variation that the second one covers
};

// None where the signals never overlap enough to tell: at least half of the first one's variation.
[[nodiscard]] std::optional<Alignment> alignSpeeds(const SpeedSignal& wheels, const SpeedSignal& track);

// Linear between samples; NaN outside and in holes. `from` is where to begin looking and is moved on: queries must
// rise.
[[nodiscard]] double signalAt(const SpeedSignal& signal, double at, std::size_t& from);

} // namespace rw::review
