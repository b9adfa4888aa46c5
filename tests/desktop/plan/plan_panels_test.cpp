#include "app/desktop/plan/bar_lists.h"
#include "app/desktop/plan/compare_panel.h"
#include "app/desktop/plan/curve_panels.h"
#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/gear_panel.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/plan_cursor.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/plan/strip_panel.h"
#include "app/desktop/plan/sure_panels.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"
#include "plotting/chart.h"
#include "tests/desktop/desk_things.h"
#include "tests/desktop/window_fixture.h"

#include <QAbstractButton>

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

class PlanPanelsTest : public testing::Test, protected rw::test::DeskThings {
protected:
    PlanPanelsTest()
        : session(desk())
        , cursor(session) {
        units.set(&UnitChoice::speed, SpeedUnit::Mps);
    }

    void put(PlanInput input) {
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(std::move(input));
        bench.put(content);
        ASSERT_TRUE(await([&] { return session.current(); }));
    }
    static void see(QWidget& widget, QSize size = {640, 480}) {
        widget.resize(size);
        widget.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&widget));
    }

    PlanSession session;
    PlanCursor cursor;
};

} // namespace

TEST_F(PlanPanelsTest, aTypedPinionChangesThePlanMarksTheFieldAndCanBePutBack) {
    put(samplePlan());
    SetupPanel panel(session);
    see(panel, {300, 800});
    FieldRow* row = panel.row(QStringLiteral("gears.pinion_teeth"));
    ASSERT_TRUE(row);
    auto* edit = qobject_cast<FieldEdit*>(row->editor());
    const int was = samplePlan().gears.pinion_teeth;
    edit->setFocus();
    QTest::keyClick(edit, Qt::Key_Up);
    EXPECT_EQ(session.input().gears.pinion_teeth, was + 1);
    EXPECT_EQ(edit->text(), QString::number(was + 1));
    EXPECT_EQ(edit->state(), FieldEdit::State::Changed);
    edit->selectAll();
    QTest::keyClicks(edit, QString::number(was + 3));
    EXPECT_EQ(session.input().gears.pinion_teeth, was + 3);
    QTest::keyClick(edit, Qt::Key_Backspace, Qt::ControlModifier);
    EXPECT_EQ(session.input(), samplePlan());
    EXPECT_EQ(edit->state(), FieldEdit::State::Same);
}

TEST_F(PlanPanelsTest, aFigureOutOfRangeIsRefusedInWordsAndLeavesThePlanAlone) {
    put(samplePlan());
    SetupPanel panel(session);
    see(panel, {300, 800});
    FieldRow* row = panel.row(QStringLiteral("gears.pinion_teeth"));
    auto* edit = qobject_cast<FieldEdit*>(row->editor());
    edit->setFocus();
    edit->selectAll();
    QTest::keyClicks(edit, QStringLiteral("900"));
    EXPECT_EQ(row->complaint(), QStringLiteral("Allowed is 5 to 200."));
    EXPECT_EQ(edit->state(), FieldEdit::State::Wrong);
    QTest::keyClick(edit, Qt::Key_Return);
    EXPECT_EQ(row->complaint(), QString());
    EXPECT_EQ(edit->text(), QString::number(session.input().gears.pinion_teeth));
}

TEST_F(PlanPanelsTest, everyFieldCanBeReachedAndExplainsItself) {
    put(samplePlan());
    SetupPanel panel(session);
    see(panel, {300, 800});
    for (const PlanField& field : planFields()) {
        const QString key = QString::fromStdString(field.key());
        panel.reveal(key);
        FieldRow* row = panel.row(key);
        ASSERT_TRUE(row) << field.key();
        EXPECT_TRUE(row->isVisible()) << field.key();
        EXPECT_FALSE(row->editor()->accessibleName().isEmpty()) << field.key();
        EXPECT_TRUE(row->editor()->toolTip().contains(QStringLiteral("Usual"))) << field.key();
    }
}

TEST_F(PlanPanelsTest, marginsAreThoseOfTheCoreTightestOnTop) {
    put(samplePlan());
    HoldPanel panel(session);
    see(panel, {300, 800});
    const auto expected = simulatePlan(samplePlan()).margins;
    ASSERT_GE(panel.rows().size(), expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        const LimitTexts texts = limitTexts(expected[i], units);
        const QString text = panel.rows()[i]->text();
        EXPECT_TRUE(text.startsWith(limitTitle(expected[i].limit))) << text.toStdString();
        EXPECT_TRUE(text.contains(texts.left)) << text.toStdString();
        EXPECT_TRUE(text.contains(texts.value)) << text.toStdString();
        EXPECT_EQ(text.contains(limitAdvice(expected[i].limit)), expected[i].margin < 0.0);
    }
}

