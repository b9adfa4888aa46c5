// How well: invented days with known truth, learned from, and what the learned plan says of another pinion against the
// truth. Prints coverage, sharpness and worst cases. Not one of the tests: it takes minutes.
//   learn-calibration [--days N] [--from SEED] [--style NAME] [--verbose]
#include "core/learn/learn.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_figures.h"
#include "core/plan/plan_json.h"
#include "core/plan/spread.h"
#include "tests/learn/made_day.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <map>

namespace {

using namespace rw;
using namespace rw::testing;

constexpr std::array figures{"zone_mean_mps", "peak_pack_A", "min_cell_V", "case_soak_peak_C"};

struct Tally {
    int days = 0, failed = 0;
    int errors = 0, inside = 0; // standardised errors of determined parameters
    double worst = 0.0, worstToday = 0.0, sumSquares = 0.0;
    std::string worstKey;
    std::map<std::string, std::pair<int, int>> byKey; // determined, inside
    std::array<int, figures.size()> bands{}, held{};
    std::vector<double> sharpness,
        sharpnessKnown; // zone speed's band over the prior's; the day's own keys known in both
    double seconds = 0.0;
    int foretold = 0, foretoldInside = 0;
    int gusts = 0, gustsInside = 0; // of the former, where the pass that is foretold is the one with the gust
};

DayStyle styleOf(const std::string& name, generate::Random& random) {
    DayStyle style;
    style.rate = std::array{20.0, 25.0, 50.0}[static_cast<std::size_t>(random.whole(0, 2))];
    style.passes = random.whole(2, 4);
    if (name == "gust") style.gust = 0.1;
    if (name == "tyre") style.tyreShare = random.chance(0.5) ? 0.01 : -0.01;
    if (name == "lag") style.sensors.heatLag = 2.0;
    if (name == "coarse") {
        style.sensors.outputStep = 1.0, style.sensors.voltageStep = 0.1, style.sensors.currentStep = 1.0;
        style.sensors.speedStep = 50.0, style.sensors.heatStep = 1.0;
    }
    if (name == "ten-hertz") style.rate = 10.0;
    if (name == "no-motor-speed") style.sensors.motorSpeed = false;
    if (name == "no-output") style.sensors.output = false;
    if (name == "one-pass") style.passes = 1;
    if (name == "ground-speed") style.sensors.groundSpeed = true;
    if (name == "fast-rows") style.rate = 50.0, style.passes = 4;
    return style;
}

// The plan with the day's own keys certain.
PlanInput ofCarried(PlanInput plan) {
    std::erase_if(plan.uncertainty, [](const auto& item) { return !carriedKey(item.first); });
    std::erase_if(plan.correlation,
                  [](const KeyCorrelation& pair) { return !carriedKey(pair.first) || !carriedKey(pair.second); });
    return plan;
}

double zoneBand(const PlanInput& plan) {
    const SpreadResult result = spreadPlan(plan, {200, 7, {}});
    for (const SpreadFigure& figure : result.figures)
        if (figure.name == figures[0] && figure.p05 && figure.p95) return *figure.p95 - *figure.p05;
    return 0.0;
}

void judgeBands(const MadeDay& day, const PlanInput& learned, generate::Random& random, Tally& tally, bool verbose) {
    PlanInput other = learned, prior = day.plan, truth = day.truth;
    const int pinion = learned.gears.pinion_teeth + (random.chance(0.5) ? 2 : -2);
    for (PlanInput* plan : {&other, &prior, &truth})
        plan->gears.pinion_teeth = pinion;
    const PassResult pass = simulatePass(passSetup(truth), startState(truth));
    const SpreadResult after = spreadPlan(other, {300, 7, {}});
    const SpreadResult before = spreadPlan(prior, {300, 7, {}});
    const double known = zoneBand(ofCarried(other)) / zoneBand(ofCarried(prior));
    tally.sharpnessKnown.push_back(known);
    if (verbose)
        std::printf("    zone band: prior %.3f, its carried keys %.3f; learned %.3f, its carried keys %.3f\n",
                    zoneBand(prior), zoneBand(ofCarried(prior)), zoneBand(other), zoneBand(ofCarried(other)));
    for (std::size_t f = 0; f < figures.size(); ++f) {
        if (f == 1 && pass.bound.packCurrent > 0.0) continue; // pinned by a limit
        if (f == 2 && pass.bound.cutoff > 0.0) continue;
        const auto find = [&](const SpreadResult& result) {
            return std::find_if(result.figures.begin(), result.figures.end(),
                                [&](const SpreadFigure& s) { return s.name == figures[f]; });
        };
        const auto is = find(after), was = find(before);
        const auto value = findPlanFigure(figures[f])->get(truth, pass);
        if (!value || !is->p05 || !is->p95 || !was->p05) continue;
        const bool holds = *value >= *is->p05 && *value <= *is->p95;
        ++tally.bands[f];
        tally.held[f] += holds ? 1 : 0;
        if (f == 0) tally.sharpness.push_back((*is->p95 - *is->p05) / (*was->p95 - *was->p05));
        if (verbose)
            std::printf("    %-18s %9.3f … %9.3f truth %9.3f %s   prior %9.3f … %9.3f\n", figures[f], *is->p05,
                        *is->p95, *value, holds ? "" : "OUT", *was->p05, *was->p95);
    }
}

void judge(const MadeDay& day, const LearnReport& report, bool gust, Tally& tally, bool verbose) {
    for (const LearnedParameter& p : report.parameters) {
        const double truth = *findPlanField(p.key)->get(day.truth);
        const double error = (p.value - truth) / p.standardError;
        if (verbose)
            std::printf("    %-32s %12.6g ± %10.4g (prior %11.6g ± %10.4g) truth %12.6g  %6.2f %s\n", p.key.c_str(),
                        p.value, p.standardError, p.priorValue, p.priorUncertainty, truth, error,
                        p.determined ? "" : "-");
        if (!p.determined) continue;
        ++tally.errors;
        auto& [count, in] = tally.byKey[p.key];
        ++count;
        tally.sumSquares += error * error;
        if (std::abs(error) <= 1.96) ++tally.inside, ++in;
        if (std::abs(error) > std::abs(tally.worstToday)) tally.worstToday = error;
        if (std::abs(error) > std::abs(tally.worst)) tally.worst = error, tally.worstKey = p.key;
    }
    if (!report.foretold) return;
    for (const ForetoldFigure& f : report.foretold->figures) {
        ++tally.foretold;
        tally.foretoldInside += f.inside.value_or(false) ? 1 : 0;
        if (gust && day.gusty + 1 == day.headWind.size())
            ++tally.gusts, tally.gustsInside += f.inside.value_or(false) ? 1 : 0;
        if (verbose)
            std::printf("    foretold %-18s %9.3f … %9.3f seen %9.3f %s\n", f.name.c_str(), f.low, f.high, *f.seen,
                        *f.inside ? "" : "OUT");
    }
}

void runDay(const std::string& name, std::uint64_t seed, Tally& tally, bool verbose) {
    generate::Random random(seed * 7919 + 11);
    const std::array plans{"light_two_wheel_drive", "heavy_all_wheel_drive", "streamliner"};
    const std::string plan = plans[seed % plans.size()];
    const DayStyle style = styleOf(name, random);
    const MadeDay day = makeDay(
        readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_") + plan + ".json"), style, seed);
    ++tally.days;
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    try {
        const auto began = std::chrono::steady_clock::now();
        const LearnReport report = learn({&log, 1}, {});
        const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
        tally.seconds += seconds;
        if (verbose) {
            std::printf("day %d %s, %.0f rows/s, %d passes (%zu used), %.2f s%s\n", static_cast<int>(seed),
                        plan.c_str(), style.rate, style.passes, report.passesUsed.size(), seconds,
                        report.converged ? "" : " NOT CONVERGED");
            for (const LearnedNuisance& n : report.nuisances)
                std::printf("    %-50s %10.5f ± %9.5f\n", n.name.c_str(), n.value, n.standardError);
            std::printf("    truth: current gain %.5f zero %.3f voltage gain %.5f wind", day.currentGain,
                        day.currentZero, day.voltageGain);
            for (const double w : day.headWind)
                std::printf(" %.2f", w);
            std::printf(" friction %.5f air %.4f\n", day.truth.venue.friction, day.truth.air.temperature_C);
            for (const LearnedResidual& r : report.residuals)
                std::printf("    residual %d count %zu effective %.0f rms %.4g noise %.4g worst %.3g at %.2f\n",
                            static_cast<int>(r.quantity), r.count, r.effectiveCount, r.rms, r.noise, r.worstResidual,
                            r.worstAt);
            for (const std::string& note : report.notes)
                std::printf("    note: %s\n", note.c_str());
            for (const LeftOutPass& left : report.passesLeftOut)
                std::printf("    left out %zu: %s\n", left.pass.pass, left.why.c_str());
        }
        tally.worstToday = 0.0;
        if (!report.converged) {
            std::printf("day %d %s did not converge, %.0f rows/s, %zu passes\n", static_cast<int>(seed), plan.c_str(),
                        style.rate, report.passesUsed.size());
            ++tally.failed;
            return;
        }
        judge(day, report, style.gust > 0.0, tally, verbose);
        if (std::abs(tally.worstToday) > 3.0)
            std::printf("day %d %s: %.2f, %.0f rows/s, %zu passes, %.1f s\n", static_cast<int>(seed), plan.c_str(),
                        tally.worstToday, style.rate, report.passesUsed.size(), seconds);
        std::fflush(stdout);
        judgeBands(day, learnedPlan(day.plan, report), random, tally, verbose);
    } catch (const std::exception& wrong) {
        ++tally.failed;
        std::printf("day %d: %s\n", static_cast<int>(seed), wrong.what());
    }
}

double percent(int part, int all) { return all > 0 ? 100.0 * part / all : 0.0; }

void print(const std::string& name, Tally& tally) {
    std::printf("\n%s: %d days, %d failed, %.2f s a fit\n", name.c_str(), tally.days, tally.failed,
                tally.seconds / std::max(tally.days, 1));
    std::printf("  parameters within ±1.96: %.1f %% of %d, rms %.2f, worst %.2f (%s)\n",
                percent(tally.inside, tally.errors), tally.errors,
                std::sqrt(tally.sumSquares / std::max(tally.errors, 1)), tally.worst, tally.worstKey.c_str());
    int bands = 0, held = 0;
    for (std::size_t f = 0; f < figures.size(); ++f) {
        std::printf("  %-18s in the 90 %% band: %.1f %% of %d\n", figures[f], percent(tally.held[f], tally.bands[f]),
                    tally.bands[f]);
        bands += tally.bands[f], held += tally.held[f];
    }
    std::printf("  all bands: %.1f %% of %d\n", percent(held, bands), bands);
    std::sort(tally.sharpness.begin(), tally.sharpness.end());
    if (!tally.sharpness.empty())
        std::printf("  zone speed's band over the prior's, median: %.3f\n",
                    tally.sharpness[tally.sharpness.size() / 2]);
    std::sort(tally.sharpnessKnown.begin(), tally.sharpnessKnown.end());
    if (!tally.sharpnessKnown.empty())
        std::printf("  with the day's own keys known, median: %.3f\n",
                    tally.sharpnessKnown[tally.sharpnessKnown.size() / 2]);
    std::printf("  foretold inside: %.1f %% of %d\n", percent(tally.foretoldInside, tally.foretold), tally.foretold);
    if (tally.gusts > 0)
        std::printf("    where the last pass met the gust: %.1f %% of %d; else %.1f %% of %d\n",
                    percent(tally.gustsInside, tally.gusts), tally.gusts,
                    percent(tally.foretoldInside - tally.gustsInside, tally.foretold - tally.gusts),
                    tally.foretold - tally.gusts);
    for (const auto& [key, counts] : tally.byKey)
        std::printf("    %-34s %3d determined, %5.1f %% within\n", key.c_str(), counts.first,
                    percent(counts.second, counts.first));
}

} // namespace

int main(int argc, char** argv) {
    int days = 20;
    std::uint64_t from = 1;
    std::string style = "plain";
    bool verbose = false;
    for (int i = 1; i < argc; ++i) {
        if (std::strcmp(argv[i], "--verbose") == 0) verbose = true;
        if (i + 1 >= argc) continue;
        if (std::strcmp(argv[i], "--days") == 0) days = std::atoi(argv[i + 1]);
        if (std::strcmp(argv[i], "--from") == 0) from = static_cast<std::uint64_t>(std::atoll(argv[i + 1]));
        if (std::strcmp(argv[i], "--style") == 0) style = argv[i + 1];
    }
    Tally tally;
    for (int d = 0; d < days; ++d)
        runDay(style, from + static_cast<std::uint64_t>(d), tally, verbose);
    print(style, tally);
    return 0;
}
