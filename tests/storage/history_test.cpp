// What the screens ask of the past: time lines, best passes, resistance over time, search, differences, CSV.
#include "core/error.h"
#include "storage/log_record.h"
#include "storage/sample_garage.h"
#include "tests/storage/support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace rw::test {

namespace {

using ::testing::ElementsAre;

struct Past {
    TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    Filled ids = fill(garage);

    Id addLog(unsigned seed, const std::string& started, std::vector<std::pair<double, Direction>> passes, Id setup) {
        LogRecord log = logRecordFor(logText(seed), static_cast<int>(passes.size()));
        log.started = started, log.setup = setup;
        for (std::size_t i = 0; i < passes.size(); ++i) {
            log.passes[i].figures["zone_speed_mps"] = passes[i].first;
            log.passes[i].direction = passes[i].second;
        }
        return garage.addLog(log).log;
    }
};

std::vector<Id> idsOf(const std::vector<FoundItem>& found) {
    std::vector<Id> out;
    for (const FoundItem& item : found)
        out.push_back(item.id);
    return out;
}

} // namespace

TEST(History, bestPassesGiveOneWayAndTheMeanOfNeighboursThereAndBack) {
    Past past;
    const Id first = past.ids.plan.setup;
    past.addLog(
        10, "2026-06-01",
        {{50.0, Direction::There}, {44.0, Direction::Back}, {47.0, Direction::There}, {60.0, Direction::Unknown}},
        first);
    const auto best = past.garage.bestPasses();
    ASSERT_EQ(best.size(), 2u); // a row a revision; fill() drove the second
    EXPECT_EQ(best[0].setup, first);
    EXPECT_EQ(best[0].oneWay.mps, 60.0);
    EXPECT_EQ(best[0].bothWays_mps,
              0.5 * (50.0 + 44.0)); // not 60 with 47: no direction noted; not 50 with 47: both there
    EXPECT_EQ(best[0].vehicleName, "Heron");
    EXPECT_EQ(best[1].revision, 2);
}

TEST(History, aTimeLineHoldsEveryRevisionOutingLogPassPlanAndFitInOrder) {
    Past past;
    const auto line = past.garage.timeLine({ItemKind::Vehicle, 1});
    EXPECT_TRUE(std::ranges::is_sorted(line, {}, &TimeLineEntry::when));
    std::map<ItemKind, int> kinds;
    for (const TimeLineEntry& entry : line)
        ++kinds[entry.id.kind];
    EXPECT_EQ(kinds, (std::map<ItemKind, int>{{ItemKind::Setup, 2},
                                              {ItemKind::Outing, 1},
                                              {ItemKind::Log, 1},
                                              {ItemKind::Pass, 3},
                                              {ItemKind::Plan, 1},
                                              {ItemKind::Fit, 1}}));
}

TEST(History, aPacksResistanceFollowsThePackThatWasConnected) {
    Past past;
    const Id pack = past.garage.setup(past.ids.plan.setup).pack;
    EXPECT_EQ(past.garage.packHistory(pack).size(), 3u);
    const Id other = past.garage.duplicate(pack, "6S no. 3");
    past.garage.setSession(past.garage.sessions(past.ids.log)[1].id, {}, other); // its two passes
    EXPECT_EQ(past.garage.packHistory(pack).size(), 1u);
    const auto points = past.garage.packHistory(other);
    ASSERT_EQ(points.size(), 2u);
    EXPECT_EQ(points[1].carried, 2);
    EXPECT_DOUBLE_EQ(*points[1].ohm, 0.0142);
    EXPECT_EQ(past.garage.motorHistory({ItemKind::Motor, 1}).size(), 3u);
}

TEST(History, differencesOfTwoRevisionsNameEveryChangeAndNothingElse) {
    Past past;
    rw::Setup setup = past.garage.setup(past.ids.plan.setup);
    const Id tyre = past.garage.duplicate(setup.tyre, "foam 112");
    setup.tyre = tyre;
    setup.values["controller.cutoff.mode"].text = "off";
    setup.values["start.pack_C"].number = 38.0;
    setup.values.erase("drive.target_mps");
    const auto differences = past.garage.difference(past.ids.plan.setup, past.garage.revise(setup, "sag"));
    std::vector<std::string> keys;
    for (const Difference& difference : differences)
        keys.push_back(difference.key);
    EXPECT_THAT(keys, ElementsAre("tyre", "controller.cutoff.mode", "drive.target_mps", "start.pack_C"));
    EXPECT_EQ(differences[0].was->text, "belted 109");
    EXPECT_EQ(differences[0].is->text, "foam 112");
    EXPECT_FALSE(differences[2].is);
}

