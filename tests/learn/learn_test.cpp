// Learning from whole invented days: what it finds, what it hands on, what it refuses.
#include "core/learn/learn.h"

#include "core/error.h"
#include "core/learn/estimate.h"
#include "core/learn/noise.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "core/plan/spread.h"
#include "core/stopped.h"
#include "tests/learn/made_day.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

namespace rw::testing {

namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

DayStyle quick() {
    DayStyle style;
    style.rate = 20.0;
    style.passes = 2;
    return style;
}

// One day for all tests that only look at it.
struct Learned {
    MadeDay day = makeDay(heavyCar(), quick(), 5);
    LearnLog log{&day.log, &day.review, day.plan, std::string(64, 'a')};
    LearnReport report = learn({&log, 1}, {});
};
const Learned& learned() {
    static const Learned one;
    return one;
}

std::string refusal(const std::function<void()>& call) {
    try {
        call();
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

TEST(Learn, FindsTheTruthWithinItsErrors) {
    const auto& [day, log, report] = learned();
    ASSERT_TRUE(report.converged);
    int determined = 0;
    for (const LearnedParameter& p : report.parameters) {
        const double truth = *findPlanField(p.key)->get(day.truth);
        EXPECT_LT(std::abs(p.value - truth), 5.0 * p.standardError) << p.key;
        EXPECT_LE(p.standardError, 1.001 * p.priorUncertainty) << p.key; // a log takes nothing away
        EXPECT_LT(p.low, p.value);
        EXPECT_GT(p.high, p.value);
        EXPECT_EQ(p.determined, !p.whyNot.has_value()) << p.key;
        determined += p.determined ? 1 : 0;
    }
    EXPECT_GE(determined, 5);
    ASSERT_TRUE(report.foretold.has_value());
    EXPECT_GE(report.foretold->figures.size(), 4U);
    EXPECT_EQ(report.passesUsed.size(), 2U);
}

TEST(Learn, TheLearnedPlanIsOneThatSpreadTakes) {
    const auto& [day, log, report] = learned();
    const PlanInput plan = learnedPlan(day.plan, report);
    EXPECT_EQ(readPlanInput(writePlanInput(plan), "learned"), plan);
    EXPECT_EQ(plan.venue.friction, day.plan.venue.friction); // of the day: stays
    ASSERT_TRUE(plan.learned.has_value());
    EXPECT_EQ(plan.learned->logs, std::vector<std::string>{log.digest});
    const SpreadResult narrow = spreadPlan(plan, {60, 1, {}});
    EXPECT_FALSE(narrow.notes.empty());
    for (const KeyCorrelation& pair : plan.correlation)
        EXPECT_EQ(pair.coefficient, std::round(pair.coefficient * 1e6) / 1e6);
}

TEST(Learn, TheDocumentKeepsItsOrderAndAllElse) {
    const auto& [day, log, report] = learned();
    const std::string before =
        "{\"version\": 1, \"runwright\": \"plan\"," +
        writePlanInput(day.plan).substr(std::string("{\n  \"runwright\": \"plan\",\n  \"version\": 1,").size());
    const PlanInput plan = learnedPlan(day.plan, report);
    const std::string after = learnedDocument(before, plan, report);
    EXPECT_EQ(readPlanInput(after, "after"), plan);
    EXPECT_LT(after.find("\"version\""), after.find("\"runwright\""));
}

TEST(Learn, TheSameLogTwiceIsSaid) {
    const auto& [day, log, report] = learned();
    LearnLog again = log;
    again.plan = learnedPlan(day.plan, report);
    LearnOptions options;
    options.foretell = false;
    EXPECT_THAT(learn({&again, 1}, options).notes, Contains(HasSubstr("already learned from")));
}

TEST(Learn, RefusesInOneSentence) {
    const auto& [day, log, report] = learned();
    LearnLog sure = log;
    sure.plan.uncertainty = {{"air.temperature_C", 1.0}};
    EXPECT_THAT(refusal([&] {
                    static_cast<void>(learn({&sure, 1}, {}));
                }),
                HasSubstr("no uncertain key that is carried"));
    LearnLog cells = log;
    cells.plan.pack.series += 1;
    EXPECT_THAT(refusal([&] { static_cast<void>(learn({&cells, 1}, {})); }), HasSubstr("cells"));
    LearnOptions unknown;
    unknown.passes = {{0, 0, 77}};
    EXPECT_THAT(refusal([&] { static_cast<void>(learn({&log, 1}, unknown)); }), HasSubstr("--passes"));
    std::vector<LearnLog> two{log, log};
    two[1].plan.vehicle.mass_kg += 0.1;
    EXPECT_THAT(refusal([&] { static_cast<void>(learn(two, {})); }), HasSubstr("vehicle.mass_kg"));
    EXPECT_THAT(refusal([] { static_cast<void>(learn({}, {})); }), HasSubstr("missing"));
}

using learning::Problem;
using learning::Unknown;
using learning::UnknownItem;

const UnknownItem& itemOf(const Problem& problem, Unknown kind, std::size_t place = 0) {
    for (const UnknownItem& u : problem.unknowns)
        if (u.kind == kind && u.place == place) return u;
    throw std::runtime_error("no such unknown");
}

// Head wind is positive from ahead (core/physics/README.md 1): the other way it has the other sign.
TEST(Learn, APassTheOtherWayHasTheWindFromBehind) {
    const LearnLog& log = learned().log;
    LearnOptions options;
    const Problem forth = learning::problemOf({&log, 1}, options);
    const learning::Piece& last = forth.day.pieces.back();
    options.reverse = {last.ref};
    const Problem back = learning::problemOf({&log, 1}, options);
    EXPECT_EQ(itemOf(back, Unknown::Wind, 0).mean, itemOf(forth, Unknown::Wind, 0).mean);
    EXPECT_EQ(itemOf(back, Unknown::Wind, 1).mean, -itemOf(forth, Unknown::Wind, 1).mean);
    EXPECT_TRUE(back.day.pieces.back().reverse);
}

TEST(Learn, ANotedSpeedIsAReadingWithItsOwnUncertainty) {
    const LearnLog& log = learned().log;
    LearnOptions options;
    options.noted = {{{0, log.review->passes[0].session, 0}, false, 31.5, 0.2}};
    const Problem problem = learning::problemOf({&log, 1}, options);
    const learning::Reading& noted = problem.day.pieces.front().readings.back();
    EXPECT_EQ(noted.sensor, learning::Sensor::Peak);
    EXPECT_EQ(noted.value, 31.5);
    EXPECT_EQ(noted.noise, 0.2);
}

TEST(Learn, RollingOutMakesForcesCountAfterTheClose) {
    const LearnLog& log = learned().log;
    LearnOptions options;
    const auto speeds = [](const Problem& problem) {
        const learning::Piece& piece = problem.day.pieces.front();
        return std::count_if(piece.readings.begin(), piece.readings.end(), [&](const learning::Reading& r) {
            return r.sensor == learning::Sensor::MotorSpeed && piece.middle(r) > piece.driven.close + 0.2;
        });
    };
    EXPECT_EQ(speeds(learning::problemOf({&log, 1}, options)), 0);
    options.coast = true;
    EXPECT_GT(speeds(learning::problemOf({&log, 1}, options)), 3);
}

// Learning on: the sensors keep what is known of them, and a tyre may have worn by 0.5 % since.
TEST(Learn, LearningOnStartsFromTheGainsAndWidensWhatWears) {
    const auto& [day, log, report] = learned();
    LearnLog next = log;
    next.plan = learnedPlan(day.plan, report);
    const Problem problem = learning::problemOf({&next, 1}, {});
    EXPECT_EQ(itemOf(problem, Unknown::CurrentGain).mean, report.learned.currentGain.value);
    EXPECT_EQ(itemOf(problem, Unknown::CurrentGain).deviation, report.learned.currentGain.uncertainty);
    for (std::size_t j = 0; j < problem.carried; ++j) {
        const std::string key = problem.unknowns[j].field->key();
        const double kept = next.plan.uncertainty.at(key);
        if (key == "tyre.radius_m") {
            EXPECT_NEAR(problem.unknowns[j].deviation, std::hypot(kept, 0.005 * next.plan.tyre.radius_m), 1e-12);
        }
        if (key == "motor.kv_rpm_per_V") {
            EXPECT_EQ(problem.unknowns[j].deviation, kept);
        }
    }
}

TEST(Learn, RefusesMorePassesThanItCanTake) {
    const auto& [day, log, report] = learned();
    LogReview many = day.review;
    many.passes.resize(10'000, many.passes.front());
    LearnLog season = log;
    season.review = &many;
    EXPECT_THAT(refusal([&] { static_cast<void>(learn({&season, 1}, {})); }), HasSubstr("10000 passes"));
}

TEST(Learn, ChannelsWithoutAValueAreNoneAndNoneAtAllIsRefused) {
    const auto& [day, log, report] = learned();
    Log empty = day.log;
    const auto blank = [&empty](Quantity q) {
        auto& values = empty.channels[static_cast<std::size_t>(q)].values;
        values.assign(values.size(), std::nan(""));
    };
    LearnLog without = log;
    without.log = &empty;
    LearnOptions options;
    options.foretell = false;
    for (const Quantity q : {Quantity::MotorTemperature, Quantity::PackTemperature, Quantity::ControllerTemperature})
        blank(q);
    const LearnReport cool = learn({&without, 1}, options);
    for (const LearnedResidual& row : cool.residuals)
        EXPECT_NE(row.quantity, Quantity::MotorTemperature);
    for (const LearnedParameter& p : cool.parameters)
        EXPECT_TRUE(std::isfinite(p.value) && p.standardError > 0.0) << p.key;
    for (const Quantity q : {Quantity::PackVoltage, Quantity::PackCurrent, Quantity::MotorSpeed})
        blank(q);
    EXPECT_THAT(refusal([&] { static_cast<void>(learn({&without, 1}, options)); }), HasSubstr("neither voltage"));
}

// What is as good as unknown, and what is as good as certain: never a number without an error.
TEST(Learn, EnormousAndVanishingUncertaintiesAreAnswered) {
    const auto& [day, log, report] = learned();
    LearnLog strange = log;
    strange.plan.uncertainty["motor.resistance_ohm"] = 10.0;
    EXPECT_THAT(refusal([&] { static_cast<void>(learn({&strange, 1}, {})); }), HasSubstr("motor.resistance_ohm"));
    strange.plan.uncertainty["motor.resistance_ohm"] = 2.0 * strange.plan.motor.resistance_ohm;
    strange.plan.uncertainty["vehicle.mass_kg"] = 1e-12;
    LearnOptions options;
    options.foretell = false;
    const LearnReport answer = learn({&strange, 1}, options);
    for (const LearnedParameter& p : answer.parameters)
        EXPECT_TRUE(std::isfinite(p.value) && std::isfinite(p.standardError) && p.standardError > 0.0) << p.key;
    if (!answer.converged) {
        EXPECT_THAT(answer.notes, Contains(HasSubstr("did not converge")));
    }
}

TEST(Learn, AnotherMotorIsRecognised) {
    const auto& [day, log, report] = learned();
    LearnLog wrong = log;
    wrong.plan.motor.kv_rpm_per_V *= 1.4;
    LearnOptions options;
    options.foretell = false;
    const LearnReport bad = learn({&wrong, 1}, options);
    EXPECT_THAT(bad.notes, Contains(::testing::AllOf(HasSubstr("do not belong to this plan"), HasSubstr("motor"))));
    EXPECT_THAT(report.notes, Not(Contains(HasSubstr("do not belong to this plan"))));
}

TEST(Learn, AStageTooManyIsRecognised) {
    LearnLog wrong = learned().log;
    wrong.plan.vehicle.internal_ratio *= 2.0;
    LearnOptions options;
    options.foretell = false;
    EXPECT_THAT(learn({&wrong, 1}, options).notes,
                Contains(::testing::AllOf(HasSubstr("do not belong to this plan"), HasSubstr("gearing"))));
}

// A thermometer that never moved tells no step of its own: as coarse as those beside it. Taken for one without noise it
// outweighed all else, and air and pack followed it.
TEST(Learn, AThermometerThatStandsStillIsAsCoarseAsItsNeighbours) {
    Log still = learned().day.log;
    const auto channel = [&still](Quantity q) -> Channel& { return still.channels[static_cast<std::size_t>(q)]; };
    std::fill(channel(Quantity::PackTemperature).values.begin(), channel(Quantity::PackTemperature).values.end(),
              308.15);
    channel(Quantity::PackTemperature).step = 0.0;
    channel(Quantity::MotorTemperature).step = 1.0;
    LearnLog log = learned().log;
    log.log = &still;
    const Problem problem = learning::problemOf({&log, 1}, {});
    EXPECT_EQ(problem.day.step[static_cast<std::size_t>(learning::Sensor::Pack)], 1.0);
    for (const learning::Group& group :
         learning::groupsOf(problem.day, std::vector<std::uint8_t>(learning::measuredOf(problem.day).size(), 0)))
        if (group.sensor == learning::Sensor::Pack) {
            EXPECT_NEAR(group.changes, 1.0 / std::sqrt(12.0), 1e-9);
        }
}

TEST(Learn, CanBeStopped) {
    const auto& [day, log, report] = learned();
    std::stop_source stop;
    stop.request_stop();
    LearnOptions options;
    options.work.stop = stop.get_token();
    EXPECT_THROW((void)learn({&log, 1}, options), Stopped);
}

TEST(Next, SortsWhatMayBeChanged) {
    const auto& [day, log, report] = learned();
    PlanInput plan = day.plan;
    plan.gears.spurs = {plan.gears.spur_teeth};
    NextOptions options;
    options.runs = 20;
    const NextReport next = nextChanges(plan, {&log, 1}, options);
    ASSERT_GT(next.changes.size(), 3U);
    bool nothing = false, safe = true;
    for (const NextChange& change : next.changes) {
        nothing = nothing || (change.change == "nothing" && change.set.empty() && change.gain == 0.0);
        if (change.limitProbability > 0.1) safe = false;
        EXPECT_TRUE(safe || change.limitProbability > 0.1); // those that break no limit stand first
    }
    EXPECT_TRUE(nothing);
}

// White readings count one by one; an AR(1) series of coefficient a is worth N (1 - a)/(1 + a) readings (Bayley &
// Hammersley, J. R. Stat. Soc. Suppl. 8 (1946) 184).
TEST(EffectiveCount, OfWhiteAndOfCorrelatedReadings) {
    std::mt19937_64 engine(3);
    std::normal_distribution<double> normal;
    constexpr std::size_t n = 4000;
    std::vector<double> white, slow;
    double state = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        white.push_back(normal(engine));
        state = 0.8 * state + normal(engine);
        slow.push_back(state);
    }
    EXPECT_NEAR(learning::effectiveCount(white), n, 0.1 * n);
    EXPECT_NEAR(learning::effectiveCount(slow), n * 0.2 / 1.8, 0.25 * n * 0.2 / 1.8);
    EXPECT_NEAR(learning::effectiveCount(std::vector<double>(100, 1.0)), 1.0, 0.5); // all lean the same way
}

} // namespace

} // namespace rw::testing
