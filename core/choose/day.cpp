#include "core/choose/day.h"

#include "core/error.h"
#include "core/json/json_write.h"
#include "core/plan/plan_fields.h"
#include "core/plan/repeats.h"

#include <algorithm>

namespace rw {

namespace {

constexpr double usualWaits_s[] = {0, 30, 60, 90, 120, 180, 240, 300, 420, 600, 900, 1200};

DayRow dayWith(const PlanInput& input, const PassSetup& setup, const PassResult& first, double wait_s, int most) {
    DayRow out;
    out.wait_s = wait_s;
    out.windingPeak = first.windingPeak;
    out.casePeak = std::max(first.casePeak, first.caseSoakPeak);
    std::optional<PassResult> pass = first;
    while (out.passes < most) {
        out.limit = pass ? whatEndsTheDay(input, *pass) : "winding_limit"; // so hot that it runs away
        if (out.limit) break;
        ++out.passes;
        out.windingPeak = std::max(out.windingPeak, pass->windingPeak);
        out.casePeak = std::max({out.casePeak, pass->casePeak, pass->caseSoakPeak});
        if (out.passes < most) pass = nextPassIfAny(setup, *pass, wait_s);
    }
    return out;
}

} // namespace

DayResult dayOfPasses(const PlanInput& input, const DayOptions& options) {
    const PassSetup setup = passSetup(input);
    checkFieldValue(*findPlanField("drive.passes"), options.passes, "passes");
    std::vector<double> waits = options.waits_s;
    if (waits.empty()) waits.assign(std::begin(usualWaits_s), std::end(usualWaits_s));
    for (const double wait : waits)
        checkFieldValue(*findPlanField("drive.turn_around_s"), wait, "wait");
    const PassResult first = simulatePass(setup, startState(input));
    DayResult out;
    out.rows.resize(waits.size());
    parallelFor(waits.size(), options.work,
                [&](std::size_t i) { out.rows[i] = dayWith(input, setup, first, waits[i], options.passes); });
    return out;
}

std::string dayJson(const DayResult& day) {
    const auto column = [&day](auto get) { return listJson(day.rows, get); };
    Json out;
    out["waits_s"] = column([](const DayRow& row) { return row.wait_s; });
    out["passes_until_limit"] = column([](const DayRow& row) { return row.passes; });
    out["winding_peak_C"] = column([](const DayRow& row) { return row.windingPeak; });
    out["case_peak_C"] = column([](const DayRow& row) { return row.casePeak; });
    out["limit"] = column([](const DayRow& row) { return jsonOrNull(row.limit); });
    return out.dump(2) + "\n";
}

} // namespace rw
