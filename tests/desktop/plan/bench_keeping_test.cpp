// Work on the bench is never lost silently: another venue keeps the setup's changes, another bench can be undone, and
// what was not kept is there again after the program ended without asking.
#include "app/desktop/plan/bench_recovery.h"
#include "app/desktop/plan/plan_keeping.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/bench_source.h"
#include "core/plan/plan_fields.h"
#include "tests/desktop/window_fixture.h"

#include <QFile>

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

PlanWorkspace& planOf(Program& program) {
    return *dynamic_cast<PlanWorkspace*>(program.window().workspace(QStringLiteral("plan")));
}

class BenchKeepingTest : public rw::test::WindowTest {
protected:
    // A garage with one setup, two venues and two packs, the second of eight cells.
    void openGarage() {
        ASSERT_TRUE(program.garage.create(folder.filePath(QStringLiteral("own.runwright"))));
        Garage& garage = program.garage.garage();
        PlanInput input = samplePlan();
        input.pack.mass_kg = 0.30;
        ids = garage.addSetupFromPlan(input, {.setup = "Tern",
                                              .vehicle = "Tern",
                                              .motor = "motor",
                                              .controller = "controller",
                                              .pack = "small pack",
                                              .tyre = "tyre",
                                              .venue = "north strip"});
        Part elsewhere = garage.part(ids.venue);
        elsewhere.name = "south strip";
        elsewhere.values["venue.length_m"].number = 500.0;
        south = garage.add(elsewhere);
        Part large = garage.part(garage.setup(ids.setup).pack);
        large.name = "large pack";
        large.values["pack.series"].number = 8.0;
        large.values["pack.mass_kg"].number = 0.80;
        large.values["pack.cell_resistance_ohm"].source = Source::Measured;
        big = garage.add(large);
    }
    void put(Id venue) { program.bench.put(benchFromSetup(program.garage.garage(), ids.setup, venue)); }
    PlanSession& session() { return planOf(program).session(); }
    void setPinion(int teeth) {
        PlanInput next = session().input();
        next.gears.pinion_teeth = teeth;
        session().edit(QStringLiteral("pinion"), QStringLiteral("gears.pinion_teeth"), std::move(next));
        session().endEdit();
    }

    PlanIds ids;
    Id south{ItemKind::Venue, 0}, big{ItemKind::Pack, 0};
};

} // namespace

TEST_F(BenchKeepingTest, anotherVenueKeepsWhatWasChangedOfTheSetup) {
    open();
    openGarage();
    put(ids.venue);
    setPinion(31);
    put(south);
    EXPECT_EQ(session().input().gears.pinion_teeth, 31);
    EXPECT_EQ(session().input().venue.length_m, 500.0);
    EXPECT_EQ(program.bench.content().venue, QStringLiteral("south strip"));
    EXPECT_EQ(program.bench.content().changes, 1);
    session().undoStack().undo();
    EXPECT_EQ(session().input().gears.pinion_teeth, 31);
    EXPECT_EQ(session().input().venue.length_m, samplePlan().venue.length_m);
    EXPECT_EQ(program.bench.content().venue, QStringLiteral("north strip"));
}

TEST_F(BenchKeepingTest, planningWithoutAGarageCanBeUndone) {
    Shell& window = open();
    openGarage();
    put(ids.venue);
    setPinion(31);
    QSignalSpy said(&program.voice, &Voice::said);
    window.openFiles({QStringLiteral(":/samples/example.json")});
    EXPECT_NE(session().input().gears.pinion_teeth, 31);
    EXPECT_TRUE(program.bench.content().setupId.isEmpty());
    ASSERT_EQ(said.count(), 1);
    EXPECT_TRUE(said.front().front().toString().contains(QStringLiteral("Ctrl+Z")));
    session().undoStack().undo();
    EXPECT_EQ(session().input().gears.pinion_teeth, 31);
    EXPECT_EQ(program.bench.content().name, QStringLiteral("Tern"));
    EXPECT_EQ(program.bench.content().changes, 1);
    session().undoStack().redo();
    EXPECT_TRUE(program.bench.content().setupId.isEmpty());
}

