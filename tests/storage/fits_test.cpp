// Fits kept, accepted, counted once, and seen over time; parts exchanged, and what a garage offers for choosing.
#include "core/error.h"
#include "storage/choose_set.h"
#include "storage/fit_record.h"
#include "tests/storage/support.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::test {

namespace {

constexpr const char* drag = "vehicle.drag_area_m2";
constexpr const char* kv = "motor.kv_rpm_per_V";
constexpr const char* cell = "pack.cell_resistance_ohm";

FittedParameter learned(const char* key, double value, double error, bool determined = true) {
    FittedParameter out;
    out.key = key, out.value = value, out.standardError = error, out.determined = determined;
    return out;
}

struct Taught {
    TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    Filled ids = fill(garage);
    Setup start = garage.setup(ids.revision);

    // Of drag, kv and cell resistance, the first two bound to each other by -0.6.
    Id addFit(std::vector<Id> passes, Id setup, double by = 1.0) {
        Fit fit;
        fit.name = "first day", fit.setup = setup, fit.passes = std::move(passes);
        fit.parameters = {learned(drag, 0.0188 * by, 0.0004), learned(kv, 2065.0 * by, 4.0),
                          learned(cell, 0.0025 * by, 0.0002, false)};
        fit.covariance = {1.6e-7, -0.6 * 0.0004 * 4.0, 0.0, -0.6 * 0.0004 * 4.0, 16.0, 0.0, 0.0, 0.0, 4e-8};
        fit.learned = LearnedInput{{1.012, 0.006}, {0.999, 0.002}, {0.3, 0.1}, {garage.log(ids.log).sha256}};
        return garage.addFit(fit);
    }
    Id addFit() { return addFit({{ItemKind::Pass, 1}, {ItemKind::Pass, 2}}, ids.revision); }
};

GarageError::Kind refusal(const std::function<void()>& work) {
    try {
        work();
    } catch (const GarageError& error) {
        return error.kind();
    }
    ADD_FAILURE() << "nothing was thrown";
    return GarageError::Kind::Failed;
}

} // namespace

TEST(Fits, acceptingOneMakesARevisionWithItsValuesAndLeavesThePartsAlone) {
    Taught taught;
    const std::string before = contentOf(taught.garage);
    const Id fit = taught.addFit();
    const Id revision = taught.garage.acceptFit(fit);
    const rw::Setup now = taught.garage.setup(revision);
    EXPECT_EQ(now.parent, taught.ids.revision);
    EXPECT_EQ(now.values.at(drag).number, 0.0188);
    EXPECT_EQ(now.values.at(drag).uncertainty, 0.0004);
    EXPECT_EQ(now.values.at(drag).source, Source::Fitted);
    EXPECT_NE(now.values.at(drag).note.find(toString(fit)), std::string::npos);
    EXPECT_EQ(now.values.at(cell).number, 0.0025);
    EXPECT_EQ(now.values.at(cell).source, taught.start.values.at(cell).source) << "not determined: no better known";
    EXPECT_EQ(taught.garage.setup(taught.ids.revision), taught.start);
    EXPECT_EQ(taught.garage.part(now.motor).values.at(kv).number, taught.start.values.at(kv).number);
    EXPECT_EQ(taught.garage.fit(fit).accepted, revision);
    // One step back, and nothing of it is left but the fit itself.
    taught.garage.undo();
    EXPECT_FALSE(taught.garage.fit(fit).accepted);
    taught.garage.undo();
    EXPECT_EQ(contentOf(taught.garage), before);
}

TEST(Fits, whatIsLearnedOfAPartGoesToThePartWhereTheOwnerSaysSo) {
    Taught taught;
    const Id fit = taught.addFit();
    const Value makers = taught.garage.part(taught.start.motor).values.at(kv);
    taught.garage.acceptFit(fit, {{}, {taught.start.motor, taught.start.pack}, "after the first day"});
    const Part motor = taught.garage.part(taught.start.motor);
    EXPECT_EQ(motor.values.at(kv).number, 2065.0);
    EXPECT_EQ(motor.values.at(kv).source, Source::Fitted);
    EXPECT_EQ(taught.garage.part(taught.start.pack).values.at(cell).number, 0.0025);
    EXPECT_EQ(taught.garage.part(taught.start.vehicle).values.at(drag).number, taught.start.values.at(drag).number);
    EXPECT_EQ(refusal([&] { taught.garage.remove(fit); }), GarageError::Kind::Refused);
    taught.garage.undo();
    EXPECT_EQ(taught.garage.part(taught.start.motor).values.at(kv), makers);
}