TEST_F(PlanPanelsTest, theAnswerOpensWithOneSentence) {
    put(samplePlan());
    HoldPanel panel(session);
    see(panel, {300, 800});
    ASSERT_TRUE(await([&] { return !panel.sentence().isEmpty(); }));
    const Margin tightest = simulatePlan(samplePlan()).margins.front();
    ASSERT_GE(tightest.margin, 0.0);
    EXPECT_TRUE(panel.sentence().startsWith(QStringLiteral("It holds; the "))) << panel.sentence().toStdString();
    EXPECT_TRUE(panel.sentence().contains(limitTexts(tightest, units).left));
    PlanInput hot = samplePlan();
    hot.motor.comfort_C = simulatePlan(hot).passes.front().caseSoakPeak - 0.5;
    hot.gears.spurs = {hot.gears.spur_teeth};
    hot.gears.pinions.clear();
    for (int teeth = 10; teeth <= hot.gears.pinion_teeth; ++teeth)
        hot.gears.pinions.push_back(teeth);
    hot.vehicle.mesh_min_m = 0.0;
    hot.vehicle.mesh_max_m = 1.0;
    put(hot);
    ASSERT_TRUE(await([&] { return panel.sentence().startsWith(QStringLiteral("Not like this: the motor case")); }))
        << panel.sentence().toStdString();
    EXPECT_TRUE(panel.sentence().contains(QStringLiteral("would hold, with"))) << panel.sentence().toStdString();
}

TEST_F(PlanPanelsTest, gripAllTheWayIsSaidBesideTheAnswer) {
    PlanInput ice = samplePlan();
    ice.venue.friction = 0.12;
    ice.controller.cutoff.mode = CutoffMode::Off;
    put(ice);
    HoldPanel panel(session);
    see(panel, {300, 800});
    const auto* words = panel.findChild<TextLabel*>(QStringLiteral("heldBack"));
    ASSERT_TRUE(await([&] { return !words->text().isEmpty(); }));
    EXPECT_TRUE(words->text().startsWith(QStringLiteral("Grip holds it back all the way")))
        << words->text().toStdString();
    EXPECT_TRUE(words->text().contains(QStringLiteral("more cells change nothing")));
    EXPECT_TRUE(words->text().contains(units.text(Dimension::Time, simulatePlan(ice).passes.front().bound.traction)));
}

TEST_F(PlanPanelsTest, aClickFitsAPairAndPairsThatMakeTheTargetAreMarked) {
    PlanInput input = samplePlan();
    input.drive.target_mps = *simulatePlan(input).passes.front().zoneMean; // the fitted pair just makes it
    put(input);
    GearPanel panel(session);
    see(panel, {900, 400});
    ASSERT_TRUE(await([&] { return panel.model().rowCount() > 1; }));
    const GearTable expected = sweepGears(input, GearRank::Fastest);
    int other = -1;
    for (int i = 0; i < panel.model().rowCount(); ++i) {
        const GearRow& row = expected.rows[static_cast<std::size_t>(i)];
        const QString zone = panel.model().index(i, GearTableModel::ZoneSpeed).data().toString();
        EXPECT_EQ(zone.startsWith(u'✓'), row.makesTarget) << i;
        if (i != panel.model().fittedRow()) other = i;
    }
    QTest::mouseClick(panel.table().viewport(), Qt::LeftButton, {},
                      panel.table().visualRect(panel.model().index(other, GearTableModel::Ratio)).center());
    EXPECT_EQ(session.input().gears.pinion_teeth, expected.rows[static_cast<std::size_t>(other)].pinion);
    session.undoStack().undo();
    EXPECT_EQ(session.input(), input);
}

TEST_F(PlanPanelsTest, aBrokenLimitSaysWhatToDo) {
    PlanInput hot = samplePlan();
    hot.motor.comfort_C = hot.air.temperature_C + 1.0; // any pass is hotter than this
    put(hot);
    HoldPanel panel(session);
    see(panel, {300, 800});
    const QString text = panel.rows().front()->text();
    EXPECT_TRUE(text.contains(QStringLiteral("% over"))) << text.toStdString();
    EXPECT_TRUE(text.contains(limitAdvice(session.outcome()->result.margins.front().limit))) << text.toStdString();
}

