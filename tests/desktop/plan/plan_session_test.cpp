#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/field_view.h"
#include "tests/desktop/desk_things.h"
#include "tests/desktop/window_fixture.h"

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

class PlanSessionTest : public testing::Test, protected rw::test::DeskThings {
protected:
    PlanSessionTest()
        : session(desk()) {}

    void put(PlanInput input) {
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(std::move(input));
        content.name = QStringLiteral("test car");
        bench.put(content);
    }
    void setPinion(int teeth) {
        PlanInput next = session.input();
        next.gears.pinion_teeth = teeth;
        session.edit(QStringLiteral("pinion"), QStringLiteral("gears.pinion_teeth"), std::move(next));
    }

    PlanSession session;
};

} // namespace

TEST_F(PlanSessionTest, computesWhatIsPutOnTheBench) {
    put(samplePlan());
    ASSERT_TRUE(await([&] { return session.current(); }));
    const PlanResult expected = simulatePlan(samplePlan());
    const auto& pass = session.outcome()->result.passes.front();
    EXPECT_EQ(pass.zoneMean, expected.passes.front().zoneMean);
    EXPECT_EQ(bench.expectation().zoneMean, expected.passes.front().zoneMean);
    EXPECT_EQ(session.outcome()->marks.stop, expected.passes.front().stopAt);
}

TEST_F(PlanSessionTest, curvesAgreeWithTheResultTheyBelongTo) {
    put(samplePlan());
    ASSERT_TRUE(await([&] { return session.current(); }));
    const PlanOutcome& outcome = *session.outcome();
    const PassResult& pass = outcome.result.passes.front();
    EXPECT_NEAR(outcome.curve.distance.back(), pass.stopAt, 1e-6 * pass.stopAt);
    EXPECT_NEAR(*std::max_element(outcome.curve.speed.begin(), outcome.curve.speed.end()), pass.peakSpeed,
                1e-3 * pass.peakSpeed);
    const double half = 0.5 * pass.peakSpeed;
    const auto where = distanceOfSpeed(outcome.curve, half);
    ASSERT_TRUE(where);
    EXPECT_NEAR(*curveAt(outcome.curve, outcome.curve.speed, *where), half, 1e-9);
    EXPECT_FALSE(curveAt(outcome.curve, outcome.curve.speed, pass.stopAt + 1.0));
    // Where the forces meet, drive and resistance are the same force.
    ASSERT_TRUE(outcome.forces.crossing);
    const ForceBalance balance =
        forceBalance(passSetup(outcome.input), startState(outcome.input), *outcome.forces.crossing);
    EXPECT_NEAR(balance.drive, balance.resistance, 1e-6 * balance.resistance);
}

TEST_F(PlanSessionTest, stepsOfOneFieldAreOneUndoUntilItIsLeft) {
    put(samplePlan());
    const int was = session.input().gears.pinion_teeth;
    setPinion(was + 1);
    setPinion(was + 2);
    EXPECT_EQ(session.undoStack().count(), 1);
    session.endEdit();
    setPinion(was + 3);
    EXPECT_EQ(session.undoStack().count(), 2);
    session.undoStack().undo();
    EXPECT_EQ(session.input().gears.pinion_teeth, was + 2);
    session.undoStack().undo();
    EXPECT_EQ(session.input(), samplePlan());
    EXPECT_FALSE(session.modified());
    session.undoStack().redo();
    EXPECT_EQ(session.input().gears.pinion_teeth, was + 2);
}

TEST_F(PlanSessionTest, aChangeBackToWhereItBeganLeavesNoStep) {
    put(samplePlan());
    const int was = session.input().gears.pinion_teeth;
    setPinion(was + 1);
    setPinion(was);
    EXPECT_FALSE(session.modified());
    EXPECT_EQ(session.undoStack().count(), 0);
}

TEST_F(PlanSessionTest, countsChangesAgainstWhatIsKeptAndPutsThemBack) {
    put(samplePlan());
    setPinion(session.input().gears.pinion_teeth + 1);
    EXPECT_EQ(session.changes().size(), 1U);
    EXPECT_EQ(bench.content().changes, 1);
    session.putBack(*findPlanField("gears.pinion_teeth"));
    EXPECT_EQ(bench.content().changes, 0);
    EXPECT_EQ(session.input(), samplePlan());
    setPinion(session.input().gears.pinion_teeth + 1);
    session.markKept();
    EXPECT_FALSE(session.modified());
    EXPECT_EQ(bench.content().changes, 0);
}

TEST_F(PlanSessionTest, saysWhyAPlanCannotBeComputedAndRecovers) {
    put(samplePlan());
    ASSERT_TRUE(await([&] { return session.current(); }));
    PlanInput shortStrip = session.input();
    shortStrip.venue.length_m = shortStrip.venue.run_up_m;
    session.edit(QStringLiteral("strip"), {}, shortStrip);
    ASSERT_TRUE(await([&] { return !session.problem().isEmpty(); }));
    EXPECT_FALSE(session.current());
    EXPECT_TRUE(session.outcome() != nullptr); // the last picture stays
    session.undoStack().undo();
    ASSERT_TRUE(await([&] { return session.current(); }));
    EXPECT_EQ(session.problem(), QString());
}

TEST_F(PlanSessionTest, onlyTheLastOfManyEditsIsShown) {
    put(samplePlan());
    ASSERT_TRUE(await([&] { return session.current(); }));
    std::vector<int> shown;
    QObject::connect(&session, &PlanSession::outcomeChanged, &session, [&] {
        if (session.current()) shown.push_back(session.outcome()->input.gears.pinion_teeth);
    });
    const int was = session.input().gears.pinion_teeth;
    for (int i = 1; i <= 20; ++i)
        setPinion(was + i);
    ASSERT_TRUE(await([&] { return session.current(); }));
    EXPECT_EQ(shown, std::vector<int>{was + 20});
}

TEST_F(PlanSessionTest, anotherPlanMayLieBesideIt) {
    put(samplePlan());
    PlanInput other = samplePlan();
    other.gears.pinion_teeth -= 2;
    session.compareWith(QStringLiteral("shorter"), other);
    ASSERT_TRUE(await([&] { return session.rival() != nullptr; }));
    EXPECT_EQ(session.rival()->result.passes.front().zoneMean, simulatePlan(other).passes.front().zoneMean);
    put(samplePlan());
    EXPECT_EQ(session.rival(), nullptr);
}