TEST(Fits, correlationGainsAndLogsComeOutInThePlanInput) {
    Taught taught;
    const Id revision = taught.garage.acceptFit(taught.addFit());
    const PlanInput plan = taught.garage.planInput(revision, taught.ids.plan.venue);
    ASSERT_EQ(plan.correlation.size(), 1u);
    EXPECT_EQ(plan.correlation.front().first, drag);
    EXPECT_EQ(plan.correlation.front().second, kv);
    EXPECT_NEAR(plan.correlation.front().coefficient, -0.6, 1e-12);
    ASSERT_TRUE(plan.learned);
    EXPECT_EQ(plan.learned->currentGain, (Estimate{1.012, 0.006}));
    EXPECT_EQ(plan.learned->logs, std::vector<std::string>{taught.garage.log(taught.ids.log).sha256});
    // A value that is put in by hand is no longer bound to the other one.
    rw::Setup measured = taught.garage.setup(revision);
    measured.values[kv].number = 2070.0;
    const Id next = taught.garage.revise(measured, "measured with a drill");
    EXPECT_TRUE(taught.garage.planInput(next, taught.ids.plan.venue).correlation.empty());
    // And from a plan input back into a garage: the same plan.
    const PlanIds again = taught.garage.addSetupFromPlan(plan, {});
    EXPECT_EQ(taught.garage.planInput(again.setup, again.venue), plan);
}

TEST(Fits, theSamePassesNeverCountTwice) {
    Taught taught;
    const Id second{ItemKind::Pass, 2}, third{ItemKind::Pass, 3};
    const Id fit = taught.addFit();
    const Id twin = taught.addFit({second, third}, taught.ids.revision); // of the same start: nothing counted yet
    EXPECT_TRUE(taught.garage.passesCounted(taught.ids.revision).empty());
    const Id revision = taught.garage.acceptFit(fit, {{}, {taught.start.motor}, ""});
    EXPECT_EQ(taught.garage.passesCounted(revision), (std::vector<Id>{{ItemKind::Pass, 1}, second}));
    EXPECT_EQ(refusal([&] { taught.addFit({third, second}, revision); }), GarageError::Kind::Refused);
    EXPECT_EQ(refusal([&] { taught.garage.acceptFit(fit); }), GarageError::Kind::Refused) << "accepted already";
    EXPECT_EQ(refusal([&] { taught.garage.acceptFit(twin, {revision, {}, ""}); }), GarageError::Kind::Refused);
    // New evidence is welcome, and adds up.
    const Id next = taught.garage.acceptFit(taught.addFit({third}, revision, 1.01));
    EXPECT_EQ(taught.garage.passesCounted(next).size(), 3u);
    // A car built with the motor that was learned rests on the same passes.
    rw::Setup other = taught.garage.setup(taught.ids.plan.setup);
    other.name = "another car";
    other = taught.garage.composeSetup(other);
    const Id built = taught.garage.addSetup(other);
    EXPECT_EQ(taught.garage.passesCounted(built).size(), 2u);
    EXPECT_EQ(refusal([&] { taught.addFit({second}, built); }), GarageError::Kind::Refused);
    // Values put back by hand rest on nothing.
    other.values[kv] = taught.start.values.at(kv);
    EXPECT_TRUE(taught.garage.passesCounted(taught.garage.addSetup(other)).empty());
}

TEST(Fits, aPartsHistoryShowsWhatFitsSaidOverTime) {
    Taught taught;
    const Id revision = taught.garage.acceptFit(taught.addFit());
    LogRecord later = logRecordFor(logText(9));
    later.started = "2026-12-03T10:00:00", later.setup = revision;
    const Id log = taught.garage.addLog(later).log;
    PassFilter filter;
    filter.log = log;
    const Id fresh = taught.garage.passes(filter).front().id;
    const Id second = taught.addFit({fresh}, revision, 1.02);
    const std::vector<FittedPoint> motor = taught.garage.fittedHistory(taught.start.motor);
    ASSERT_EQ(motor.size(), 2u);
    EXPECT_EQ(motor[0].key, kv);
    EXPECT_EQ(motor[0].when, "2026-11-21");
    EXPECT_EQ(motor[0].value, 2065.0);
    EXPECT_EQ(motor[0].standardError, 4.0);
    EXPECT_EQ(motor[0].accepted, revision);
    EXPECT_EQ(motor[1].fit, second);
    EXPECT_EQ(motor[1].passes, 1);
    EXPECT_FALSE(motor[1].accepted);
    EXPECT_EQ(taught.garage.fittedHistory(taught.start.pack).size(), 2u);
    // Drag: the two, and what the garage had from the beginning.
    EXPECT_EQ(taught.garage.fittedHistory(taught.start.vehicle).size(), 3u);
}

