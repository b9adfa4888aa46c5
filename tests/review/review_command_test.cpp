// app/batch/README.md `review`, run as a person or a script runs it.
#include "tests/batch/run_program.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdio>
#include <sstream>
#include <string>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>
#include <vector>

namespace rw {
namespace {

using ::testing::HasSubstr;
using testing::runBatch;
using testing::ScratchFolder;
using Json = nlohmann::ordered_json;

std::string sample(const std::string& name) { return RUNWRIGHT_SOURCE_DIR "/samples/logs/" + name; }

std::string wordsOf(const std::string& text) { // lines break where they are full: compare the words
    std::string words;
    std::istringstream stream(text);
    for (std::string word; stream >> word;)
        words += word + ' ';
    return words;
}

TEST(ReviewCommand, tellsTheDaySessionBySession) {
    const auto run = runBatch({"review", sample("hot-day.csv")});
    EXPECT_EQ(run.status, 0);
    EXPECT_TRUE(run.err.empty()) << run.err;
    const std::string words = wordsOf(run.out);
    for (const char* text :
         {"Session 1", "pass", "motor hot", "Try: ", "Not judged", "[comfort 80.0 °C, act 100.0 °C]"})
        EXPECT_THAT(words, HasSubstr(text));
}

TEST(ReviewCommand, speedsAreToldInTheReadersUnit) {
    const std::string log = sample("decimal-commas.csv");
    EXPECT_THAT(runBatch({"review", log}).out, HasSubstr("peak m/s"));
    EXPECT_THAT(runBatch({"review", log, "--units", "kmh"}).out, HasSubstr("peak km/h"));
    EXPECT_THAT(runBatch({"review", log, "--units", "mph"}).out, HasSubstr("peak mph"));
    EXPECT_EQ(runBatch({"review", log, "--json", "--units", "kmh"}).out, runBatch({"review", log, "--json"}).out);
    EXPECT_EQ(runBatch({"review", log, "--units", "knots"}).status, 2);
}

TEST(ReviewCommand, thresholdsAreTheOwnersWhereTold) {
    const std::string log = sample("main-day.csv");
    const auto slow = HasSubstr("throttle opens slowly");
    EXPECT_THAT(runBatch({"review", log}).out, slow);
    const auto own = runBatch({"review", log, "--threshold", "throttleSlow=9"});
    EXPECT_EQ(own.status, 0);
    EXPECT_THAT(own.out, ::testing::Not(slow));
    EXPECT_THAT(runBatch({"review", "--thresholds"}).out, HasSubstr("an output that takes longer to rise"));
    for (const char* wrong : {"throttleSlow", "throttleSlow=", "throttleSlow=nan", "throttleSlow=1x", "noSuch=1"})
        EXPECT_EQ(runBatch({"review", log, "--threshold", wrong}).status, 1) << wrong;
}

TEST(ReviewCommand, saysWhatItCannotJudgeAndWhatItsFiguresAre) {
    const std::string words = wordsOf(runBatch({"review", sample("light-front.csv")}).out);
    EXPECT_THAT(words, HasSubstr("cannot judge whether "));
    EXPECT_THAT(words, HasSubstr("at the start > largest in the pass > largest after it"));
    EXPECT_THAT(words, HasSubstr("pack °C"));
    EXPECT_THAT(words, ::testing::Not(HasSubstr("null")));
}

// Twenty rows a second from 14:32:00 on; the throttle is open from 10 s until the log ends under way.
TEST(ReviewCommand, tellsTheTimeOfDayAndWhatCutAPass) {
    std::string text = "Time,Voltage (V),Current (A),Throttle (%),RPM\n";
    for (int i = 0; i <= 300; ++i) {
        const double t = i / 20.0, open = t < 10.0 ? 0.0 : std::min(1.0, (t - 10.0) / 0.5);
        char row[120];
        std::snprintf(row, sizeof row, "14:32:%06.3f,%.2f,%.1f,%.0f,%.0f\n", t, 16.7 - 1.2 * open, 0.4 + 80.0 * open,
                      100.0 * open, 30000.0 * open * std::min(1.0, (t - 9.5) / 3.0));
        text += row;
    }
    const ScratchFolder folder;
    const auto run = runBatch({"review", folder.write("clock.csv", text)});
    EXPECT_EQ(run.status, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("clock"));
    EXPECT_THAT(run.out, HasSubstr("14:32:10"));
    EXPECT_THAT(run.out, HasSubstr("cut by the end of the log"));
}

TEST(ReviewCommand, oneLogIsOneObjectSeveralAreAList) {
    const Json one = Json::parse(runBatch({"review", "--json", sample("plain-day.csv")}).out);
    EXPECT_EQ(one["passes"].size(), 4U);
    const auto several = runBatch({"review", "--json", sample("plain-day.csv"), sample("light-front.csv")});
    EXPECT_EQ(several.status, 0);
    EXPECT_EQ(Json::parse(several.out)["logs"].size(), 2U);
}

TEST(ReviewCommand, aRefusedLogIsMarkedAndTheOthersReviewed) {
    const ScratchFolder folder;
    const std::string bad = folder.write("bad.csv", "nothing\n");
    const auto alone = runBatch({"review", bad});
    EXPECT_EQ(alone.status, 1);
    EXPECT_TRUE(alone.out.empty());
    EXPECT_EQ(std::count(alone.err.begin(), alone.err.end(), '\n'), 1);
    const auto run = runBatch({"review", "--json", bad, sample("plain-day.csv")});
    EXPECT_EQ(run.status, 1);
    const Json json = Json::parse(run.out);
    EXPECT_TRUE(json["logs"][0].contains("error"));
    EXPECT_EQ(json["logs"][0].size(), 2U);
    EXPECT_EQ(json["logs"][1]["passes"].size(), 4U);
}

TEST(ReviewCommand, cellsAreOneNumberOrOneForEachSession) {
    const auto cells = [](const std::string& text) {
        return runBatch({"review", "--json", sample("plain-day.csv"), "--cells", text});
    };
    EXPECT_EQ(Json::parse(cells("6").out)["sessions"][1]["cells"], 6);
    EXPECT_EQ(Json::parse(cells("6,7").out)["sessions"][1]["cells"], 7);
    EXPECT_EQ(cells("3").status, 1);     // 8.4 V per cell
    EXPECT_EQ(cells("6,6,6").status, 1); // two sessions
    for (const char* wrong : {"0", "25", "6x", "", ",", "6,"})
        EXPECT_EQ(cells(wrong).status, 2) << wrong;
}

TEST(ReviewCommand, readsStandardInputOnce) {
    EXPECT_EQ(runBatch({"review", "-"}, testing::readFile(sample("plain-day.csv"))).status, 0);
    EXPECT_EQ(runBatch({"review", "-", "-"}).status, 2);
}

TEST(ReviewCommand, aWrongPlanMapOrTrackEndsIt) {
    const ScratchFolder folder;
    const std::string bad = folder.write("bad.json", "{");
    for (const char* option : {"--plan", "--map", "--gps"}) {
        const auto run = runBatch({"review", sample("plain-day.csv"), option, bad});
        EXPECT_EQ(run.status, 1) << option;
        EXPECT_TRUE(run.out.empty()) << option;
        EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1) << run.err;
    }
}

void expectRefused(const testing::ProgramRun& run, const std::string& words) {
    EXPECT_EQ(run.status, 1) << run.err;
    EXPECT_TRUE(run.out.empty());
    EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1) << run.err;
    EXPECT_THAT(run.err, HasSubstr(words));
    EXPECT_LT(run.err.size(), 400U) << run.err;
}

