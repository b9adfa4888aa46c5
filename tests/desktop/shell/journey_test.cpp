#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/plan_keeping.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/plan_words.h"
#include "storage/sample_garage.h"
#include "tests/desktop/window_fixture.h"

#include <QFile>
#include <QMenu>
#include <QMenuBar>
#include <QMimeData>
#include <QPushButton>

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

class JourneyTest : public rw::test::WindowTest {
protected:
    PlanWorkspace& plan() { return *dynamic_cast<PlanWorkspace*>(program.window().workspace(QStringLiteral("plan"))); }
    PlanSession& session() { return plan().session(); }
    template<class Panel>
    Panel& panel() {
        return *plan().widget()->findChild<Panel*>();
    }
    void awaitResult() {
        ASSERT_TRUE(await([&] { return !session().empty() && session().current(); }));
    }

    QAction* action(const QString& text) {
        for (QAction* top : program.window().menuBar()->actions())
            for (QAction* entry : top->menu()->actions())
                if (entry->text().remove(u'&') == text) return entry;
        return nullptr;
    }
};

} // namespace

TEST_F(JourneyTest, fromTheFirstStartToTheMarginOfAnotherPinion) {
    Shell& window = open();
    EXPECT_TRUE(window.welcoming());
    auto* example = window.findChild<QPushButton*>(QStringLiteral("welcomeExample"));
    ASSERT_TRUE(example && example->isVisible());
    QTest::mouseClick(example, Qt::LeftButton);
    EXPECT_EQ(window.current()->name(), QStringLiteral("plan"));
    awaitResult();

    auto* edit = qobject_cast<FieldEdit*>(panel<SetupPanel>().row(QStringLiteral("gears.pinion_teeth"))->editor());
    edit->setFocus();
    QTest::keyClick(edit, Qt::Key_Up);
    awaitResult();
    PlanInput expected = samplePlan();
    expected.gears.pinion_teeth += 1;
    const auto margins = simulatePlan(expected).margins;
    const QString top = panel<HoldPanel>().rows().front()->text();
    EXPECT_TRUE(top.startsWith(limitTitle(margins.front().limit))) << top.toStdString();
    EXPECT_TRUE(top.contains(limitTexts(margins.front(), program.units).left)) << top.toStdString();
    EXPECT_TRUE(window.isWindowModified());
    EXPECT_TRUE(window.windowTitle().contains(QString::number(expected.gears.pinion_teeth)));

    action(QStringLiteral("Undo change pinion"))->trigger();
    EXPECT_EQ(session().input(), samplePlan());
    EXPECT_FALSE(window.isWindowModified());
}

TEST_F(JourneyTest, aPlanIsSavedOpenedAgainAndRemembered) {
    Shell& window = open();
    window.openFiles({QStringLiteral(":/samples/example.json")});
    awaitResult();
    PlanInput next = session().input();
    next.gears.pinion_teeth += 2;
    session().edit(QStringLiteral("pinion"), {}, next);
    const QString path = folder.filePath(QStringLiteral("my plan.json"));
    ASSERT_TRUE(plan().keeping().saveTo(path));
    EXPECT_FALSE(window.isWindowModified());
    EXPECT_EQ(readPlanInputFile(path.toStdString()), next);
    EXPECT_EQ(program.settings.recentFiles().first(), path);
    window.openFiles({QStringLiteral(":/samples/example.json")});
    EXPECT_EQ(session().input(), samplePlan());
    window.openFiles({path});
    EXPECT_EQ(session().input(), next);
}

TEST_F(JourneyTest, rubbishIsRefusedInWordsAndLeavesTheBenchAlone) {
    Shell& window = open();
    window.openFiles({QStringLiteral(":/samples/example.json")});
    awaitResult();
    const QString broken = folder.filePath(QStringLiteral("broken.json"));
    QFile file(broken);
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("{\"runwright\": \"plan\", \"version\": 1,\n  \"air\": {");
    file.close();
    window.openFiles({broken});
    EXPECT_TRUE(window.notice().contains(QStringLiteral("broken.json"))) << window.notice().toStdString();
    EXPECT_EQ(session().input(), samplePlan());
    window.openFiles({folder.filePath(QStringLiteral("gone.csv"))});
    EXPECT_TRUE(window.notice().contains(QStringLiteral("not there"))) << window.notice().toStdString();
}

