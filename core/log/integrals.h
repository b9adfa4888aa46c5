// Integrals over stamps by the trapezoid rule, net and their negative part apart. No integral crosses a gap.
// README.md 2.
#pragma once

#include <span>

namespace rw {

struct Integral {
    double net = 0.0; // ∫ y dt
    double negative =
        0.0; // ∫ min(y, 0) dt, never above 0; the straight line between samples is split where it crosses 0
    double covered = 0.0; // s of the span that the integral covers: gaps and missing samples left out
};

// Median of the positive steps between stamps, s; 0 with fewer than two stamps. Over at most some ten thousand steps.
[[nodiscard]] double medianStep(std::span<const double> time);
// A step longer than this is a gap: over 5 median steps and over 0.5 s.
[[nodiscard]] double gapLimit(double medianStep_s);

// y(t) over all samples given. Steps longer than gap_s, steps back and steps that touch a NaN are not covered.
[[nodiscard]] Integral integrate(std::span<const double> time, std::span<const double> values, double gap_s);

} // namespace rw
