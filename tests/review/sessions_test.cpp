// core/review/README.md: where sessions begin, and how many cells their packs have.
#include "core/error.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

namespace rw {
namespace {

using namespace test;
using enum Quantity;
using testing::ElementsAre;

std::vector<std::size_t> starts(const LogReview& review) {
    std::vector<std::size_t> rows;
    for (const auto& session : review.sessions)
        rows.push_back(session.startRow);
    return rows;
}

// At rest for a minute at 10 Hz; a pack of `volts` until 30 s, of `later` from then on.
HandLog twoPacks(double volts, double later) {
    HandLog log(60.0, 10.0);
    log.put(PackVoltage, [=](double t) { return (t < 30.0 ? volts : later) + wobble(t, 0.01); });
    log.put(PackCurrent, [](double t) { return 0.4 + wobble(t, 0.05); });
    log.put(Throttle, [](double) { return 0.0; });
    log.put(MotorSpeed, [](double) { return 0.0; });
    return log;
}

TEST(Sessions, oneWhereNothingHappens) {
    EXPECT_THAT(starts(reviewLog(twoPacks(16.7, 16.7).build())), ElementsAre(0U));
}

TEST(Sessions, ruleA_timeStepsBackByMoreThanASecond) {
    const LogReview review = reviewLog(twoPacks(16.7, 16.7).restartClock(30.0).build());
    EXPECT_THAT(starts(review), ElementsAre(0U, 300U));
    // The log-wide axis: ten seconds after the session before where no clock tells.
    EXPECT_NEAR(review.sessions[1].logStart, 29.9 + 10.0, 1e-9);
    EXPECT_NEAR(review.sessions[1].duration, 30.0, 1e-9);
}

TEST(Sessions, ruleB_headerRepeatsAndTimeJumps) {
    Log log = twoPacks(16.7, 16.7).gap(30.0, 36.0).build();
    log.marks.push_back({RowMark::Kind::HeaderRepeated, 301});
    EXPECT_THAT(starts(reviewLog(log)), ElementsAre(0U, 301U));
    Log near = twoPacks(16.7, 16.7).gap(30.0, 33.0).build();
    near.marks.push_back({RowMark::Kind::HeaderRepeated, 301});
    EXPECT_THAT(starts(reviewLog(near)), ElementsAre(0U));
    near.marks[0].kind = RowMark::Kind::ColumnsChanged;
    EXPECT_THAT(starts(reviewLog(near)), ElementsAre(0U, 301U));
}

TEST(Sessions, ruleC_aColumnSaysSo) {
    HandLog log = twoPacks(16.7, 16.7);
    log.put(SessionMark, [](double t) { return t < 20.0 ? 0.0 : 1.0; });
    EXPECT_THAT(starts(reviewLog(log.build())), ElementsAre(0U, 200U));
    log.drop(SessionMark).put(EventMark, [](double t) { return t > 39.95 && t < 40.35 ? 1.0 : 0.0; });
    EXPECT_THAT(starts(reviewLog(log.build())), ElementsAre(0U, 400U));
}

TEST(Sessions, ruleD_restingVoltageChangesOverAJump) {
    const auto cut = [](double before, double after) {
        return reviewLog(twoPacks(before, after).gap(29.95, 40.05).build()).sessions.size();
    };
    EXPECT_EQ(cut(15.6, 15.6 + 4 * 0.16), 2U); // rises by over 0.15 V per cell
    EXPECT_EQ(cut(15.6, 15.6 + 4 * 0.13), 1U);
    EXPECT_EQ(cut(16.7, 16.7 - 4 * 0.11), 2U); // falls by over 0.10 V per cell
    EXPECT_EQ(cut(16.7, 16.7 - 4 * 0.08), 1U);
}

TEST(Sessions, ruleD_aPackThatRecoversIsNoOther) {
    // The last load ended 20 s before the jump: up to 0.25 V per cell is recovery.
    const auto cut = [](double rise) {
        HandLog log = twoPacks(15.6, 15.6 + 4 * rise).gap(29.95, 40.05);
        log.change(PackCurrent, [](double t, double was) { return t > 5.0 && t < 10.0 ? 80.0 : was; });
        return reviewLog(log.build()).sessions.size();
    };
    EXPECT_EQ(cut(0.20), 1U);
    EXPECT_EQ(cut(0.28), 2U);
}

TEST(Sessions, ruleE_anotherPackFromOneSampleToTheNext) {
    EXPECT_THAT(starts(reviewLog(twoPacks(15.0, 15.0 + 4 * 0.36).build())), ElementsAre(0U, 300U));
    EXPECT_THAT(starts(reviewLog(twoPacks(15.0, 15.0 + 4 * 0.33).build())), ElementsAre(0U));
}

TEST(Sessions, ruleE_aStepUnderLoadIsNone) {
    HandLog log = twoPacks(16.7, 15.0);
    log.change(PackCurrent, [](double t, double was) { return t >= 30.0 ? 90.0 : was; });
    EXPECT_THAT(starts(reviewLog(log.build())), ElementsAre(0U));
}

TEST(Sessions, aRestartUnderWayStaysOneSession) {
    const LogReview review = reviewLog(goodPass().restartClock(23.0).build());
    ASSERT_EQ(review.sessions.size(), 1U);
    ASSERT_EQ(review.sessions[0].restarts.size(), 1U);
    const Finding* found = findingOf(review, "controller-restarted");
    ASSERT_TRUE(found);
    EXPECT_EQ(found->severity, Severity::Act);
    ASSERT_GE(review.passes.size(), 1U);
    EXPECT_FALSE(review.passes[0].complete);
    EXPECT_NEAR(review.passes[0].end, 22.95, 1e-6);
    // One second lies between the parts where no clock tells.
    EXPECT_NEAR(review.sessions[0].duration, 90.0 - 0.05 + 1.0, 1e-6);
}

TEST(Sessions, aRestartAtRestIsANewSession) {
    const LogReview review = reviewLog(goodPass().restartClock(60.0).build());
    EXPECT_EQ(review.sessions.size(), 2U);
    EXPECT_FALSE(findingOf(review, "controller-restarted"));
}

// A plan's cells are a candidate, no proof: what rests at another count behind the restart is another pack.
TEST(Sessions, aRestartWithAnotherCellCountIsANewSessionWhateverThePlanSays) {
    HandLog log = goodPass().restartClock(23.0);
    log.change(PackVoltage, [](double t, double was) { return t < 23.0 ? was : 2.0 * was; });
    ReviewOptions options;
    options.plan = handPlan();
    EXPECT_EQ(reviewLog(log.build(), options).sessions.size(), 2U);
    EXPECT_EQ(reviewLog(goodPass().restartClock(23.0).build(), options).sessions.size(), 1U);
}

TEST(Sessions, editsAddMoveAndRemoveStarts) {
    const Log log = twoPacks(15.0, 15.0 + 4 * 0.36).build(); // a start on row 300, line 302
    ReviewOptions options;
    options.edits.removedSessions = {302};
    EXPECT_THAT(starts(reviewLog(log, options)), ElementsAre(0U));
    options.edits = {};
    options.edits.addedSessions = {102};
    EXPECT_THAT(starts(reviewLog(log, options)), ElementsAre(0U, 100U, 300U));
    options.edits = {};
    options.edits.movedSessions = {{302, 252}};
    EXPECT_THAT(starts(reviewLog(log, options)), ElementsAre(0U, 250U));
}

struct CellCase {
    double rest;
    std::optional<int> cells;
    bool sure;
};
class Cells : public testing::TestWithParam<CellCase> {};
TEST_P(Cells, areToldFromTheRestingVoltage) {
    const auto& c = GetParam();
    const LogReview review = reviewLog(twoPacks(c.rest, c.rest).build());
    EXPECT_EQ(review.sessions[0].cells, c.cells);
    EXPECT_EQ(review.sessions[0].cellsSure, c.sure);
    EXPECT_NEAR(review.sessions[0].restingVoltage.value(), c.rest, 0.011);
}
// 4.1 V: only 1 fits. 12.5 V: only 3. 16.8 V: only 4 (3.36 V is too low for 5). 33.2 V: 8 full or 9 at 3.69: 8 is
// taken, unsure. 31.5 V: 8 at 3.94 or 9 at 3.5, none full: null. 50 V: 12, 13, 14, over 8 cells: null. 9.6 V: only 3
// at 3.2, a nearly empty pack.
INSTANTIATE_TEST_SUITE_P(Voltages, Cells,
                         testing::Values(CellCase{4.1, 1, true}, CellCase{12.5, 3, true}, CellCase{16.8, 4, true},
                                         CellCase{33.2, 8, false}, CellCase{31.6, std::nullopt, false},
                                         CellCase{50.0, std::nullopt, false}, CellCase{9.6, 3, false}));

TEST(CellsTold, areTakenAndRefusedWhereTheyCannotBe) {
    ReviewOptions options;
    options.cells = {5};
    EXPECT_EQ(reviewLog(twoPacks(16.8, 16.8).build(), options).sessions[0].cells, 5);
    options.cells = {3};
    EXPECT_THROW(static_cast<void>(reviewLog(twoPacks(16.8, 16.8).build(), options)), InputError);
    options.cells = {4, 4, 4};
    EXPECT_THROW(static_cast<void>(reviewLog(twoPacks(15.0, 16.8).build(), options)), InputError);
    options.cells = {4, 5};
    const LogReview review = reviewLog(twoPacks(15.0, 16.8).build(), options);
    EXPECT_EQ(review.sessions[1].cells, 5);
    EXPECT_TRUE(review.sessions[1].cellsSure);
}

TEST(CellsTold, thePlansAreTakenWhereTheyFit) {
    ReviewOptions options;
    options.plan = handPlan();
    EXPECT_EQ(reviewLog(twoPacks(15.2, 15.2).build(), options).sessions[0].cells, 4);
    const LogReview other = reviewLog(twoPacks(25.0, 25.0).build(), options);
    EXPECT_EQ(other.sessions[0].cells, 6);
    EXPECT_FALSE(other.notes.empty());
}

// The bench holds an eight-cell car, the log is of six cells: nothing of that car counts.
TEST(CellsTold, aPlanOfAnotherPackIsNoPlan) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->pack.series = 8;
    options.plan->controller.cutoff = {CutoffMode::Hard, 3.4, 0.5};
    options.plan->motor.limit_C = 30.0;
    options.plan->motor.comfort_C = 25.0;
    HandLog log = goodPass();
    const LogReview review = reviewLog(log.build(), options);
    EXPECT_EQ(review.sessions[0].cells, 4);
    EXPECT_FALSE(review.sessions[0].planFits);
    EXPECT_FALSE(review.cutoffCell);
    EXPECT_FALSE(review.passes[0].wheelPeak);
    EXPECT_TRUE(review.findings.empty()) << testing::PrintToString(idsOf(review));
    EXPECT_TRUE(notJudged(review, "off-plan"));
    EXPECT_THAT(review.notes, testing::Contains(testing::HasSubstr("the plan does not fit this log")));
}

// 16.7 V are four full cells; the plan's 4.35 V cells would be used up to 4.40 V, its five at 3.34 V would not.
TEST(CellsTold, aPlansCountIsTakenFrom3Point5To4Point4) {
    const auto cells = [](double volts, int series) {
        ReviewOptions options;
        options.plan = handPlan();
        options.plan->pack.series = series;
        return reviewLog(twoPacks(volts, volts).build(), options).sessions[0];
    };
    EXPECT_EQ(cells(17.55, 4).cells, 4); // 4.39 V
    EXPECT_TRUE(cells(17.55, 4).planFits);
    EXPECT_FALSE(cells(17.7, 4).planFits); // 4.43 V
    EXPECT_TRUE(cells(17.6, 5).planFits);  // 3.52 V
    EXPECT_FALSE(cells(17.4, 5).planFits); // 3.48 V
}

// 25.0 V: six full cells, or the plan's seven at 3.57 V. The plan's count is taken, and the doubt is told.
TEST(CellsTold, whereThePlanAndTheVoltageDisagreeItIsSaid) {
    ReviewOptions options;
    options.plan = handPlan();
    options.plan->pack.series = 7;
    const LogReview review = reviewLog(twoPacks(25.0, 25.0).build(), options);
    EXPECT_EQ(review.sessions[0].cells, 7);
    EXPECT_FALSE(review.sessions[0].cellsSure);
    EXPECT_EQ(review.sessions[0].cellsByVoltage, 6);
    EXPECT_THAT(review.notes, testing::Contains(testing::HasSubstr("by the voltage alone it would be 6 cells")));
    options.cells = {7};
    EXPECT_FALSE(reviewLog(twoPacks(25.0, 25.0).build(), options).sessions[0].cellsByVoltage); // told: no question
}

TEST(CurrentZero, isTheMedianAtRestWhereItIsSmall) {
    HandLog log = goodPass();
    log.change(PackCurrent, [](double, double was) { return was + 1.6; });
    EXPECT_NEAR(reviewLog(log.build()).sessions[0].currentZero.value(), 2.0, 0.05);
    // Over 5 % of the largest is no offset.
    log.change(PackCurrent, [](double, double was) { return was + 12.0; });
    EXPECT_FALSE(reviewLog(log.build()).sessions[0].currentZero);
}

} // namespace
} // namespace rw
