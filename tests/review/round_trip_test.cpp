// Generate with known truth, read, review, compare, over 200 random days. The truth comes from the simulation without
// its sensors' errors and from what was planted (samples/generate); where noise decides, either answer is right.
#include "core/log/import.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "core/review/review.h"
#include "samples/generate/cars.h"
#include "tests/review/random_day.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>

namespace rw {
namespace {

using namespace generate;

struct Tally {
    int days = 0, passes = 0, planted = 0, missed = 0, reported = 0, wrong = 0, borders = 0, figures = 0;
    std::string what; // the first few, in words
    void tell(std::uint64_t seed, const std::string& text) {
        constexpr std::size_t enough = 60000;
        if (what.size() < enough) what += "seed " + std::to_string(seed) + ": " + text + "\n";
    }
};

bool sameKind(const Finding& f, const TrueFinding& t) {
    return f.id == t.id && f.session == t.session && f.pass == t.pass;
}

// A restart parts a pass in two: what follows it has no counterpart in the truth.
bool restarts(const Scenario& s) {
    for (const auto& session : s.sessions)
        for (const auto& pass : session.passes)
            if (pass.trouble.restartAt > 0.0) return true;
    return false;
}

void compareFindings(std::uint64_t seed, const Scenario& scenario, bool planGiven, const GeneratedLog& truth,
                     const LogReview& review, Tally& tally) {
    for (const TrueFinding& t : truth.findings) {
        if (!t.certain || (planGiven && t.id == "throttle-slow")) continue; // the plan's own ramp explains it
        ++tally.planted;
        if (std::any_of(review.findings.begin(), review.findings.end(),
                        [&](const Finding& f) { return sameKind(f, t); }))
            continue;
        if (std::any_of(review.notJudged.begin(), review.notJudged.end(),
                        [&](const NotJudged& n) { return n.id == t.id && (!n.session || n.session == t.session); }))
            continue;
        ++tally.missed;
        tally.tell(seed, "missed " + t.id + " in session " + std::to_string(t.session) +
                             (t.pass ? " pass " + std::to_string(*t.pass) : ""));
    }
    for (const Finding& f : review.findings) {
        ++tally.reported;
        if (std::any_of(truth.findings.begin(), truth.findings.end(),
                        [&](const TrueFinding& t) { return sameKind(f, t); }))
            continue;
        if (restarts(scenario) && f.pass && *f.pass + 1 >= truth.passes.size()) continue;
        ++tally.wrong;
        tally.tell(seed, "wrong " + std::string(f.id) + (f.pass ? " pass " + std::to_string(*f.pass) : "") + ": " +
                             textOf(f.seen));
    }
}

void comparePasses(std::uint64_t seed, const Scenario& scenario, const GeneratedLog& truth, const LogReview& review,
                   Tally& tally) {
    const double step = 1.0 / scenario.rate_Hz, within = 2.0 * step + 6.0 * scenario.jitter_s + scenario.stampStep_s +
                                                         (scenario.equalStamps ? step : 0.0);
    const SensorSet& sensors = scenario.sensors;
    for (std::size_t p = 0; p < truth.passes.size(); ++p) {
        const TruePass& t = truth.passes[p];
        const ReviewPass& r = review.passes[p];
        ++tally.passes;
        if (std::abs(r.start - t.start_s) > within || std::abs(r.end - t.end_s) > within) {
            ++tally.borders;
            tally.tell(seed, "pass " + std::to_string(p) + " at " + std::to_string(r.start) + "…" +
                                 std::to_string(r.end) + ", truly " + std::to_string(t.start_s) + "…" +
                                 std::to_string(t.end_s));
        }
        if (restarts(scenario)) continue;
        const auto check = [&](const char* name, double seen, double told, double noise) {
            if (std::abs(seen - told) <= noise) return;
            ++tally.figures;
            tally.tell(seed, "pass " + std::to_string(p) + " " + name + " " + std::to_string(seen) + ", truly " +
                                 std::to_string(told));
        };
        // Extremes of many samples: five standard deviations and a step; with jitter a sample lies elsewhere on a steep
        // course.
        const double offset = scenario.currentNegated ? -scenario.currentOffset_A : scenario.currentOffset_A;
        const auto noise = [](const Sensor& s) { return 5.0 * s.noise + s.step; };
        check("lowest voltage", r.minVoltage.value_or(0.0), t.minVoltage_V, noise(sensors.voltage));
        check("peak current", r.peakCurrent.value_or(0.0), t.peakCurrent_A + offset,
              noise(sensors.current) + 0.01 * t.peakCurrent_A);
        if (scenario.sessions[t.session].passes.at(0).trouble.stuckAt == 0.0)
            check("peak motor speed", r.motorPeakSpeed.value_or(0.0) * 60.0 / (2.0 * 3.141592653589793),
                  t.motorPeak_rpm, noise(sensors.motorSpeed) + 0.01 * t.motorPeak_rpm);
        check("motor's largest", r.motor.max.value_or(0.0) - 273.15, t.motorMax_C,
              noise(sensors.motorTemperature) + 1.0);
    }
}

void compareDay(std::uint64_t seed, Tally& tally) {
    const test::RandomDay day = test::randomDay(seed);
    const GeneratedLog truth = generateLog(day.scenario, seed);
    const Log log = importLog(truth.text, truth.fileName);
    ReviewOptions options;
    if (day.planGiven) {
        options.plan = day.scenario.sessions.front().plan;
    } else {
        const auto& cutoff = day.scenario.sessions.front().plan.controller.cutoff;
        options.cells = {day.scenario.sessions.front().plan.pack.series};
        if (cutoff.mode != CutoffMode::Off) options.cutoffCell = cutoff.cell_V;
    }
    const LogReview review = reviewLog(log, options);
    ++tally.days;
    const bool parted = restarts(day.scenario);
    if (review.sessions.size() != truth.sessions.size() ||
        (parted ? review.passes.size() < truth.passes.size() : review.passes.size() != truth.passes.size())) {
        ++tally.borders;
        tally.tell(seed, std::to_string(review.sessions.size()) + " sessions for " +
                             std::to_string(truth.sessions.size()) + ", " + std::to_string(review.passes.size()) +
                             " passes for " + std::to_string(truth.passes.size()));
        return;
    }
    for (std::size_t s = 0; s < truth.sessions.size(); ++s)
        if (std::abs(static_cast<double>(review.sessions[s].startRow) -
                     static_cast<double>(truth.sessions[s].startRow)) > 2.0) {
            ++tally.borders;
            tally.tell(seed, "session " + std::to_string(s) + " begins on row " +
                                 std::to_string(review.sessions[s].startRow) + ", truly " +
                                 std::to_string(truth.sessions[s].startRow));
        }
    comparePasses(seed, day.scenario, truth, review, tally);
    compareFindings(seed, day.scenario, day.planGiven, truth, review, tally);
}

TEST(RoundTrip, twoHundredRandomDaysAreReadAsTheyWere) {
    Tally tally;
    const char* more = std::getenv("RUNWRIGHT_ROUND_TRIP_SEEDS"); // for a longer run by hand
    const std::uint64_t seeds = more ? std::strtoull(more, nullptr, 10) : 200;
    for (std::uint64_t seed = 0; seed < seeds; ++seed)
        compareDay(seed, tally);
    std::printf("%d days, %d passes: %d borders wrong, %d figures beyond their noise; %d findings planted, %d missed; "
                "%d reported, %d wrong\n%s",
                tally.days, tally.passes, tally.borders, tally.figures, tally.planted, tally.missed, tally.reported,
                tally.wrong, tally.what.c_str());
    EXPECT_EQ(tally.borders, 0);
    EXPECT_EQ(tally.figures, 0);
    EXPECT_EQ(tally.missed, 0);
    EXPECT_EQ(tally.wrong, 0);
    EXPECT_GT(tally.planted, 100);
}

TEST(Generator, givesTheSameBytesForTheSameSeed) {
    for (const std::string_view day : sampleDays()) {
        const auto a = generateLog(sampleDay(day), 5), b = generateLog(sampleDay(day), 5);
        EXPECT_EQ(a.text, b.text);
        EXPECT_NE(a.text, generateLog(sampleDay(day), 6).text);
        EXPECT_LT(a.text.size(), 600'000U);
    }
}

// What machines and releases may do differently stays below the rounding: random numbers of integer arithmetic, an
// integration converged to rounding (1e-13; at 1e-11 the files are the same), sensors' steps of 1e-4 of a reading.
TEST(Generator, writesTheSampleLogsByteForByte) {
    for (const std::string_view day : sampleDays()) {
        const GeneratedLog made = generateLog(sampleDay(day), sampleSeed);
        std::ifstream file(RUNWRIGHT_SOURCE_DIR "/samples/logs/" + made.fileName, std::ios::binary);
        const std::string kept{std::istreambuf_iterator<char>(file), {}};
        const auto differs = std::mismatch(kept.begin(), kept.end(), made.text.begin(), made.text.end()).first;
        EXPECT_TRUE(kept == made.text) << made.fileName << " differs on line "
                                       << 1 + std::count(kept.begin(), differs, '\n');
    }
    std::ifstream plan(RUNWRIGHT_SOURCE_DIR "/samples/plans/" + std::string(mainDayPlanFile), std::ios::binary);
    EXPECT_EQ(std::string(std::istreambuf_iterator<char>(plan), {}), writePlanInput(mainDayPlan()));
}

// What a log of the main day teaches must be able to lie within what its plan allows: every number that the truth has
// otherwise is one that the plan is unsure of, and is off by at most one of its standard uncertainties.
TEST(Generator, theMainDaysTruthLiesWithinItsPlan) {
    const PlanInput told = mainDayPlan(), truth = asItTrulyIs(told);
    EXPECT_GE(told.uncertainty.size(), 20U);
    int off = 0;
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr || field.get(told) == field.get(truth)) continue;
        ++off;
        ASSERT_EQ(told.uncertainty.count(field.key()), 1U) << field.key();
        EXPECT_LE(std::abs(*field.get(told) - *field.get(truth)), told.uncertainty.at(field.key())) << field.key();
    }
    EXPECT_EQ(off, static_cast<int>(told.uncertainty.size()));
    const Scenario day = sampleDay("main-day");
    EXPECT_EQ(samplePlan("main-day").vehicle, truth.vehicle);
    EXPECT_EQ(day.sessions.at(1).plan.pack.series, 8);
    EXPECT_GE(day.rate_Hz, 20.0);
}

} // namespace
} // namespace rw
