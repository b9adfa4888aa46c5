// How a kept log is read and judged: by its setup, its own sessions' packs, and what lay before it. Logs are generated
// with known truth (samples/generate).
#include "core/error.h"
#include "core/log/import_refusal.h"
#include "core/review/review.h"
#include "samples/generate/generate.h"
#include "storage/log_judging.h"
#include "storage/log_record.h"
#include "storage/own_limits.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace rw::test {

namespace {

std::string replaced(std::string text, const std::string& was, const std::string& is) {
    const std::size_t at = text.find(was);
    EXPECT_NE(at, std::string::npos) << was;
    return at == std::string::npos ? text : text.replace(at, was.size(), is);
}

// A day of the generator: one session, `passes` passes; another day for each seed.
std::string dayText(std::uint64_t seed, int passes = 2) {
    generate::Scenario day = generate::sampleDay("plain-day");
    day.sessions.resize(1);
    day.sessions.front().passes.resize(static_cast<std::size_t>(passes), generate::PassPlan{20.0, {}});
    day.sessions.front().after_s = 30.0;
    return generate::generateLog(day, seed).text;
}

struct Shop {
    TempFolder folder;
    Garage garage = Garage::create(folder.file("g"));
    PlanIds ids = garage.addSetupFromPlan(generate::samplePlan("plain-day"), {"wren", "", "", "", "", "", "", {}});

    Id outingOn(const std::string& date) {
        Outing outing;
        outing.name = "day of " + date, outing.date = date, outing.venue = ids.venue, outing.setups = {ids.setup};
        return garage.addOuting(outing);
    }
    Id keep(const std::string& text, LogContext context) {
        const JudgedLog judged = readAndJudge(text, "day.csv", logJudging(garage, context));
        return garage.addLog(logRecord(packLog(text), judged, context)).log;
    }
    Id keepOn(const std::string& date, std::uint64_t seed) {
        LogContext context;
        context.setup = ids.setup, context.outing = outingOn(date);
        return keep(dayText(seed), context);
    }
    // Read and judged anew from what the garage keeps of it.
    std::string judgedAnew(Id log) {
        const JudgedLog judged = readAndJudge(garage.logBytes(log), garage.log(log).name, logJudging(garage, log));
        return reviewJson(judged.log, judged.review);
    }
    std::vector<StoredPass> passesOf(Id log) {
        PassFilter filter;
        filter.log = log, filter.order = PassFilter::Order::Oldest;
        return garage.passes(filter);
    }
};

} // namespace

TEST(Judging, aKeptLogIsJudgedAnewAsItWasWhenItWasAdded) {
    Shop shop;
    const Id first = shop.keepOn("2026-05-01", 1);
    const Id second = shop.keepOn("2026-05-02", 2);
    EXPECT_EQ(shop.judgedAnew(first), shop.garage.logReview(first));
    EXPECT_EQ(shop.judgedAnew(second), shop.garage.logReview(second));
}

// A fit of the first day, not accepted: the second day is foretold by it, the first is not, nor a day before it.
TEST(Judging, whatAnEarlierDayTaughtForetellsTheNext) {
    Shop shop;
    const Id first = shop.keepOn("2026-05-02", 1);
    rw::Setup doubted = shop.garage.setup(shop.ids.setup);
    doubted.values.at("vehicle.drag_area_m2").uncertainty =
        0.1 * doubted.values.at("vehicle.drag_area_m2").number.value();
    const Value drag = doubted.values.at("vehicle.drag_area_m2");
    const Id setup = shop.garage.revise(doubted, "drag in doubt");
    shop.ids.setup = setup;
    Fit fit;
    fit.name = "first day", fit.setup = setup;
    for (const StoredPass& pass : shop.passesOf(first))
        fit.passes.push_back(pass.id);
    FittedParameter learned;
    learned.key = "vehicle.drag_area_m2", learned.value = 1.05 * *drag.number, learned.standardError = 0.001;
    learned.before = drag.number, learned.beforeDeviation = drag.uncertainty;
    fit.parameters = {learned};
    const Id kept = shop.garage.addFit(fit);
    const auto options = [&](const std::string& date, std::optional<Id> log = {}) {
        LogContext context;
        context.setup = setup, context.outing = shop.outingOn(date), context.log = log;
        return logJudging(shop.garage, context).review;
    };
    const ReviewOptions next = options("2026-05-03");
    ASSERT_TRUE(next.learned);
    EXPECT_EQ(next.learned->vehicle.drag_area_m2, learned.value);
    EXPECT_EQ(next.learned->uncertainty.at("vehicle.drag_area_m2"), 0.001);
    EXPECT_EQ(next.plan->vehicle.drag_area_m2, *drag.number) << "limits and gearing stay the plan's";
    EXPECT_EQ(next.learnedFrom, toString(kept) + ", " + std::to_string(fit.passes.size()) + " passes");
    EXPECT_FALSE(options("2026-05-02", first).learned) << "a log teaches nothing of itself";
    EXPECT_FALSE(options("2026-05-01").learned) << "nor of the days before it";
    doubted = shop.garage.setup(setup);
    doubted.values.at("vehicle.drag_area_m2").number = 1.2 * *drag.number;
    shop.ids.setup = shop.garage.revise(doubted, "another body");
    LogContext changed;
    changed.setup = shop.ids.setup, changed.outing = shop.outingOn("2026-05-04");
    EXPECT_FALSE(logJudging(shop.garage, changed).review.learned) << "what it speaks of is no longer there";
}