TEST_F(JourneyTest, everyWorkspaceIsAKeyAway) {
    Shell& window = open();
    int number = 0;
    for (const auto& workspace : window.workspaces()) {
        QTest::keyClick(&window, static_cast<Qt::Key>(Qt::Key_1 + number++), Qt::ControlModifier);
        EXPECT_EQ(window.current()->name(), workspace->name());
    }
}

TEST_F(JourneyTest, aSetupFromTheGarageIsRevisedWithAReasonAndKeptAsAPlan) {
    Shell& window = open();
    const QString path = folder.filePath(QStringLiteral("own.runwright"));
    ASSERT_TRUE(program.garage.create(path));
    PlanIds ids;
    ASSERT_TRUE(program.garage.attempt(QStringLiteral("adding"), [&](Garage& garage) {
        ids = garage.addSetupFromPlan(samplePlan(), {.setup = "Sandpiper",
                                                     .vehicle = "Sandpiper",
                                                     .motor = {},
                                                     .controller = {},
                                                     .pack = {},
                                                     .tyre = {},
                                                     .venue = {}});
        program.bench.put(benchFromSetup(garage, ids.setup, ids.venue));
    }));
    window.showWorkspace(QStringLiteral("plan"));
    EXPECT_EQ(program.bench.content().name, QStringLiteral("Sandpiper"));
    EXPECT_EQ(program.bench.content().revision, 1);
    EXPECT_EQ(session().input(), samplePlan());

    PlanInput next = session().input();
    next.gears.pinion_teeth += 1;
    session().edit(QStringLiteral("pinion"), {}, next);
    ASSERT_TRUE(plan().keeping().keepRevisionBecause(QStringLiteral("the motor had room left")));
    EXPECT_EQ(program.bench.content().revision, 2);
    EXPECT_FALSE(session().modified());
    const auto revisions = program.garage.garage().revisions(ids.setup);
    ASSERT_EQ(revisions.size(), 2U);
    EXPECT_EQ(revisions.back().reason, "the motor had room left");
    EXPECT_EQ(program.garage.garage().planInput(revisions.back().id, ids.venue), next);

    ASSERT_TRUE(plan().keeping().keepPlanAs(QStringLiteral("Sunday <b>first</b>")));
    const auto plans = program.garage.garage().plans();
    ASSERT_EQ(plans.size(), 1U);
    EXPECT_EQ(plans.front().setup, revisions.back().id);
    EXPECT_EQ(readPlanInput(plans.front().input, "plan"), next);
}

TEST_F(JourneyTest, aGarageThatIsGoneOrForeignIsSaid) {
    Shell& window = open();
    EXPECT_FALSE(program.garage.open(folder.filePath(QStringLiteral("none.runwright"))));
    EXPECT_FALSE(window.notice().isEmpty());
    EXPECT_FALSE(program.garage.isOpen());
}

TEST_F(JourneyTest, unitsSwitchEverywhereAtOnce) {
    Shell& window = open();
    window.openFiles({QStringLiteral(":/samples/example.json")});
    awaitResult();
    program.units.set(&UnitChoice::length, LengthUnit::Inch);
    const auto* radius = panel<SetupPanel>().row(QStringLiteral("venue.length_m"));
    const auto* edit = qobject_cast<FieldEdit*>(radius->editor());
    // International foot, 0.3048 m exactly.
    EXPECT_NEAR(edit->text().toDouble() * 0.3048, samplePlan().venue.length_m, 0.5 * 0.3048); // whole feet
}

TEST_F(JourneyTest, closingDuringWorkIsSafe) {
    Shell& window = open();
    window.openFiles({QStringLiteral(":/samples/example.json")});
    PlanInput next = session().input();
    next.uncertainty = {{"vehicle.drag_area_m2", 0.1 * next.vehicle.drag_area_m2}};
    program.bench.put([&] {
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(next);
        return content;
    }());
    EXPECT_TRUE(window.close());
    program.shell.reset();
}
