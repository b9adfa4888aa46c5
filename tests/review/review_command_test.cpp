// commands.md `review`, run as a person or a script runs it.
#include "tests/batch/run_program.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <sstream>
#include <string>

namespace rw {
namespace {

using ::testing::HasSubstr;
using testing::runBatch;
using testing::ScratchFolder;
using Json = nlohmann::ordered_json;

std::string sample(const std::string& name) { return RUNWRIGHT_SOURCE_DIR "/samples/logs/" + name; }

TEST(ReviewCommand, tellsTheDaySessionBySession) {
    const auto run = runBatch({"review", sample("hot-day.csv")});
    EXPECT_EQ(run.status, 0);
    EXPECT_TRUE(run.err.empty()) << run.err;
    std::string words; // lines break where they are full: compare the words
    std::istringstream stream(run.out);
    for (std::string word; stream >> word;)
        words += word + ' ';
    for (const char* text :
         {"Session 1", "pass", "motor hot", "Try: ", "Not judged", "[comfort 80.0 °C, act 100.0 °C]"})
        EXPECT_THAT(words, HasSubstr(text));
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
