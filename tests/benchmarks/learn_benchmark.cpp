// Learning from an invented day: four passes at 50 rows a second and 15 unknowns of the vehicle; and from a season of
// ten such days.
#include "core/learn/learn.h"
#include "core/plan/plan_json.h"
#include "tests/learn/made_day.h"

#include <benchmark/benchmark.h>

#include <string>
#include <vector>

namespace {

using namespace rw;
using namespace rw::testing;

std::vector<MadeDay> daysOf(std::size_t count) {
    const PlanInput plan =
        readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/plans/invented_heavy_all_wheel_drive.json");
    DayStyle style;
    style.rate = 50.0;
    style.passes = 4;
    std::vector<MadeDay> out;
    for (std::size_t i = 0; i < count; ++i)
        out.push_back(makeDay(plan, style, 5)); // the same day: one car, one truth
    return out;
}

void learnFrom(benchmark::State& state, std::size_t count) {
    const std::vector<MadeDay> days = daysOf(count);
    std::vector<LearnLog> logs;
    for (const MadeDay& day : days)
        logs.push_back({&day.log, &day.review, day.plan, ""});
    LearnReport report;
    for (auto _ : state)
        report = learn(logs, {});
    state.counters["unknowns"] = static_cast<double>(report.parameters.size());
    state.counters["passes"] = static_cast<double>(report.passesUsed.size());
    state.counters["converged"] = report.converged ? 1.0 : 0.0;
}

void learnDay(benchmark::State& state) { learnFrom(state, 1); }
BENCHMARK(learnDay)->Name("learn/day")->Unit(benchmark::kMillisecond)->UseRealTime();

void learnSeason(benchmark::State& state) { learnFrom(state, 10); }
BENCHMARK(learnSeason)->Name("learn/season")->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

} // namespace