TEST(History, searchFindsBeginningsOfWordsEverywhereAndFollowsEveryChange) {
    Past past;
    Garage& garage = past.garage;
    EXPECT_THAT(idsOf(garage.search("gust noon")), ElementsAre(past.ids.outing));
    EXPECT_THAT(idsOf(garage.search("spotters")), ElementsAre(past.ids.checklist));
    EXPECT_THAT(idsOf(garage.search("LIFTED")), ElementsAre(past.ids.log));
    EXPECT_THAT(idsOf(garage.search("room for one step")), ElementsAre(past.ids.revision));
    EXPECT_TRUE(garage.search("nowhere").empty());
    EXPECT_TRUE(garage.search("").empty());
    garage.notePass({ItemKind::Pass, 2}, Direction::Back, "crosswind übel");
    EXPECT_THAT(idsOf(garage.search("ubel")), ElementsAre(Id{ItemKind::Pass, 2})); // without its marks too
    garage.undo();
    EXPECT_TRUE(garage.search("ubel").empty());
    garage.redo();
    EXPECT_EQ(garage.search("crosswind").size(), 1u);
    EXPECT_NE(garage.search("crosswind")
                  .front()
                  .excerpt.find("\x02"
                                "crosswind\x03"),
              std::string::npos);
}

TEST(History, passesAreFilteredBySpeedDateAndEverythingThatTheyBelongTo) {
    Past past;
    past.addLog(11, "2026-01-02T10:00", {{10.0, Direction::There}, {20.0, Direction::Back}}, past.ids.plan.setup);
    const auto count = [&](auto&& set) {
        PassFilter filter;
        set(filter);
        return past.garage.passes(filter).size();
    };
    EXPECT_EQ(count([](PassFilter&) {}), 5u);
    EXPECT_EQ(count([&](PassFilter& f) { f.setup = past.ids.revision; }), 3u);
    EXPECT_EQ(count([](PassFilter& f) { f.speedFrom_mps = 15.0; }), 4u);
    EXPECT_EQ(count([](PassFilter& f) { f.speedFrom_mps = 15.0, f.speedTo_mps = 20.0; }), 1u);
    EXPECT_EQ(count([](PassFilter& f) { f.to = "2026-01-02"; }), 2u);
    EXPECT_EQ(count([](PassFilter& f) { f.from = "2026-01-03"; }), 3u);
    EXPECT_EQ(count([&](PassFilter& f) { f.outing = past.ids.outing; }), 3u);
    EXPECT_EQ(count([&](PassFilter& f) { f.venue = past.ids.plan.venue; }), 3u);
    EXPECT_EQ(count([](PassFilter& f) { f.limit = 2, f.offset = 4; }), 1u);
    EXPECT_EQ(count([](PassFilter& f) { f.completeOnly = true; }), 4u);
    PassFilter fastest;
    fastest.order = PassFilter::Order::Fastest;
    EXPECT_NEAR(*past.garage.passes(fastest).front().zoneSpeed_mps, 40.0 + 2 / 7.0, 1e-12);
}

TEST(History, theCsvOfPassesQuotesAsRfc4180Says) {
    Past past;
    past.garage.notePass({ItemKind::Pass, 1}, Direction::There, "said \"go\", then\nstop");
    const std::string csv = past.garage.passesCsv({});
    // RFC 4180, section 2: rules 5 to 7; lines end with CRLF.
    EXPECT_NE(csv.find("\"said \"\"go\"\", then\nstop\""), std::string::npos);
    EXPECT_EQ(csv.find("pass,log,setup,"), 0u);
    EXPECT_NE(csv.find("peak_A"), std::string::npos);
}