TEST_F(BenchKeepingTest, whatWasNotKeptSurvivesAnEndWithoutAsking) {
    QByteArray left;
    QString file;
    {
        Program first(folder.filePath(QStringLiteral("other.ini")));
        PlanWorkspace& plan = planOf(first);
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(samplePlan());
        content.name = QStringLiteral("Dunlin");
        first.bench.put(content);
        PlanInput next = samplePlan();
        next.gears.pinion_teeth = 33;
        plan.session().edit(QStringLiteral("pinion"), {}, next);
        file = plan.recovery().file();
        ASSERT_TRUE(await([&] { return QFile::exists(file) && !plan.recovery().busy(); }));
        QFile written(file);
        ASSERT_TRUE(written.open(QIODevice::ReadOnly));
        left = written.readAll(); // what a kill at this moment leaves
    }
    QFile again(file);
    ASSERT_TRUE(again.open(QIODevice::WriteOnly));
    again.write(left);
    again.close();
    {
        Program second(folder.filePath(QStringLiteral("other.ini")));
        PlanWorkspace& plan = planOf(second);
        ASSERT_FALSE(plan.session().empty());
        EXPECT_EQ(plan.session().input().gears.pinion_teeth, 33);
        EXPECT_EQ(second.bench.content().name, QStringLiteral("Dunlin"));
        EXPECT_EQ(second.bench.content().changes, 1);
        plan.session().undoStack().undo();
        EXPECT_EQ(plan.session().input(), samplePlan());
        ASSERT_TRUE(await([&] { return !QFile::exists(file); })); // nothing is left that is not kept
    }
}

TEST_F(BenchKeepingTest, twoProgramsAtOnceKeepTheirFilesApart) {
    Program first(folder.filePath(QStringLiteral("other.ini")));
    Program second(folder.filePath(QStringLiteral("other.ini")));
    EXPECT_NE(planOf(first).recovery().file(), planOf(second).recovery().file());
}

TEST_F(BenchKeepingTest, aDamagedFileOfTheLastRunIsNoHindrance) {
    QDir(folder.path()).mkpath(QStringLiteral("state"));
    QFile file(folder.filePath(QStringLiteral("state/bench-1.json")));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("{\"kept\": \"{\", \"input\": 7}");
    file.close();
    EXPECT_TRUE(planOf(program).session().empty());
}

TEST_F(BenchKeepingTest, changesThatAreKeptAreNoLongerCalledNotKept) {
    open();
    openGarage();
    put(ids.venue);
    setPinion(31);
    EXPECT_TRUE(benchTitle(program.bench).rest.contains(QStringLiteral("not kept")));
    ASSERT_TRUE(planOf(program).keeping().keepPlanAs(QStringLiteral("fast")));
    EXPECT_FALSE(benchTitle(program.bench).rest.contains(QStringLiteral("not kept")));
    EXPECT_TRUE(benchTitle(program.bench).rest.contains(QStringLiteral("kept as “fast”")));
    EXPECT_FALSE(session().modified());
    setPinion(30);
    EXPECT_TRUE(benchTitle(program.bench).rest.contains(QStringLiteral("not kept")));
    ASSERT_TRUE(planOf(program).keeping().keepRevisionBecause(QStringLiteral("slower")));
    EXPECT_FALSE(benchTitle(program.bench).rest.contains(QStringLiteral("kept")));
}

