// What measuring one input would be worth: the 90 % band of the zone speed and of the tightest limit's value as the
// plan stands, and after that input was measured by the method of the field table and found to be what the plan says.
// One set of spread runs serves every input. Method: regression adjustment, as with control variates (Glasserman, Monte
// Carlo Methods in Financial Engineering (2004), 4.1): the figures are regressed on polynomials of the inputs' normal
// scores; each run is then moved by what the fitted surface says of drawing that input from its narrower distribution
// at the same share, and keeps its own residual. Where what the surface leaves over is no longer small, runs near the
// middle of that input count for more first (importance weights), and are adjusted from there (Beaumont, Zhang,
// Balding, Genetics 162 (2002) 2025). Inputs that the plan correlates move along (Gaussian conditioning).
#pragma once

#include "core/plan/uncertain.h"

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

struct Band { // nine in ten lie between
    std::optional<double> p05, p95;
    [[nodiscard]] double width() const { return p05 && p95 ? *p95 - *p05 : 0.0; }
};

struct BandChange {
    Band before, after; // after: empty where the runs are too few to tell
    [[nodiscard]] double narrowing() const { return after.p05 ? before.width() - after.width() : 0.0; }
};

struct Worth {
    std::string key;
    double measurableTo = 0.0; // standard uncertainty of the method, in the key's unit
    std::string_view method;   // how to measure, one sentence
    BandChange zoneMean;       // m/s
    std::string_view limit;    // the plan's tightest; empty where there is none
    BandChange tightest;       // of that limit's value, in its unit
};

struct WorthResult {
    std::vector<Worth> inputs; // what narrows the zone speed's band most first
    BandChange bestTogether;   // of the zone mean: the first three measured, all of them
};
inline constexpr std::size_t bestCount = 3;
// The first three, or as many as narrow anything.
[[nodiscard]] std::vector<Worth> worthAsking(const WorthResult& worth);

// Runs of a spread, a column an input or figure, NaN where a run has no such figure.
struct WorthRuns {
    const PlanInput& input;
    const std::vector<UncertainField>& fields;
    const std::vector<std::vector<double>>& drawn; // values, a column a field
    const std::vector<double>& zoneMean;
    std::string_view limit;
    const std::vector<double>& limitValue;
};
[[nodiscard]] WorthResult worthOf(const WorthRuns& runs);
[[nodiscard]] nlohmann::ordered_json worthJson(const Worth& worth);

} // namespace rw
