// Where the strip changes along its length: one geometry for the screen and for paper. Metres from the start.
#pragma once

#include "core/plan/plan.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace rw {

struct StripMarks {
    double zoneEntry = 0.0, zoneExit = 0.0, end = 0.0; // of the venue
    std::optional<double> brakeFrom;                   // end of the reaction time; none: never got there
    double stop = 0.0;
};
[[nodiscard]] StripMarks stripMarks(const PlanInput& input, const PlanResult& result); // of the first pass

enum class StripKind : std::uint8_t { RunUp, Timed, Coast, Brake, Left, Beyond };
struct StripSegment {
    double from = 0.0, to = 0.0;
    StripKind kind = StripKind::RunUp;
};
// From the start to where the car stands or the venue ends, whichever is further; without stretches under half a metre.
[[nodiscard]] std::vector<StripSegment> stripSegments(const StripMarks& marks);
// Where somebody has to see a line: start, both posts of the zone, standstill.
[[nodiscard]] std::vector<double> stripCones(const StripMarks& marks);

} // namespace rw
