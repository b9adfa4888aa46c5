// Results as a person reads them.
#pragma once

#include "core/plan/plan.h"

#include <string>

namespace rw {
struct Log;
struct LogReview;
struct UnitChoice;
} // namespace rw

namespace rw::batch {

class Ink;

[[nodiscard]] std::string planText(const PlanInput& input, const PlanResult& result, const Ink& ink);
// The day session by session, pass by pass, then what was found and what to try. units: those of speeds and of the
// numbers in findings.
[[nodiscard]] std::string reviewText(const Log& log, const LogReview& review, const Ink& ink, const UnitChoice& units);

// "44.81 m/s (161.3 km/h, 100.2 mph)"; "-" where there is none.
[[nodiscard]] std::string speedText(std::optional<double> metresPerSecond);
[[nodiscard]] std::string percentText(double share); // "12 %"
// A margin's share left as words with colour: "12 % left", "broken by 5 %".
[[nodiscard]] std::string marginText(double margin, const Ink& ink);
// The cautions, each on its line; shown where a limit is broken.
[[nodiscard]] std::string cautionText(const Ink& ink);

} // namespace rw::batch