TEST_F(PlanPanelsTest, theStripIsDrawnToScaleAndSharesItsAxisWithTheSpeedChart) {
    put(samplePlan());
    StripPanel panel(session, cursor);
    see(panel, {900, 400});
    auto* strip = panel.findChild<StripView*>();
    const auto& venue = session.input().venue;
    const double perMetre = (strip->pixelAt(venue.run_up_m) - strip->pixelAt(0.0)) / venue.run_up_m;
    EXPECT_NEAR((strip->pixelAt(venue.length_m) - strip->pixelAt(0.0)) / venue.length_m, perMetre, 1e-9);
    ASSERT_TRUE(await([&] { return panel.chart().plotRect().width() > 100.0; }));
    EXPECT_NEAR(panel.chart().pixelAt({venue.run_up_m, 0.0}).x(), strip->pixelAt(venue.run_up_m), 1.0);
    EXPECT_TRUE(strip->description().contains(QStringLiteral("timed")));
}

TEST_F(PlanPanelsTest, oneCursorMovesAMarkerOnAllCharts) {
    put(samplePlan());
    StripPanel strip(session, cursor);
    ForcePanel force(session, cursor);
    see(strip, {900, 400});
    see(force, {400, 300});
    const double metres = 0.5 * session.input().venue.run_up_m;
    cursor.distance().setCursor(metres);
    const auto speed = curveAt(session.outcome()->curve, session.outcome()->curve.speed, metres);
    ASSERT_TRUE(cursor.speed().cursor());
    EXPECT_NEAR(*cursor.speed().cursor(), *speed, 1e-9);
    cursor.speed().setCursor(*speed);
    EXPECT_NEAR(*cursor.distance().cursor(), metres, 1e-6 * metres);
    const QStringList lines = strip.chart().readoutAt(metres);
    EXPECT_TRUE(lines.join(u' ').contains(units.text(Dimension::Speed, speed))) << lines.join(u' ').toStdString();
    cursor.distance().setCursor({});
    EXPECT_FALSE(cursor.speed().cursor());
}

TEST_F(PlanPanelsTest, forcesAreDrawnForThisGearingAndItsNeighbours) {
    put(samplePlan());
    ForcePanel panel(session, cursor);
    see(panel, {400, 300});
    const ChartContent& content = panel.chart().content();
    EXPECT_EQ(content.series.size(), session.outcome()->forces.gearings.size() + 2);
    ASSERT_EQ(content.markers.size(), 1U);
    EXPECT_NEAR(content.markers.front().x, *simulatePlan(samplePlan()).steadyTopSpeed, 1e-9);
}

TEST_F(PlanPanelsTest, theGearTableIsThatOfTheCoreAndFitsAPair) {
    put(samplePlan());
    GearPanel panel(session);
    see(panel, {900, 400});
    ASSERT_TRUE(await([&] { return panel.model().rowCount() > 0; }));
    const GearTable expected = sweepGears(samplePlan(), GearRank::Fastest);
    ASSERT_EQ(panel.model().rowCount(), static_cast<int>(expected.rows.size()));
    for (int i = 0; i < panel.model().rowCount(); ++i) {
        const GearRow& row = expected.rows[static_cast<std::size_t>(i)];
        EXPECT_EQ(panel.model().index(i, GearTableModel::Pair).data().toString(),
                  QStringLiteral("%1/%2").arg(row.pinion).arg(row.spur));
    }
    const int other = panel.model().fittedRow() == 0 ? 1 : 0;
    panel.fit(other);
    EXPECT_EQ(session.input().gears.pinion_teeth, expected.rows[static_cast<std::size_t>(other)].pinion);
    EXPECT_EQ(session.input().gears.spur_teeth, expected.rows[static_cast<std::size_t>(other)].spur);
}

TEST_F(PlanPanelsTest, heatShowsPassesAndWaits) {
    PlanInput input = samplePlan();
    input.drive.passes = 3;
    put(input);
    HeatPanel panel(session);
    see(panel);
    ASSERT_TRUE(await([&] { return !panel.chart().content().series.empty(); }));
    EXPECT_GE(panel.chart().content().regions.size(), 3U);
    // The case after the first pass and its soak is as hot as the core says for that pass.
    const HeatHistory history = heatHistory(input, 1);
    const double peak = *std::max_element(history.motorCase.begin(), history.motorCase.end());
    EXPECT_NEAR(peak, simulatePlan(samplePlan()).passes.front().caseSoakPeak, 0.2); // sampled, not refined
}