TEST(Fits, anExportedVehicleBringsItsFitsAndWhatTheyTaught) {
    Taught taught;
    taught.garage.acceptFit(taught.addFit(), {{}, {taught.start.motor}, "after the first day"});
    const std::string document = taught.garage.exportItem(taught.start.vehicle);
    Garage other = Garage::create(taught.folder.file("other"));
    const ImportedItems items = other.importItems(document, "export");
    std::optional<Fit> accepted;
    for (const Fit& fit : other.fits())
        if (fit.accepted) accepted = fit;
    ASSERT_TRUE(accepted);
    const rw::Setup revision = other.setup(*accepted->accepted);
    EXPECT_EQ(revision.values.at(kv).source, Source::Fitted);
    EXPECT_EQ(revision.evidence.correlation.size(), 1u);
    EXPECT_EQ(other.passesCounted(revision.id).size(), 2u);
    EXPECT_EQ(accepted->learned->currentGain.value, 1.012);
    EXPECT_EQ(other.pass(accepted->passes.front()).noted, taught.garage.pass({ItemKind::Pass, 1}).noted);
    // A second time nothing is new.
    EXPECT_TRUE(other.importItems(document, "export").added.empty());
}

// As after a salvage that did not find them.
TEST(Fits, oneWhoseTakenValuesWereLostIsExportedAsImportReadsIt) {
    TempFolder folder;
    std::string document;
    {
        Taught taught;
        taught.garage.acceptFit(taught.addFit());
        SQLite::Database(taught.folder.file("g"), SQLite::OPEN_READWRITE).exec("DELETE FROM fit_value");
        document = taught.garage.exportItem(taught.start.vehicle);
    }
    Garage other = Garage::create(folder.file("other"));
    other.importItems(document, "export");
    const std::vector<Fit> fits = other.fits();
    const auto accepted =
        std::find_if(fits.begin(), fits.end(), [](const Fit& fit) { return fit.accepted.has_value(); });
    ASSERT_NE(accepted, fits.end());
    EXPECT_TRUE(accepted->taken.empty());
}

TEST(Fits, aReportOfLearningIsKeptWithItsPassesAndComesBackAsAPlan) {
    Taught taught;
    taught.garage.notePass({ItemKind::Pass, 3}, Direction::Back, "");
    const std::array logs{taught.ids.log};
    const LearnPasses passes = learnPasses(taught.garage, logs);
    ASSERT_EQ(passes.ids.front().size(), 3u);
    EXPECT_EQ(passes.ids.front()[1], (Id{ItemKind::Pass, 2}));
    ASSERT_EQ(passes.reverse.size(), 2u); // the second was noted so from the beginning
    EXPECT_EQ(passes.reverse[1], (PassRef{0, 1, 2}));
    ASSERT_EQ(passes.noted.size(), 2u);
    EXPECT_TRUE(passes.noted[0].zone);
    EXPECT_EQ(passes.noted[0].speed, 40.25);
    EXPECT_EQ(passes.noted[1].uncertainty, 0.3);
    LearnReport report;
    report.parameters = {{drag, 0.0189, 0.0003, 0.0183, 0.0195, 0.0192, 0.0007, true, {}, {}},
                         {kv, 2070.0, 5.0, 2060.0, 2080.0, 2087.0, 9.0, false, "cannot be told", "far off"}};
    report.correlation = {{drag, kv}, {{1.0, -0.4}, {-0.4, 1.0}}};
    report.passesUsed = {{0, 0, 0}, {0, 1, 1}};
    report.learned = {{1.01, 0.004}, {1.0, 0.001}, {0.2, 0.05}, {taught.garage.log(taught.ids.log).sha256}};
    EXPECT_THROW(static_cast<void>(fitRecord(report, "{}", taught.ids.revision, passes)), InputError);
    report.converged = true;
    const Id fit = taught.garage.addFit(fitRecord(report, "{}", taught.ids.revision, passes));
    const Fit kept = taught.garage.fit(fit);
    EXPECT_EQ(kept.parameters[1].beforeDeviation, 9.0);
    EXPECT_EQ(kept.parameters[1].whyNot, "cannot be told");
    EXPECT_EQ(kept.parameters[1].conflict, "far off");
    const PlanInput plan = taught.garage.planInput(taught.garage.acceptFit(fit), taught.ids.plan.venue);
    EXPECT_EQ(plan.uncertainty.at(drag), 0.0003);
    ASSERT_EQ(plan.correlation.size(), 1u);
    EXPECT_NEAR(plan.correlation.front().coefficient, -0.4, 1e-14);
    EXPECT_EQ(plan.learned, report.learned);
    report.passesUsed.push_back({0, 1, 7});
    EXPECT_THROW(static_cast<void>(fitRecord(report, "{}", taught.ids.revision, passes)), InputError);
}