TEST(Logs, theSameBytesTwiceAreOneLogAndTheBytesComeBackUntouched) {
    Past past;
    const std::string bytes = std::string("\xEF\xBB\xBFTime;Ω\r\n1,5;2\0x\r\n", 22) + std::string(100'000, 'z');
    LogRecord log = logRecordFor(bytes, 1);
    const AddedLog first = past.garage.addLog(log);
    EXPECT_FALSE(first.alreadyThere);
    log.name = "another name.csv";
    const AddedLog second = past.garage.addLog(log);
    EXPECT_TRUE(second.alreadyThere);
    EXPECT_EQ(second.log, first.log);
    EXPECT_EQ(second.passes, 1);
    EXPECT_EQ(past.garage.logBytes(first.log), bytes);
    EXPECT_LT(past.garage.log(first.log).packedSize, 1000);
}

TEST(Logs, cutAnewKeepIdsNotesAndWhatRefersToThem) {
    Past past;
    past.garage.notePass({ItemKind::Pass, 1}, Direction::Back, "kept");
    LogRecord cut = logRecordFor(logText(1), 2);
    cut.edits = writeReviewEdits({{}, {}, {}, {{20, 60}}, {}, {}});
    cut.passes[0].figures["peak_A"] = 999.0;
    past.garage.replaceReview(past.ids.log, cut);
    EXPECT_EQ(past.garage.count(ItemKind::Pass), 2);
    const StoredPass pass = past.garage.pass({ItemKind::Pass, 1});
    EXPECT_EQ(pass.notes, "kept");
    EXPECT_EQ(pass.direction, Direction::Back);
    EXPECT_EQ(pass.peakCurrent_A, 999.0);
    EXPECT_EQ(readReviewEdits(past.garage.log(past.ids.log).edits).addedPasses, (std::vector<LineSpan>{{20, 60}}));
    LogRecord none = logRecordFor(logText(1), 1);
    EXPECT_THROW(past.garage.replaceReview(past.ids.log, none), GarageError); // the fit refers to pass 2
}

TEST(Logs, editsOfBoundariesReadBackAsTheyWereWritten) {
    const ReviewEdits edits{{3, 9}, {4}, {{10, 12}}, {{20, 60}}, {{70, 80}, {90, 95}}, {{{1, 2}, {3, 4}}}};
    EXPECT_EQ(readReviewEdits(writeReviewEdits(edits)), edits);
    EXPECT_TRUE(readReviewEdits("").empty());
    for (const char* const broken :
         {"{", "{}", "[1]", R"({"runwright":"review-edits","version":1,"added_sessions":[1.5]})"})
        EXPECT_THROW(static_cast<void>(readReviewEdits(broken)), InputError) << broken;
}

TEST(SampleGarage, isWholeInventedAndHasSomethingForEveryScreen) {
    const TempFolder folder;
    Garage garage = createSampleGarage(folder.file("sample"));
    EXPECT_EQ(garage.count(ItemKind::Vehicle), 3);
    EXPECT_EQ(garage.count(ItemKind::Pack), 6);
    EXPECT_EQ(garage.count(ItemKind::Motor), 4);
    EXPECT_EQ(garage.count(ItemKind::Venue), 3);
    EXPECT_GE(garage.count(ItemKind::Outing), 12);
    EXPECT_EQ(garage.count(ItemKind::Log), garage.count(ItemKind::Outing));
    EXPECT_GE(garage.count(ItemKind::Pass), 40);
    EXPECT_TRUE(garage.check(true).ok);
    for (const Part& vehicle : garage.parts(ItemKind::Vehicle))
        EXPECT_NE(vehicle.notes.find("Invented"), std::string::npos);
    const auto best = garage.bestPasses();
    ASSERT_GE(best.size(), 6u);
    EXPECT_TRUE(std::ranges::any_of(best, [](const BestPass& b) { return b.bothWays_mps.has_value(); }));
    int withResistance = 0;
    for (const Part& pack : garage.parts(ItemKind::Pack))
        for (const PackPoint& point : garage.packHistory(pack.id))
            withResistance += point.ohm ? 1 : 0;
    EXPECT_GE(withResistance, 20);
    EXPECT_FALSE(garage.undoText());
    // Its main day tells the whole story: six cells whose cutoff takes power, then eight with a light front and heat.
    const auto logs = garage.logs();
    const auto& main = *std::ranges::max_element(logs, {}, &StoredLog::passes);
    EXPECT_EQ(main.passes, 7);
    // The same garage every time, apart from when it was made.
    Garage again = createSampleGarage(folder.file("again"));
    EXPECT_EQ(contentOf(again), contentOf(garage));
    // Every revision can be planned with.
    for (const rw::Setup& setup : garage.setups())
        for (const Part& venue : garage.parts(ItemKind::Venue))
            EXPECT_NO_THROW(static_cast<void>(garage.planInput(setup.id, venue.id)));
}

} // namespace rw::test