TEST(Judging, aLogInElectricalRpmKeepsItsMotorSpeed) {
    Shop shop;
    const std::string text = replaced(dayText(3), "motor speed (rpm)", "motor electrical speed (rpm)");
    LogContext context;
    context.setup = shop.ids.setup, context.venue = shop.ids.venue;
    const Id log = shop.keep(text, context);
    const LogJudging judging = logJudging(shop.garage, log);
    EXPECT_EQ(judging.import.polePairs, generate::samplePlan("plain-day").motor.poles / 2);
    const JudgedLog judged = readAndJudge(text, "day.csv", judging);
    EXPECT_TRUE(judged.log[Quantity::MotorSpeed].present());
    for (const StoredPass& pass : shop.passesOf(log))
        EXPECT_TRUE(shop.garage.figures(pass.id).contains("motor_peak_rpm"));
}

// A time column whose name nobody but the owner knows: once mapped, the next log with that header is read by the map.
TEST(Judging, aLogThatOnlyTheOwnersMapCanReadIsReadByIt) {
    Shop shop;
    const std::string text = replaced(dayText(3), "clock (s)", "Uhr");
    LogContext context;
    context.setup = shop.ids.setup, context.venue = shop.ids.venue;
    ColumnMap map;
    try {
        static_cast<void>(readAndJudge(text, "day.csv", logJudging(shop.garage, context)));
        FAIL() << "nobody said which column is the time";
    } catch (const ImportRefusal& refusal) {
        map = columnMapFrom(refusal.survey().report);
        map.columns.at(refusal.survey().likelyTime.value()).quantity = Quantity::Time;
    }
    Part kept;
    kept.id.kind = ItemKind::ColumnMap;
    kept.name = "my logger";
    kept.document = writeColumnMap(map);
    const Id id = shop.garage.add(kept);
    const JudgedLog judged = readAndJudge(text, "day.csv", logJudging(shop.garage, context));
    EXPECT_EQ(judged.columnMap, id);
    EXPECT_EQ(judged.review.passes.size(), 2u);
}

TEST(Judging, ALogsOwnPassesAndLaterOnesAreNoHistoryOfIt) {
    Shop shop;
    const Id later = shop.keepOn("2026-06-10", 1);
    const Id log = shop.keepOn("2026-05-10", 2); // kept after it, driven before it
    const Id sameDay = shop.keepOn("2026-05-10", 3);
    const auto histories = [&](Id id) {
        const ReviewOptions review = logJudging(shop.garage, id).review;
        return std::pair(review.packHistory.size(), review.rpmPerVoltHistory.size());
    };
    const std::size_t each = shop.passesOf(log).size();
    ASSERT_EQ(each, 2u);
    EXPECT_EQ(histories(log), std::pair(std::size_t{0}, std::size_t{0}));
    EXPECT_EQ(histories(sameDay), std::pair(each, each));
    EXPECT_EQ(histories(later), std::pair(2 * each, 2 * each));
}

TEST(Judging, aReadingsLoadIsTheMedianCurrentAtFullOutput) {
    Shop shop;
    const Id first = shop.keepOn("2026-05-01", 1);
    const Id second = shop.keepOn("2026-05-02", 2);
    const JudgedLog judged = readAndJudge(shop.garage.logBytes(first), "day.csv", logJudging(shop.garage, first));
    const std::vector<HistoryValue> history = logJudging(shop.garage, second).review.rpmPerVoltHistory;
    ASSERT_EQ(history.size(), judged.review.passes.size());
    for (std::size_t i = 0; i < history.size(); ++i) {
        ASSERT_TRUE(judged.review.passes[i].fullOutputCurrent);
        EXPECT_EQ(history[i].load, judged.review.passes[i].fullOutputCurrent);
        EXPECT_NE(history[i].load, judged.review.passes[i].meanCurrent);
        EXPECT_EQ(history[i].value, *judged.review.passes[i].rpmPerVolt);
    }
}

