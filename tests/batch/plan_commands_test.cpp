// The plan-type commands as scripts use them: keys, exit statuses, agreement between commands, traces.
#include "core/plan/plan_fields.h"
#include "tests/batch/run_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <sstream>

namespace rw::testing {

namespace {

using Json = nlohmann::json;
using ::testing::ElementsAreArray;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::UnorderedElementsAreArray;

const std::string light = RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_light_two_wheel_drive.json";
const std::string heavy = RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_heavy_all_wheel_drive.json";
const std::string streamliner = RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_streamliner.json";

Json jsonOf(const std::vector<std::string>& arguments, const std::string& standardInput = {}) {
    const ProgramRun run = runBatch(arguments, standardInput);
    EXPECT_EQ(run.status, 0) << run.err;
    EXPECT_EQ(run.err, "");
    EXPECT_THAT(run.out, Not(HasSubstr("nan")));
    return Json::parse(run.out);
}

std::vector<std::string> keysOf(const Json& object) {
    std::vector<std::string> keys;
    for (const auto& item : object.items())
        keys.push_back(item.key());
    return keys;
}

TEST(PlanCommand, ResultHasExactlyTheAgreedKeys) {
    const Json result = jsonOf({"plan", heavy, "--json"});
    EXPECT_THAT(keysOf(result),
                UnorderedElementsAreArray({"air_density_kgpm3", "density_altitude_m", "overall_ratio", "rollout_m",
                                           "steady_top_speed_mps", "lift_off_speed_mps", "passes", "reverse",
                                           "both_ways_mean_mps", "margins", "passes_until_limit", "shortest_wait_s"}));
    ASSERT_EQ(result["passes"].size(), 2U);
    EXPECT_THAT(keysOf(result["passes"][0]), UnorderedElementsAreArray({"completed",
                                                                        "zone_mean_mps",
                                                                        "peak_speed_mps",
                                                                        "peak_speed_at_m",
                                                                        "time_to_target_s",
                                                                        "distance_to_target_m",
                                                                        "zone_entry_s",
                                                                        "zone_exit_s",
                                                                        "min_pack_V",
                                                                        "min_cell_V",
                                                                        "peak_pack_A",
                                                                        "peak_motor_A",
                                                                        "peak_electrical_W",
                                                                        "peak_shaft_W",
                                                                        "peak_motor_rpm",
                                                                        "peak_electrical_rpm",
                                                                        "peak_wheel_radps",
                                                                        "charge_used_Ah",
                                                                        "energy_used_Wh",
                                                                        "winding_exit_C",
                                                                        "case_exit_C",
                                                                        "case_soak_peak_C",
                                                                        "case_soak_peak_after_s",
                                                                        "winding_peak_C",
                                                                        "controller_peak_C",
                                                                        "pack_peak_C",
                                                                        "ripple_estimate_V",
                                                                        "min_front_load_ratio",
                                                                        "bound_s",
                                                                        "braking_m",
                                                                        "stop_at_m",
                                                                        "end_charge"}));
    EXPECT_THAT(keysOf(result["passes"][0]["bound_s"]),
                UnorderedElementsAreArray({"motor_current", "pack_current", "traction", "cutoff"}));
    EXPECT_THAT(keysOf(result["reverse"]), UnorderedElementsAreArray({"zone_mean_mps", "peak_speed_mps", "stop_at_m"}));
    EXPECT_THAT(keysOf(result["margins"][0]), UnorderedElementsAreArray({"limit", "value", "allowed", "margin"}));
}

TEST(PlanCommand, BothWaysMeanIsTheMeanOfTheTwoZoneSpeeds) {
    const Json result = jsonOf({"plan", heavy, "--json"});
    const double there = result["passes"][0]["zone_mean_mps"], back = result["reverse"]["zone_mean_mps"];
    EXPECT_NEAR(result["both_ways_mean_mps"].get<double>(), 0.5 * (there + back), 1e-12);
}

TEST(PlanCommand, ExampleIsCompleteAndRuns) {
    const ProgramRun example = runBatch({"plan", "--example"});
    ASSERT_EQ(example.status, 0);
    const Json plan = Json::parse(example.out);
    for (const PlanField& field : planFields()) {
        std::string pointer = "/" + field.key();
        std::replace(pointer.begin(), pointer.end(), '.', '/');
        if (field.key() != "air.pressure_Pa") {
            EXPECT_TRUE(plan.contains(Json::json_pointer(pointer))) << pointer;
        }
    }
    const Json result = jsonOf({"plan", "-", "--json"}, example.out);
    EXPECT_TRUE(result["passes"][0]["completed"]);
    EXPECT_EQ(result, jsonOf({"plan", light, "--json"}));
}

TEST(PlanCommand, HelpShowsAnExample) {
    const ProgramRun help = runBatch({"plan", "--help"});
    EXPECT_EQ(help.status, 0);
    EXPECT_THAT(help.out, HasSubstr("runwright-batch plan --example"));
}

TEST(PlanCommand, SeveralFilesComeTogether) {
    const Json both = jsonOf({"plan", light, heavy, "--json"});
    ASSERT_EQ(both["plans"].size(), 2U);
    EXPECT_EQ(both["plans"][1]["file"], heavy);
    EXPECT_EQ(both["plans"][1]["rollout_m"], jsonOf({"plan", heavy, "--json"})["rollout_m"]);
    const ProgramRun text = runBatch({"plan", light, heavy, streamliner});
    EXPECT_EQ(text.status, 0);
    EXPECT_THAT(text.out, HasSubstr(streamliner));
}

TEST(PlanCommand, TextNamesBrokenLimitsWithCautionsAndNoEscapeCodes) {
    const ProgramRun run = runBatch({"plan", heavy}, "", {"TERM=xterm"});
    EXPECT_EQ(run.status, 0);
    EXPECT_THAT(run.out, HasSubstr("Broken: Pack current, "));
    EXPECT_THAT(run.out, HasSubstr("Local law"));
    EXPECT_THAT(run.out, Not(HasSubstr("\x1B")));
}

TEST(PlanCommand, TraceHasTheAgreedColumnsAndMeetsTheFigures) {
    const ScratchFolder folder;
    const std::string file = folder.path("trace.csv");
    const Json result = jsonOf({"plan", heavy, "--json", "--trace", file});
    const Json& pass = result["passes"][0];
    std::istringstream lines(readFile(file));
    std::string line;
    ASSERT_TRUE(std::getline(lines, line));
    EXPECT_EQ(line,
              "time_s,distance_m,speed_mps,throttle,duty,pack_V,pack_A,motor_A,motor_rpm,wheel_radps,winding_C,case_C,"
              "controller_C,pack_C,front_load_N,rear_load_N,limit");
    double lastTime = 0.0, lastDistance = 0.0, fastest = 0.0, mostCurrent = 0.0;
    std::size_t rows = 0;
    while (std::getline(lines, line)) {
        std::vector<std::string> cells;
        std::istringstream row(line);
        for (std::string cell; std::getline(row, cell, ',');)
            cells.push_back(cell);
        ASSERT_EQ(cells.size(), 17U);
        const double time = std::stod(cells[0]);
        EXPECT_GE(time, lastTime);
        EXPECT_LE(time - lastTime, 0.01 + 1e-9);
        lastTime = time, lastDistance = std::stod(cells[1]);
        fastest = std::max(fastest, std::stod(cells[2]));
        mostCurrent = std::max(mostCurrent, std::stod(cells[6]));
        EXPECT_THAT(cells[16], ::testing::AnyOf("none", "motor_current", "pack_current", "traction", "cutoff"));
        ++rows;
    }
    EXPECT_GT(rows, 100.0 * lastTime);
    EXPECT_NEAR(lastDistance, pass["stop_at_m"].get<double>(), 1e-6);
    EXPECT_NEAR(fastest, pass["peak_speed_mps"].get<double>(), 1e-6);
    EXPECT_NEAR(mostCurrent, pass["peak_pack_A"].get<double>(), 1e-6 * mostCurrent);
}

TEST(PlanCommand, TraceThatCannotBeWrittenIsRefusedAndLeavesNothing) {
    const ScratchFolder folder;
    const ProgramRun run = runBatch({"plan", heavy, "--trace", folder.path("no/such/trace.csv")});
    EXPECT_EQ(run.status, 1);
    EXPECT_EQ(run.out, "");
    EXPECT_THAT(run.err, HasSubstr("cannot be written"));
    EXPECT_EQ(runBatch({"plan", heavy, "--trace", "/dev/full"}).status, 1);
}

TEST(Usage, WrongUsageIsStatusTwo) {
    const std::vector<std::vector<std::string>> wrong{
        {},
        {"fly"},
        {"plan"},
        {"plan", heavy, "--trace"},
        {"plan", heavy, light, "--trace", "x.csv"},
        {"plan", heavy, "--loud"},
        {"gears"},
        {"gears", heavy, "--rank", "prettiest"},
        {"reach", heavy},
        {"reach", heavy, "--target", "fast"},
        {"reach", heavy, "--target", "0"},
        {"reach", heavy, "--target", "-3"},
        {"reach", heavy, "--target", "nan"},
        {"reach", heavy, "--target", "inf"},
        {"spread", heavy, "--runs", "0"},
        {"spread", heavy, "--runs", "many"},
        {"spread", heavy, "--runs", "10", "--seed", "-1"},
    };
    for (const auto& arguments : wrong) {
        const ProgramRun run = runBatch(arguments);
        EXPECT_EQ(run.status, 2) << ::testing::PrintToString(arguments);
        EXPECT_EQ(run.out, "") << ::testing::PrintToString(arguments);
        EXPECT_NE(run.err, "");
    }
}

TEST(Usage, AWordThatIsNoneOfTheChoicesGetsThemNamed) {
    const auto complaint = [](const std::vector<std::string>& arguments) {
        const ProgramRun run = runBatch(arguments);
        EXPECT_EQ(run.status, 2) << ::testing::PrintToString(arguments);
        return run.err.substr(0, run.err.find('\n'));
    };
    EXPECT_EQ(complaint({"gears", heavy, "--rank", "prettiest"}),
              "--rank: expected fastest, least-current or shortest, found prettiest");
    EXPECT_THAT(complaint({"gears", heavy, "--rank", "1"}), HasSubstr("found 1"));
    EXPECT_EQ(complaint({"review", "day.csv", "--units", "furlongs"}),
              "--units: expected kmh, mph or mps, found furlongs");
    EXPECT_EQ(complaint({"choose", "a.garage", "--setup", "setup-1", "--venue", "venue-1", "--rank", "best"}),
              "--rank: expected chance, fastest, least-current or margin, found best");
}

TEST(Usage, VersionAndHelp) {
    const ProgramRun version = runBatch({"--version"});
    EXPECT_EQ(version.status, 0);
    EXPECT_THAT(version.out, ::testing::MatchesRegex("runwright-batch [0-9.]+\n"));
    EXPECT_EQ(runBatch({"--help"}).status, 0);
}

TEST(GearsCommand, RowsHaveTheAgreedKeysAndAgreeWithThePlan) {
    const Json table = jsonOf({"gears", heavy, "--json"});
    EXPECT_THAT(keysOf(table), UnorderedElementsAreArray({"rows", "efficient"}));
    bool seen = false;
    const Json plan = jsonOf({"plan", heavy, "--json"});
    for (const Json& row : table["rows"]) {
        EXPECT_THAT(keysOf(row), UnorderedElementsAreArray({"pinion", "spur", "overall_ratio", "zone_mean_mps",
                                                            "peak_speed_mps", "peak_pack_A", "case_soak_peak_C",
                                                            "stop_at_m", "tightest", "within_limits"}));
        EXPECT_THAT(keysOf(row["tightest"]), UnorderedElementsAreArray({"limit", "margin"}));
        if (row["pinion"] != 32 || row["spur"] != 46) continue;
        seen = true;
        for (const char* key : {"zone_mean_mps", "peak_speed_mps", "peak_pack_A", "case_soak_peak_C", "stop_at_m"})
            // A row is sketched: to a millionth of the plan's own figure.
            EXPECT_NEAR(row[key].get<double>(), plan["passes"][0][key].get<double>(),
                        1e-6 * plan["passes"][0][key].get<double>())
                << key;
        EXPECT_EQ(row["overall_ratio"], plan["overall_ratio"]);
    }
    EXPECT_TRUE(seen);
}

TEST(ReachCommand, HasTheAgreedKeys) {
    const Json reach = jsonOf({"reach", heavy, "--target", "50", "--json"});
    EXPECT_THAT(keysOf(reach), UnorderedElementsAreArray({"gearing", "cells", "drag_area"}));
    EXPECT_THAT(keysOf(reach["gearing"]),
                UnorderedElementsAreArray({"reachable", "values", "zone_mean_mps", "binding", "nearest_pair"}));
    EXPECT_THAT(keysOf(reach["gearing"]["nearest_pair"]),
                UnorderedElementsAreArray({"pinion", "spur", "overall_ratio", "zone_mean_mps"}));
    EXPECT_THAT(keysOf(reach["cells"]), UnorderedElementsAreArray({"reachable", "values", "zone_mean_mps", "binding"}));
    EXPECT_THAT(keysOf(reach["drag_area"]),
                UnorderedElementsAreArray({"reachable", "values", "zone_mean_mps", "binding"}));
    EXPECT_TRUE(reach["gearing"]["binding"].is_null());
    const Json beyond = jsonOf({"reach", heavy, "--target", "200", "--json"});
    for (const char* part : {"gearing", "cells", "drag_area"}) {
        EXPECT_FALSE(beyond[part]["reachable"]);
        EXPECT_TRUE(beyond[part]["binding"].is_string());
    }
    EXPECT_TRUE(beyond["gearing"]["values"].is_null());
}

TEST(SpreadCommand, HasTheAgreedKeysAndRepeats) {
    const std::vector<std::string> arguments{"spread", heavy, "--runs", "60", "--seed", "9", "--json"};
    const Json spread = jsonOf(arguments);
    EXPECT_THAT(keysOf(spread),
                ::testing::IsSupersetOf({"runs", "seed", "target_probability", "limits", "figures", "drivers"}));
    EXPECT_THAT(keysOf(spread["limits"][0]), UnorderedElementsAreArray({"limit", "probability_broken"}));
    EXPECT_THAT(keysOf(spread["figures"]["zone_mean_mps"]),
                ::testing::IsSupersetOf({"mean", "sd", "p05", "p50", "p95"}));
    EXPECT_THAT(keysOf(spread["drivers"][0]), UnorderedElementsAreArray({"key", "share_of_variance"}));
    EXPECT_EQ(runBatch(arguments).out, runBatch(arguments).out);
    EXPECT_NE(spread["figures"], jsonOf({"spread", heavy, "--runs", "60", "--seed", "10", "--json"})["figures"]);
}

TEST(Locale, NumbersStayTheSameEverywhere) {
    const ProgramRun plain = runBatch({"plan", heavy, "--json"});
    const ProgramRun comma = runBatch({"plan", heavy, "--json"}, "", {"LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8"});
    EXPECT_EQ(plain.out, comma.out);
}

TEST(StandardOutput, AFullDiskIsNotSilence) {
    // Written by the shell to a device that is always full.
    const std::string command =
        std::string("\"") + RUNWRIGHT_BATCH_PATH + "\" plan \"" + heavy + "\" > /dev/full 2> /dev/null";
    const int status = std::system(command.c_str());
    EXPECT_NE(status, 0);
}

} // namespace

} // namespace rw::testing