TEST_F(PlanPanelsTest, whatMattersIsRankedAndLeadsToTheField) {
    PlanInput input = samplePlan();
    input.uncertainty = {{"vehicle.drag_area_m2", 0.05 * input.vehicle.drag_area_m2}, {"air.relative_humidity", 0.05}};
    put(input);
    SpreadController spread(session);
    MattersPanel panel(session, spread);
    see(panel);
    ASSERT_TRUE(await([&] { return panel.bars().rows().size() == 2; }));
    EXPECT_EQ(panel.bars().rows().front().key, QStringLiteral("vehicle.drag_area_m2"));
    const SensitivityResult expected = planSensitivity(input);
    EXPECT_EQ(panel.bars().rows().front().up, expected.inputs.front().changes.front().up);
    // A coast-down tells drag area to 8 %, the plan knows it to 5 % already.
    ASSERT_TRUE(await([&] { return spread.result() != nullptr; }));
    EXPECT_EQ(panel.bars().rows().front().worth, QStringLiteral("known as well as it can be measured"));
    QSignalSpy spy(&panel, &MattersPanel::fieldWanted);
    panel.bars().setFocus();
    QTest::keyClick(&panel.bars(), Qt::Key_Down);
    QTest::keyClick(&panel.bars(), Qt::Key_Return);
    ASSERT_EQ(spy.count(), 1);
    EXPECT_EQ(spy.first().first().toString(), QStringLiteral("vehicle.drag_area_m2"));
}

TEST_F(PlanPanelsTest, whatMattersIsSortedByWhatMeasuringNarrowsOnDemand) {
    // Known so well that no scale helps, against known so little that a coast-down helps: the first moves the speed
    // more.
    PlanInput input = samplePlan();
    input.uncertainty = {{"motor.kv_rpm_per_V", 0.0099 * input.motor.kv_rpm_per_V},
                         {"vehicle.drag_area_m2", 0.12 * input.vehicle.drag_area_m2}};
    put(input);
    SpreadController spread(session);
    MattersPanel panel(session, spread);
    see(panel);
    ASSERT_TRUE(await([&] { return panel.bars().rows().size() == 2 && spread.result() != nullptr; }));
    auto* byWorth = panel.findChild<QAbstractButton*>(QStringLiteral("mattersByWorth"));
    ASSERT_TRUE(byWorth);
    QTest::mouseClick(byWorth, Qt::LeftButton);
    EXPECT_EQ(panel.bars().rows().front().key, QStringLiteral("vehicle.drag_area_m2"));
    EXPECT_TRUE(panel.bars().rows().front().worth.startsWith(QStringLiteral("measured to ± ")));
}

TEST_F(PlanPanelsTest, chancesAreThoseOfTheCoreAndReachTheBench) {
    PlanInput input = samplePlan();
    input.uncertainty = {{"vehicle.drag_area_m2", 0.05 * input.vehicle.drag_area_m2}};
    input.drive.target_mps = *simulatePlan(input).passes.front().zoneMean;
    put(input);
    SpreadController spread(session);
    ChancesPanel panel(session, spread);
    see(panel);
    ASSERT_TRUE(await([&] { return spread.result() != nullptr; }));
    const SpreadResult expected = spreadPlan(input, {.runs = SpreadController::quickRuns, .seed = 1, .work = {}});
    EXPECT_EQ(bench.expectation().targetProbability, expected.targetProbability);
    ASSERT_FALSE(panel.intervals().rows().empty());
    EXPECT_EQ(panel.intervals().rows().front().middle, *expected.figures.front().p50);
}

TEST_F(PlanPanelsTest, aSpreadCanBeStoppedAndAnEditDropsIt) {
    PlanInput input = samplePlan();
    input.uncertainty = {{"vehicle.drag_area_m2", 0.05 * input.vehicle.drag_area_m2}};
    put(input);
    SpreadController spread(session);
    spread.run(200'000);
    EXPECT_EQ(jobs.running().size(), 1U);
    jobs.stop(jobs.running().front().id);
    EXPECT_TRUE(jobs.running().empty());
    EXPECT_FALSE(spread.busy());
    EXPECT_EQ(spread.result(), nullptr);
}

TEST_F(PlanPanelsTest, twoPlansAreComparedInFiguresAndInputs) {
    put(samplePlan());
    ComparePanel panel(session);
    see(panel);
    PlanInput next = session.input();
    next.gears.pinion_teeth -= 5;
    session.edit(QStringLiteral("pinion"), {}, next);
    panel.compareWithKept();
    ASSERT_TRUE(await([&] { return session.current() && session.rival(); }));
    const auto cell = [&](int row, int column) {
        return panel.table().values().index(row, column).data(ValueTableModel::RawRole);
    };
    EXPECT_DOUBLE_EQ(cell(0, 1).toDouble(), *simulatePlan(next).passes.front().zoneMean);
    EXPECT_DOUBLE_EQ(cell(0, 2).toDouble(), *simulatePlan(samplePlan()).passes.front().zoneMean);
    EXPECT_EQ(panel.table().values().index(panel.table().values().rowCount() - 1, 0).data().toString(),
              QStringLiteral("pinion"));
}