TEST(Judging, aMotorsHistoryGoesOnWithAnotherGearingAndStopsAtAnotherTiming) {
    Shop shop;
    static_cast<void>(shop.keepOn("2026-05-01", 1));
    rw::Setup geared = shop.garage.setup(shop.ids.setup);
    geared.values["gears.pinion_teeth"].number = *geared.values["gears.pinion_teeth"].number + 1.0;
    LogContext next;
    next.setup = shop.garage.revise(geared, "one tooth more");
    EXPECT_FALSE(logJudging(shop.garage, next).review.rpmPerVoltHistory.empty());
    rw::Setup turned = shop.garage.setup(*next.setup);
    turned.values["motor.timing_deg"].number = turned.values["motor.timing_deg"].number.value_or(0.0) + 7.0;
    next.setup = shop.garage.revise(turned, "more timing");
    EXPECT_TRUE(logJudging(shop.garage, next).review.rpmPerVoltHistory.empty());
    EXPECT_FALSE(logJudging(shop.garage, next).review.packHistory.empty());
}

TEST(Judging, eachSessionHasTheHistoryOfThePackThatItWasRunWith) {
    Shop shop;
    const Id usual = shop.garage.setup(shop.ids.setup).pack;
    const Id other = shop.garage.duplicate(usual, "another pack");
    static_cast<void>(shop.keepOn("2026-05-01", 1));
    LogContext context;
    context.setup = shop.ids.setup, context.venue = shop.ids.venue, context.packs = {other, usual};
    const ReviewOptions review = logJudging(shop.garage, context).review;
    ASSERT_EQ(review.sessionPackHistory.size(), 2u);
    EXPECT_TRUE(review.sessionPackHistory[0].empty());
    EXPECT_EQ(review.sessionPackHistory[1].size(), 2u);
}

TEST(Judging, anAgedPackIsFoundInTheSessionThatUsedIt) {
    Shop shop;
    const Id usual = shop.garage.setup(shop.ids.setup).pack;
    const Id other = shop.garage.duplicate(usual, "another pack");
    static_cast<void>(shop.keepOn("2026-05-01", 1));
    generate::Scenario day = generate::sampleDay("plain-day");
    day.sessions.resize(2, day.sessions.front());
    for (generate::SessionPlan& session : day.sessions)
        session.plan.pack.cell_resistance_ohm *= 1.5;
    const std::string text = generate::generateLog(day, 7).text;
    LogContext context;
    context.setup = shop.ids.setup, context.outing = shop.outingOn("2026-05-20"), context.packs = {other, usual};
    const JudgedLog judged = readAndJudge(text, "day.csv", logJudging(shop.garage, context));
    std::vector<std::optional<std::size_t>> aged;
    for (const Finding& finding : judged.review.findings)
        if (finding.id == "pack-ageing") aged.push_back(finding.session);
    EXPECT_EQ(aged, std::vector<std::optional<std::size_t>>{1});
}

TEST(Judging, whatTheOwnerSaidAndTheMeasuredSpeedAreKeptWithTheLog) {
    Shop shop;
    LogContext context;
    context.setup = shop.ids.setup;
    context.said = {{6}, 3.25, -0.125, 2, 20.0, {}};
    context.said.limits["motor.limit_C"].number = 70.125, context.said.limits["vehicle.driven"].text = "rear";
    GpsTrack track;
    track.file = "track.gpx", track.format = "GPX", track.rate_Hz = 10.0, track.dated = true, track.refused = 3;
    track.notes = {"invented"};
    for (int i = 0; i < 50; ++i)
        track.fixes.push_back(
            {1.7e9 + 0.1 * i, 50.0 + 1e-6 * i, 8.0 / 3.0, i % 2 == 0 ? 120.5 : std::nan(""), i / 7.0, i % 3 == 0});
    context.track = track;
    const Id log = shop.keep(dayText(5), context);
    EXPECT_TRUE(shop.garage.log(log).hasTrack);
    const LogContext found = logContext(shop.garage, log);
    EXPECT_EQ(found.said, context.said);
    ASSERT_TRUE(found.track);
    ASSERT_EQ(found.track->fixes.size(), track.fixes.size());
    for (std::size_t i = 0; i < track.fixes.size(); ++i) {
        const GpsFix &a = track.fixes[i], &b = found.track->fixes[i];
        EXPECT_EQ(std::tuple(a.time, a.latitude, a.longitude, a.speed, a.speedMeasured),
                  std::tuple(b.time, b.latitude, b.longitude, b.speed, b.speedMeasured));
        EXPECT_EQ(std::isnan(a.elevation), std::isnan(b.elevation));
    }
    const LogJudging judging = logJudging(shop.garage, log);
    EXPECT_EQ(judging.review.cells, std::vector<int>{6});
    EXPECT_EQ(judging.review.cutoffCell, 3.25);
    EXPECT_EQ(judging.review.trackNudge, -0.125);
    EXPECT_EQ(judging.import.rate_Hz, 20.0);
    EXPECT_EQ(shop.judgedAnew(log), shop.garage.logReview(log));
}