TEST_F(BenchKeepingTest, anotherPackIsOneStep) {
    open();
    openGarage();
    put(ids.venue);
    auto* choice = planOf(program).widget()->findChild<PackChoice*>();
    ASSERT_TRUE(choice);
    EXPECT_EQ(choice->currentText(), QStringLiteral("small pack"));
    const double mass = session().input().vehicle.mass_kg;
    QSignalSpy said(&program.voice, &Voice::said);
    choice->take(QString::fromStdString(toString(big)));
    ASSERT_EQ(said.size(), 1);
    EXPECT_TRUE(said.front().front().toString().contains(program.units.text(Dimension::Mass, mass + 0.5)));
    session().undoStack().undo();
    EXPECT_DOUBLE_EQ(session().input().vehicle.mass_kg, mass);
    EXPECT_EQ(choice->currentText(), QStringLiteral("small pack"));
    session().undoStack().redo();
    EXPECT_EQ(session().input().pack.series, 8);
    EXPECT_DOUBLE_EQ(session().input().vehicle.mass_kg, mass + 0.5); // 0.80 kg for 0.30 kg
    EXPECT_TRUE(benchTitle(program.bench).rest.contains(QStringLiteral("large pack")));
    EXPECT_EQ(session().sourceOf(*findPlanField("pack.cell_resistance_ohm")), QStringLiteral("measured"));
    EXPECT_EQ(session().undoStack().count(), 1);
    ASSERT_TRUE(planOf(program).keeping().keepRevisionBecause(QStringLiteral("eight cells")));
    const auto kept = program.garage.garage().revisions(ids.setup).back();
    EXPECT_EQ(kept.pack, big);
    EXPECT_EQ(kept.values.at("pack.series").number, 8.0);
}

TEST_F(BenchKeepingTest, aPackOfUnknownMassLeavesTheVehiclesAndSaysSo) {
    open();
    openGarage();
    Part light = program.garage.garage().part(big);
    light.values.erase("pack.mass_kg");
    program.garage.garage().update(light);
    put(ids.venue);
    const double mass = session().input().vehicle.mass_kg;
    QSignalSpy said(&program.voice, &Voice::said);
    planOf(program).widget()->findChild<PackChoice*>()->take(QString::fromStdString(toString(big)));
    EXPECT_EQ(session().input().vehicle.mass_kg, mass);
    ASSERT_EQ(said.size(), 1);
    EXPECT_TRUE(said.front().front().toString().contains(QStringLiteral("not known")));
}

TEST_F(BenchKeepingTest, aPlanOfOtherCellsDoesNotGoByThePacksName) {
    open();
    openGarage();
    put(ids.venue);
    PlanInput next = session().input();
    next.pack.series = 8;
    next.pack.capacity_Ah = 5.0;
    session().edit(QStringLiteral("cells"), {}, next);
    EXPECT_EQ(packText(program.bench.content()), QStringLiteral("8S, 5 Ah"));
    session().undoStack().undo();
    EXPECT_EQ(packText(program.bench.content()), QStringLiteral("small pack"));
}

TEST_F(BenchKeepingTest, aMeasuredValueThatIsChangedIsAGuess) {
    open();
    BenchContent content;
    PlanInput input = samplePlan();
    input.motor.kv_rpm_per_V = 2000.0;
    input.uncertainty = {{"motor.kv_rpm_per_V", 7.0}, {"motor.resistance_ohm", 0.0001}};
    input.correlation = {{"motor.kv_rpm_per_V", "motor.resistance_ohm", 0.4}};
    content.input = std::make_shared<const PlanInput>(input);
    content.sources[QStringLiteral("motor.kv_rpm_per_V")] = QStringLiteral("measured, drill");
    program.bench.put(content);
    const PlanField& kv = *findPlanField("motor.kv_rpm_per_V");
    EXPECT_EQ(session().sourceOf(kv), QStringLiteral("measured, drill"));
    PlanInput next = input;
    next.motor.kv_rpm_per_V = 2500.0;
    session().editValue(kv, QStringLiteral("kv"), next);
    EXPECT_DOUBLE_EQ(session().input().uncertainty.at("motor.kv_rpm_per_V"), *guessWidth(kv, 2500.0));
    EXPECT_TRUE(session().sourceOf(kv).startsWith(QStringLiteral("guess")));
    EXPECT_TRUE(session().input().correlation.empty()); // a guess does not know of the other's error
    next = session().input();
    next.motor.kv_rpm_per_V = 2000.0;
    session().editValue(kv, QStringLiteral("kv"), next);
    EXPECT_EQ(session().input(), input); // as it was measured
    EXPECT_EQ(session().sourceOf(kv), QStringLiteral("measured, drill"));
    // What nobody stated an uncertainty of stays without one.
    next = session().input();
    next.gears.pinion_teeth += 1;
    next.venue.timed_m += 1.0;
    session().editValue(*findPlanField("venue.timed_m"), QStringLiteral("zone"), next);
    EXPECT_EQ(session().input().uncertainty.size(), 2U);
}
