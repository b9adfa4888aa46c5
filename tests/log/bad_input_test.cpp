// Plausible and implausible rubbish: refused with one line, or read with the refused rows counted. Never a crash.
#include "core/error.h"
#include "core/log/gps.h"
#include "core/log/import.h"
#include "core/system/input_file.h"
#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <sys/stat.h>
#include <thread>
#include <unistd.h>

namespace {

using namespace rw::test;

class Folder {
public:
    Folder()
        : path_(std::filesystem::temp_directory_path() / ("runwright-test-" + std::to_string(::getpid()))) {
        std::filesystem::create_directory(path_);
    }
    ~Folder() { std::filesystem::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::string write(const std::string& name, const std::string& bytes) const {
        std::ofstream(file(name), std::ios::binary) << bytes;
        return file(name);
    }

private:
    std::filesystem::path path_;
};

void expectOneLine(const std::string& said, const std::string& words) {
    EXPECT_NE(said.find(words), std::string::npos) << said;
    EXPECT_EQ(said.find('\n'), std::string::npos) << said;
    EXPECT_LT(said.size(), 400U) << said;
}

std::string complaintOfFile(const std::string& path) {
    try {
        const rw::Log log = rw::importLogFile(path);
        ADD_FAILURE() << "was read, " << log.rows() << " rows";
    } catch (const rw::InputError& error) {
        return error.what();
    }
    return {};
}

std::string repeated(const std::string& text, std::size_t times) {
    std::string all;
    for (std::size_t i = 0; i < times; ++i)
        all += text;
    return all;
}

std::string columns(const std::string& first, int count) {
    std::string line = first;
    for (int i = 0; i < count; ++i)
        line += ",c" + std::to_string(i);
    return line + "\n";
}

std::string randomBytes() {
    std::mt19937 random(3);
    std::string bytes(50'000, ' ');
    for (char& c : bytes)
        c = static_cast<char>(1 + random() % 255);
    return bytes;
}

struct Refusal {
    std::string name, bytes, words;
};

TEST(BadInput, isRefusedInOneLine) {
    const std::vector<Refusal> table{
        {"empty", "", "is empty"},
        {"binary", randomBytes(), "log.csv"},
        {"NUL bytes only", std::string(1000, '\0'), "log.csv:1: begins with NUL bytes"},
        {"NUL bytes inside", plainLog() + std::string("2.0,\0", 5) + "16.8,1\n", "log.csv:22: holds a NUL byte"},
        {"header only", "time,voltage,current\n", "0 rows"},
        {"header without a line end", "time,voltage,current", "single line"},
        {"one row", "time,voltage,current\n1,2,3\n", "1 row"},
        {"blank lines", "\n\n\n\n", "no header"},
        {"ten-megabyte line", "time,voltage\n" + std::string(10'000'000, '1') + "\n1,2\n",
         "log.csv:2: is a line of over 1 MB"},
        {"ten-megabyte line without an end", std::string(10'000'000, 'a'), "log.csv:1: is a line of over 1 MB"},
        {"10,000 columns", columns("time,voltage", 10'000) + repeated("1,2\n", 9),
         "log.csv:1: has 10002 columns; at most 500"},
        {"10,000 unknown columns", columns("a,b", 10'000) + repeated("1,2\n", 9), "no header"},
        {"time that runs backwards",
         [] {
             std::string text = "time,voltage\n";
             for (int i = 100; i > 0; --i)
                 text += std::to_string(i / 10) + "." + std::to_string(i % 10) + ",16\n";
             return text;
         }(),
         "the time steps back by 0.1 s"},
        {"time that runs backwards in leaps",
         [] {
             std::string text = "time,voltage\n";
             for (int i = 100; i > 0; --i)
                 text += std::to_string(3 * i) + ",16\n";
             return text;
         }(),
         "steps back in time on 99 of its 100 rows"},
        {"hundred megabytes without a line end", "time,voltage\n" + std::string(100'000'000, ','),
         "log.csv:2: is a line of over 1 MB"},
        {"ten-megabyte line in UTF-16", "\xFF\xFE" + repeated(std::string("a\0", 2), 5'000'000),
         "log.csv:1: is a line of over 1 MB"},
        {"prose", repeated("The voltage was fine and the current too.\nNobody wrote it down.\n", 50), "no header"},
        {"header beyond 200 lines", repeated("# note\n", 201) + plainLog(), "no header"},
        {"mixed separators", "time,voltage,current\n" + repeated("1;2;3\n", 40) + repeated("1,2,3\n", 10),
         "fewer than half"},
    };
    for (const Refusal& row : table) {
        SCOPED_TRACE(row.name);
        expectOneLine(complaint(row.bytes), row.words);
    }
}

TEST(BadInput, isReadWhereItCanBeWithTheRestCounted) {
    // Cut off in the middle of a number, and in the middle of a character.
    EXPECT_EQ(read(plainLog() + "2.000,1").report.refusedCount, 1U);
    const rw::Log character = read(plainLog({.header = "time,motor temp [\xC2\xB0"
                                                       "C],current"}) +
                                   "2.000,16.8,\xC2");
    EXPECT_EQ(character.report.encoding, "UTF-8");
    EXPECT_EQ(character.report.refusedCount, 1U);
    // Some rows with another separator.
    const rw::Log mixed = read(plainLog() + "2.0;16.8;1\n2.1;16.8;1\n");
    EXPECT_EQ(mixed.rows(), 20U);
    EXPECT_EQ(mixed.report.refusedCount, 2U);
    // Every row twice: equal stamps, nothing refused.
    std::string twice = "time,voltage\n";
    for (int i = 0; i < 30; ++i)
        twice += repeated(std::to_string(i) + ",16\n", 2);
    EXPECT_EQ(read(twice).rows(), 60U);
    EXPECT_EQ(read(twice).report.refusedCount, 0U);
}

TEST(BadInput, foldersDevicesAndMissingFilesAreRefused) {
    const Folder folder;
    expectOneLine(complaintOfFile(folder.file("")), "is a folder");
    expectOneLine(complaintOfFile(folder.file("nothing.csv")), "cannot be opened");
    expectOneLine(complaintOfFile("/dev/zero"), "is a device");
    expectOneLine(complaintOfFile(folder.write("empty.csv", "")), "is empty");
    EXPECT_THROW((void)rw::readGpsFile(folder.file("")), rw::InputError);
    EXPECT_THROW((void)rw::readColumnMapFile(folder.file("")), rw::InputError);
}

TEST(BadInput, aPipeNobodyWritesToIsNotWaitedForAFullOneIsRead) {
    const Folder folder;
    const std::string path = folder.file("pipe");
    ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
    expectOneLine(complaintOfFile(path), "is a pipe");
    std::jthread writer([&] { std::ofstream(path) << plainLog({.rows = 20'000}); });
    EXPECT_EQ(rw::importLogFile(path).rows(), 20'000U);
}

TEST(BadInput, aGigabyteOfZerosIsRefusedWithoutTakingMemory) {
    const Folder folder;
    const std::string path = folder.write("zeros.csv", "");
    std::filesystem::resize_file(path, 1'000'000'000);
    expectOneLine(complaintOfFile(path), "begins with NUL bytes");
    // With a log in front it is an interrupted write.
    const std::string log = folder.write("cut.csv", plainLog());
    std::filesystem::resize_file(log, 1'000'000'000);
    EXPECT_EQ(rw::importLogFile(log).report.refusedCount, 1U);
    const std::string large = folder.write("large.csv", "");
    std::filesystem::resize_file(large, 2'100'000'000);
    expectOneLine(complaintOfFile(large), "larger");
    EXPECT_THROW((void)rw::readGpsFile(path), rw::InputError);
    EXPECT_THROW((void)rw::readColumnMapFile(path), rw::InputError);
}

// A parsed tree takes many times its text: refused by what it would take, before it is parsed.
TEST(BadInput, aTrackOfTooManyPointsIsRefused) {
    const std::string text = "<gpx><trk><trkseg>" + repeated("<a/>", 7'000'000) + "</trkseg></trk></gpx>";
    try {
        (void)rw::readGps(text, "track.gpx");
        ADD_FAILURE() << "was read";
    } catch (const rw::InputError& error) {
        expectOneLine(error.what(), "more GPX than is read at once");
    }
}

TEST(BadInput, manyHeadersOfOtherColumnsAreNoEndlessWork) {
    std::string text;
    for (int i = 0; i < 3000; ++i)
        text += (i % 2 == 0 ? "time,voltage\n" : "time,voltage,current\n") + std::to_string(i) + ",16,1\n";
    try {
        (void)read(text);
    } catch (const rw::InputError& error) {
        expectOneLine(error.what(), "log.csv");
    }
}

TEST(BadInput, aMappedFileReadsLikeItsBytes) {
    const Folder folder;
    const std::string text = plainLog({.rows = 30'000});
    const rw::Log mapped = rw::importLogFile(folder.write("log.csv", text));
    EXPECT_EQ(mapped.time, read(text).time);
}

} // namespace