TEST(Judging, aMapOfTheGarageThatWasMadeForTheHeaderIsUsedAndNamed) {
    Shop shop;
    const std::string text = replaced(dayText(6), "pack current (A)", "thing (A)");
    const Log plain = importLog(text, "day.csv");
    ColumnMap map = columnMapFrom(plain.report);
    for (MappedColumn& column : map.columns)
        if (column.name.starts_with("thing")) column.quantity = Quantity::PackCurrent, column.unit = "A";
    Part part;
    part.id.kind = ItemKind::ColumnMap, part.name = "my logger", part.document = writeColumnMap(map);
    const Id id = shop.garage.add(part);
    LogContext context;
    context.setup = shop.ids.setup;
    const Id log = shop.keep(text, context);
    EXPECT_EQ(shop.garage.log(log).columnMap, id);
    EXPECT_TRUE(shop.garage.figures(shop.passesOf(log).front().id).contains("peak_A"));
    EXPECT_EQ(shop.judgedAnew(log), shop.garage.logReview(log));
}

// ISO 8601, as loggers with a clock of their own write it.
TEST(Judging, aLogWithDatesIsPlacedInTimeByThem) {
    Shop shop;
    std::string dated = "time,voltage (V),current (A),throttle (%)\n";
    for (int i = 0; i < 60; ++i)
        dated += "2026-02-28T23:59:" + std::to_string(10 + i / 2) + (i % 2 == 0 ? ".000" : ".500") + ",24.5,0.5,0\n";
    const Id log = shop.keep(dated, {});
    EXPECT_EQ(shop.garage.log(log).started, "2026-02-28T23:59:10");
    EXPECT_EQ(shop.garage.log(shop.keep(dayText(8), {})).started, "");
}

// The limits are those of the day: the set may change or go, the log is judged by what was kept with it.
TEST(Judging, aLogIsJudgedByTheOwnersLimitsAndThresholds) {
    Shop shop;
    Part set;
    set.id.kind = ItemKind::LimitSet, set.name = "careful";
    set.values["motor.limit_C"].number = 61.5, set.values["review.passSpan"].number = 7.0;
    set.id = shop.garage.add(set);
    LogContext context;
    context.setup = shop.ids.setup, context.venue = shop.ids.venue;
    const PlanInput plain = logJudging(shop.garage, context).review.plan.value();
    context.said.limits = ownLimits(shop.garage, set.id, "--limits");
    const ReviewOptions asked = logJudging(shop.garage, context).review;
    EXPECT_EQ(asked.plan->motor.limit_C, 61.5);
    EXPECT_EQ(asked.plan->pack.limit_C, plain.pack.limit_C) << "what the set leaves out stays";
    EXPECT_EQ(asked.thresholds.passSpan, 7.0);
    LogJudging byBench;
    judgeByPlan(shop.garage, context, plain, byBench);
    EXPECT_EQ(byBench.review.plan->motor.limit_C, 61.5);

    context.outing = shop.outingOn("2026-05-04");
    const Id log = shop.keep(dayText(4), context);
    shop.garage.remove(set.id);
    EXPECT_EQ(shop.judgedAnew(log), shop.garage.logReview(log));
    EXPECT_EQ(logJudging(shop.garage, log).review.plan->motor.limit_C, 61.5);
    EXPECT_EQ(logJudging(shop.garage, log).review.thresholds.passSpan, 7.0);

    context.said.limits[thresholdKey("noSuchThing")].number = 1.0;
    EXPECT_THROW(static_cast<void>(logJudging(shop.garage, context)), InputError);
    EXPECT_THROW(static_cast<void>(ownLimits(shop.garage, shop.ids.setup, "--limits")), InputError);
}

TEST(Judging, brokenWordsOfAKeptLogAreRefused) {
    for (const char* const broken : {"{", "{}", R"({"runwright":"log-judging","version":2})",
                                     R"({"runwright":"log-judging","version":1,"cells":[0]})",
                                     R"({"runwright":"log-judging","version":1,"limits":{"no.key":1}})",
                                     R"({"runwright":"log-judging","version":1,"pole_pairs":1.5})"})
        EXPECT_THROW(static_cast<void>(readLogSaid(broken)), InputError) << broken;
    for (const char* const broken : {"", R"({"runwright":"track","version":1})",
                                     R"({"runwright":"track","version":1,"speed_measured":[true],"time_s":[]})"})
        EXPECT_THROW(static_cast<void>(readTrack(broken)), InputError) << broken;
    EXPECT_EQ(readLogSaid(""), LogSaid{});
}

} // namespace rw::test