std::string repeated(const std::string& text, std::size_t times) {
    std::string all;
    for (std::size_t i = 0; i < times; ++i)
        all += text;
    return all;
}

std::string descending(double step) {
    std::string text = "time,voltage,current\n";
    for (int i = 100; i > 0; --i)
        text += std::to_string(step * i) + ",16,1\n";
    return text;
}

// Each of a log, a track and a column map: what it is and what is said of it.
struct BadInput {
    std::string name, bytes, log, track, map;
};

TEST(ReviewCommand, badInputEndsWithOneLineWhateverItIsGivenAs) {
    const std::string header = "time,voltage,current\n", columns = "time,voltage" + repeated(",x", 10'000) + "\n";
    const std::string neither = "neither GPX", noJson = "not valid JSON";
    const std::vector<BadInput> table{
        {"empty", "", "is empty", "is empty", noJson},
        {"binary", repeated(std::string("\x01\xFE\x00\x7F\n$<", 7), 20'000), "NUL byte", "usable fixes", noJson},
        {"NULs", std::string(100'000, '\0'), "NUL bytes", neither, noJson},
        {"header only", header, "0 rows", neither, noJson},
        {"one row", header + "0,16,1\n", "1 row", neither, noJson},
        {"ten-megabyte line", header + std::string(10'000'000, '7') + "\n", "line of over 1 MB", neither, "is larger"},
        {"cut within a number", header + "0,16,1\n1,16,1\n2,1", "2 rows", neither, noJson},
        {"cut within a character", header + "0,16,\xC2", "0 rows", neither, noJson},
        {"mixed separators", header + repeated("1;2;3\n", 40) + repeated("1,2,3\n", 10), "fewer than half", neither,
         noJson},
        {"10,000 columns", columns + repeated("1,2\n", 9), "10002 columns", neither, noJson},
        {"time backwards", descending(0.1), "steps back", neither, noJson},
        {"time backwards in leaps", descending(5.0), "steps back", neither, noJson},
        {"nothing but newlines", std::string(3'000'000, '\n'), "no header", "is empty", "is larger"},
        {"deep JSON", std::string(900'000, '['), "single line", neither, "bad"},
        {"deep XML", "<gpx>" + repeated("<trk>", 100'000), "single line", "not well-formed", noJson},
        {"too much XML", "<gpx>" + repeated("<a/>", 7'000'000), "line of over 1 MB", "more GPX", "is larger"},
        {"sentences of wrong sums", repeated("$GPRMC,1,A*00\r\n", 1000), "no header", "1000 refused", noJson},
    };
    const ScratchFolder folder;
    const std::string good = sample("plain-day.csv");
    for (const BadInput& bad : table) {
        SCOPED_TRACE(bad.name);
        const std::string file = folder.write("bad", bad.bytes);
        expectRefused(runBatch({"review", file}), bad.log);
        expectRefused(runBatch({"review", "-", "--json"}, bad.bytes), bad.log);
        expectRefused(runBatch({"review", good, "--gps", file}), bad.track);
        expectRefused(runBatch({"review", good, "--map", file}), bad.map);
    }
}

TEST(ReviewCommand, foldersDevicesPipesAndGigabytesEndWithOneLine) {
    const ScratchFolder folder;
    const std::string good = sample("plain-day.csv"), pipe = folder.path("pipe"), zeros = folder.write("zeros", "");
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    ASSERT_EQ(::truncate(zeros.c_str(), 1 << 30), 0); // sparse
    const std::vector<std::pair<std::string, std::string>> table{{folder.path(""), "is a folder"},
                                                                 {"/dev/zero", "is a device"},
                                                                 {folder.path("none"), "cannot be opened"},
                                                                 {pipe, "is a pipe"}};
    for (const auto& [file, words] : table) {
        SCOPED_TRACE(file);
        expectRefused(runBatch({"review", file}), words);
        expectRefused(runBatch({"review", good, "--gps", file}), words);
        expectRefused(runBatch({"review", good, "--map", file}), words);
    }
    expectRefused(runBatch({"review", zeros}), "NUL bytes");
    expectRefused(runBatch({"review", good, "--gps", zeros}), "is larger");
    expectRefused(runBatch({"review", good, "--map", zeros}), "is larger");
}

TEST(ReviewCommand, controlCharactersInNamesAreShownEscaped) {
    const ScratchFolder folder;
    std::string text = testing::readFile(sample("plain-day.csv"));
    text.replace(text.find("receiver voltage (V)"), 20, "odd\x1b[31m thing");
    const auto run = runBatch({"review", folder.write("a\x1b[2Jb.csv", text)});
    EXPECT_EQ(run.status, 0) << run.err;
    EXPECT_EQ(run.out.find('\x1b'), std::string::npos);
    EXPECT_THAT(run.out, HasSubstr("\\x1B[2Jb.csv"));
}

} // namespace
} // namespace rw