TEST(Noted, aSpeedThatWasReadOffStandsInWhereTheLogTellsNone) {
    Taught taught;
    LogRecord blind = logRecordFor(logText(11));
    for (PassRecord& pass : blind.passes)
        pass.figures.erase("zone_speed_mps");
    const Id log = taught.garage.addLog(blind).log;
    PassFilter filter;
    filter.log = log, filter.order = PassFilter::Order::Oldest;
    const Id first = taught.garage.passes(filter)[0].id;
    EXPECT_FALSE(bestSpeed(taught.garage.pass(first)));
    taught.garage.noteSpeeds(first, {{SpeedKind::Peak, 44.0, 0.3}, {SpeedKind::ZoneMean, 42.0, 0.5}});
    EXPECT_EQ(bestSpeed(taught.garage.pass(first))->mps, 42.0);
    EXPECT_EQ(bestSpeed(taught.garage.pass(first))->kind, SpeedKind::ZoneMean);
    taught.garage.undo();
    EXPECT_TRUE(taught.garage.pass(first).noted.empty());
    using Wrong = std::vector<SpeedNote>;
    for (const Wrong& wrong :
         {Wrong{{SpeedKind::Peak, 0.0, 0.3}}, Wrong{{SpeedKind::Peak, 40.0, 0.0}},
          Wrong{{SpeedKind::PeakWheel, 40.0, 0.3}}, Wrong{{SpeedKind::Peak, 40.0, 0.3}, {SpeedKind::Peak, 41.0, 0.3}},
          Wrong{{SpeedKind::Peak, std::nan(""), 0.3}}, Wrong{{SpeedKind::Peak, 201.0, 0.3}}})
        EXPECT_THROW(taught.garage.noteSpeeds(first, wrong), InputError);
    // Cut anew, the pass keeps what was noted; taken away, it goes with it.
    taught.garage.noteSpeeds(first, {{SpeedKind::Peak, 44.0, 0.3}});
    taught.garage.replaceReview(log, blind);
    EXPECT_EQ(taught.garage.pass(first).noted.size(), 1u);
    taught.garage.remove(log);
    EXPECT_TRUE(taught.garage.check(true).ok);
}

TEST(ChooseSet, offersEveryMotorControllerAndPackAndTheGearsOfTheModule) {
    Taught taught;
    Garage& garage = taught.garage;
    const rw::Setup& setup = taught.start;
    const Id motor = garage.duplicate(setup.motor, "wound for eight cells");
    Part wound = garage.part(motor);
    wound.values[kv].number = 1450.0;
    wound.values["motor.mass_kg"].number = 0.41;
    wound.values.erase("motor.max_speed_rpm");
    wound.values.erase("motor.timing_deg");
    garage.update(wound);
    const Id half = garage.duplicate(setup.pack, "known by halves");
    Part unknown = garage.part(half);
    unknown.values.erase(cell);
    garage.update(unknown);
    garage.retire(garage.duplicate(setup.controller, "burnt"));
    Part gear;
    gear.id.kind = ItemKind::Gear, gear.name = "21", gear.values["gears.module_m"].number = 0.001;
    gear.values["gears.pinion_teeth"].number = 21.0;
    garage.add(gear);
    gear.name = "finer", gear.values["gears.module_m"].number = 0.0008, gear.values["gears.pinion_teeth"].number = 30.0;
    garage.add(gear);
    const ChooseSet set = chooseSet(garage, setup.id, taught.ids.plan.venue);
    EXPECT_EQ(set.base.gears.pinions, (std::vector<int>{21, 26}));
    EXPECT_EQ(set.base.gears.spurs, std::vector<int>{42});
    ASSERT_EQ(set.motors.size(), 2u);
    const auto other = std::ranges::find(set.motors, toString(motor), &ChoosePart<PlanInput::MotorInput>::id);
    ASSERT_NE(other, set.motors.end());
    EXPECT_EQ(other->name, "wound for eight cells");
    EXPECT_EQ(other->values.kv_rpm_per_V, 1450.0);
    EXPECT_EQ(other->values.mass_kg, 0.41);
    EXPECT_FALSE(other->values.max_speed_rpm) << "the other motor's limit is not this one's";
    EXPECT_EQ(other->values.timing_deg, set.base.motor.timing_deg) << "the driver's setting";
    EXPECT_EQ(other->uncertainty.at(kv), 9.0);
    EXPECT_FALSE(other->uncertainty.contains(drag));
    EXPECT_EQ(set.controllers.size(), 1u);
    EXPECT_EQ(set.packs.size(), 1u);
    ASSERT_EQ(set.leftOut.size(), 1u);
    EXPECT_EQ(set.leftOut.front().pack, toString(half));
    EXPECT_NE(set.leftOut.front().why.find(cell), std::string::npos);
    const auto own = std::ranges::find(set.motors, toString(setup.motor), &ChoosePart<PlanInput::MotorInput>::id);
    ASSERT_NE(own, set.motors.end());
    EXPECT_EQ(own->values, set.base.motor);
}

} // namespace rw::test
