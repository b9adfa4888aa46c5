// A whole pass with every figure, by the program and by SUNDIALS CVODE on the same equations at about equal accuracy.
// The counter `error` is the largest relative error of the figures that do not hang on a peak search, over the sample
// plans, against CVODE at 1e-13; CVODE is spared the search for peaks, which favours it.
#include "tests/pass/reference/pass.h"
#include "tests/pass/samples/sample_passes.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace {

using rw::testing::SamplePass;

std::vector<SamplePass> firstPasses() {
    std::vector<SamplePass> passes = rw::testing::samplePasses();
    std::erase_if(passes, [](const SamplePass& p) { return !p.name.ends_with("there"); });
    return passes;
}

double error(const rw::PassResult& found, const rw::PassResult& exact) {
    const auto relative = [](double a, double b) { return std::abs(a - b) / std::abs(b); };
    return std::max({relative(*found.zoneMean, *exact.zoneMean), relative(*found.zoneExit, *exact.zoneExit),
                     relative(found.stopAt, exact.stopAt), relative(found.chargeUsed, exact.chargeUsed),
                     relative(found.energyUsed, exact.energyUsed), relative(found.end.winding, exact.end.winding),
                     relative(found.end.pack, exact.end.pack)});
}

// One iteration is one pass; the samples take turns.
template<class Simulate>
void passes(benchmark::State& state, Simulate simulate) {
    const std::vector<SamplePass> samples = firstPasses();
    double worst = 0.0;
    for (const SamplePass& sample : samples) {
        const rw::PassResult exact = rw::reference::simulatePass(sample.setup, sample.start, {1e-13, false});
        worst = std::max(worst, error(simulate(sample), exact));
    }
    std::size_t next = 0;
    for (auto _ : state)
        benchmark::DoNotOptimize(simulate(samples[next++ % samples.size()]));
    state.counters["error"] = worst;
}

void runwright(benchmark::State& state) {
    passes(state, [](const SamplePass& sample) { return rw::simulatePass(sample.setup, sample.start); });
}
BENCHMARK(runwright)->Name("pass/runwright")->Unit(benchmark::kMicrosecond);

void sundials(benchmark::State& state) {
    constexpr rw::reference::Options options{1e-10, false};
    passes(state,
           [&](const SamplePass& sample) { return rw::reference::simulatePass(sample.setup, sample.start, options); });
}
BENCHMARK(sundials)->Name("pass/sundials")->Unit(benchmark::kMicrosecond);

} // namespace
