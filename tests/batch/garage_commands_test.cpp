// The garage's actions as a person or a script runs them.
#include "tests/batch/run_program.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <chrono>
#include <fstream>
#include <future>
#include <set>

namespace rw::testing {

namespace {

using nlohmann::json;

std::string invented(const std::string& name) {
    return std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/logs/" + name + ".csv";
}

// The sample log with another comment on top: other bytes, the same passes.
std::string anotherDay(int number) {
    return "# day " + std::to_string(number) + "\n" + readFile(invented("plain-day"));
}

json listed(const std::string& garage, const std::string& kind) {
    return json::parse(runBatch({"garage", "list", garage, kind, "--json"}).out)["rows"];
}

} // namespace

TEST(GarageCommand, sixteenLogsAddedAtOnceToAFreshGarageAreAllKept) {
    const ScratchFolder folder;
    const std::string garage = folder.path("g.garage");
    ASSERT_EQ(runBatch({"garage", "create", garage}).status, 0);
    constexpr int programs = 16;
    std::vector<std::future<ProgramRun>> runs;
    for (int i = 0; i < programs; ++i) {
        const std::string log = folder.write("day-" + std::to_string(i) + ".csv", anotherDay(i));
        runs.push_back(std::async(std::launch::async, [garage, log] {
            return runBatch({"garage", "add-log", garage, log, "--json"});
        }));
    }
    std::set<std::string> ids;
    for (auto& run : runs) {
        const ProgramRun ended = run.get();
        EXPECT_EQ(ended.status, 0) << ended.err;
        EXPECT_EQ(ended.err, "");
        const json told = json::parse(ended.out, nullptr, false);
        ASSERT_FALSE(told.is_discarded()) << ended.out;
        EXPECT_FALSE(told["already_there"]);
        ids.insert(told["log"]);
    }
    EXPECT_EQ(ids.size(), static_cast<std::size_t>(programs));
    EXPECT_EQ(listed(garage, "logs").size(), static_cast<std::size_t>(programs));
    EXPECT_EQ(runBatch({"garage", "check", garage, "--full"}).status, 0);
}

// Moments from before its first line until after its last; where they fall in the work differs from run to run.
TEST(GarageCommand, killedAtAnyMomentItHasWhatItSaidItKept) {
    const ScratchFolder folder;
    const std::string garage = folder.path("g.garage");
    ASSERT_EQ(runBatch({"garage", "create", garage}).status, 0);
    const auto begun = std::chrono::steady_clock::now();
    ASSERT_EQ(runBatch({"garage", "add-log", garage, folder.write("day.csv", anotherDay(0))}).status, 0);
    const auto whole = std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - begun);
    std::set<std::string> kept;
    constexpr int times = 16;
    int killed = 0;
    for (int i = 0; i < times; ++i) {
        const std::string log = folder.write("day-" + std::to_string(i) + ".csv", anotherDay(i + 1));
        const ProgramRun run = runBatchKilled({"garage", "add-log", garage, log, "--json"}, whole * (2 * i + 1) / 24);
        killed += run.status == -1 ? 1 : 0;
        const json told = json::parse(run.out, nullptr, false);
        if (!told.is_discarded()) kept.insert(told["log"]);
        ASSERT_EQ(runBatch({"garage", "check", garage, "--full"}).status, 0) << "after kill " << i;
    }
    EXPECT_GT(killed, 0);
    std::set<std::string> there;
    for (const json& row : listed(garage, "logs"))
        there.insert(row["id"]);
    for (const std::string& id : kept)
        EXPECT_TRUE(there.contains(id)) << id << " was acknowledged and is gone";
    EXPECT_EQ(listed(garage, "passes").size() % there.size(), 0U)
        << "each log has all of its passes: they are the same day";
    EXPECT_TRUE(listed(garage, "outings").empty());
}

TEST(GarageCommand, aPlanHasTheOwnersLimitsWhereTheyAreNamed) {
    const ScratchFolder folder;
    const std::string garage = folder.path("g.garage");
    ASSERT_EQ(runBatch({"garage", "create", garage, "--sample"}).status, 0);
    const std::string limits = listed(garage, "limit-sets").at(0)["id"];
    const std::vector<std::string> asked{"garage", "plan-input", garage, "setup-2", "--venue", "venue-1"};
    const json plain = json::parse(runBatch(asked).out);
    auto with = asked;
    with.insert(with.end(), {"--limits", limits});
    const json own = json::parse(runBatch(with).out);
    const json set = json::parse(runBatch({"garage", "show", garage, limits, "--json"}).out);
    EXPECT_NE(plain["motor"]["limit_C"], own["motor"]["limit_C"]);
    EXPECT_EQ(own["motor"]["limit_C"], set["values"]["motor.limit_C"]["number"]) << set;
    EXPECT_EQ(plain["motor"]["kv_rpm_per_V"], own["motor"]["kv_rpm_per_V"]); // what the set leaves out stays
    with.back() = "motor-1";
    EXPECT_EQ(runBatch(with).status, 1);
}

// The set keeps the motor cooler than the day left it; a finding that the maker's limit does not make.
TEST(GarageCommand, aLogIsJudgedByTheOwnersLimitsAndKeepsThem) {
    const ScratchFolder folder;
    const std::string garage = folder.path("g.garage");
    ASSERT_EQ(runBatch({"garage", "create", garage, "--sample"}).status, 0);
    const auto judging = [&](const std::vector<std::string>& more) {
        std::vector<std::string> words{"garage",  "add-log", garage,  invented("hot-day"), "--setup", "setup-2",
                                       "--venue", "venue-1", "--json"};
        words.insert(words.end(), more.begin(), more.end());
        const ProgramRun added = runBatch(words);
        return added.status == 0 ? runBatch({"garage", "show", garage, json::parse(added.out)["log"], "--json"}).out
                                 : added.err;
    };
    const std::string own = judging({"--limits", "limits-1", "--threshold", "passSpan=7"});
    EXPECT_NE(own.find("motor.limit_C"), std::string::npos) << own;
    EXPECT_NE(own.find("review.passSpan"), std::string::npos) << own;
    EXPECT_NE(judging({"--threshold", "passSpan"}).find("NAME=VALUE"), std::string::npos);
    EXPECT_NE(judging({"--threshold", "noSuchThing=7"}).find("no threshold"), std::string::npos);
    EXPECT_NE(judging({"--limits", "motor-1"}).find("expected limits"), std::string::npos);
}

TEST(GarageCommand, anAutomaticBackupThatFailsIsToldAndTheLogIsKept) {
    const ScratchFolder folder;
    const std::string garage = folder.path("g.garage");
    ASSERT_EQ(runBatch({"garage", "create", garage}).status, 0);
    static_cast<void>(folder.write("g.garage.backups", "a file where the folder should be"));
    const ProgramRun added = runBatch({"garage", "add-log", garage, invented("plain-day")});
    EXPECT_EQ(added.status, 0);
    EXPECT_NE(added.err.find("backup"), std::string::npos) << added.err;
    EXPECT_EQ(listed(garage, "logs").size(), 1u);
}

} // namespace rw::testing
