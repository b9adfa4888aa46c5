#include "core/plan/strip.h"

#include <algorithm>

namespace rw {

namespace {
constexpr double leastStretch = 0.5; // m: shorter ones are not worth a segment
}

StripMarks stripMarks(const PlanInput& input, const PlanResult& result) {
    StripMarks marks;
    marks.zoneEntry = input.venue.run_up_m;
    marks.zoneExit = input.venue.run_up_m + input.venue.timed_m;
    marks.end = input.venue.length_m;
    if (result.passes.empty()) return marks;
    const PassResult& pass = result.passes.front();
    marks.stop = pass.stopAt;
    if (pass.braking) marks.brakeFrom = pass.stopAt - *pass.braking;
    return marks;
}

std::vector<StripSegment> stripSegments(const StripMarks& marks) {
    std::vector<StripSegment> all{{0.0, marks.zoneEntry, StripKind::RunUp},
                                  {marks.zoneEntry, marks.zoneExit, StripKind::Timed}};
    double reached = marks.zoneExit;
    const double coastEnd = std::min(marks.brakeFrom.value_or(marks.zoneExit), marks.end); // no further than the venue
    if (coastEnd - marks.zoneExit > leastStretch) {
        all.push_back({marks.zoneExit, coastEnd, StripKind::Coast});
        reached = coastEnd;
    }
    const double stop = std::max(marks.stop, reached);
    const double inside = std::min(stop, marks.end);
    if (inside - reached > leastStretch) all.push_back({reached, inside, StripKind::Brake});
    if (marks.end - stop > leastStretch) all.push_back({stop, marks.end, StripKind::Left});
    if (stop - marks.end > leastStretch) all.push_back({marks.end, stop, StripKind::Beyond});
    return all;
}

std::vector<double> stripCones(const StripMarks& marks) { return {0.0, marks.zoneEntry, marks.zoneExit, marks.stop}; }

} // namespace rw
