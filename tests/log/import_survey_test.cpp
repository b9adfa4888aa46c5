// Texts that only lack a person's word on their columns: what the refusal carries, and that its map then reads them.
// Values that no such vehicle has.
#include "core/log/import_refusal.h"
#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <functional>

namespace {

using namespace rw::test;
using rw::ImportSurvey;
using rw::Quantity;

ImportSurvey survey(const std::string& text, const rw::ImportOptions& options = {}) {
    try {
        (void)rw::importLog(text, "log.csv", options);
    } catch (const rw::ImportRefusal& refusal) {
        return refusal.survey();
    }
    ADD_FAILURE() << "not refused for want of a map";
    return {};
}

// Thirty rows; time(row) writes the first cell.
std::string timeless(const std::string& header, const std::function<std::string(int)>& time) {
    std::string text = header + "\n";
    for (int row = 0; row < 30; ++row)
        text += time(row) + ";" + std::to_string(16 + row % 2) + ",5;" + std::to_string(row % 7) + ";" +
                std::to_string(10 * row * row) + "\n";
    return text;
}

struct Form {
    const char* name;
    std::function<std::string(int)> time;
};

TEST(ImportSurvey, marksTheColumnThatReadsLikeTime) {
    const Form forms[] = {
        {"milliseconds", [](int row) { return std::to_string(20 * row); }},
        {"jittering seconds", [](int row) { return "0," + std::to_string(1000 + 20 * row + row % 3); }},
        {"clock", [](int row) { return "12:00:" + std::to_string(10 + row); }},
        {"ISO 8601", [](int row) { return "2026-05-01T12:00:" + std::to_string(10 + row); }},
        {"equal stamps", [](int row) { return std::to_string(50 * (row / 2)); }},
    };
    for (const Form& form : forms) {
        const ImportSurvey found = survey(timeless("Uhr;Akkuspannung;Strom;Zaehler", form.time));
        ASSERT_TRUE(found.likelyTime) << form.name;
        EXPECT_EQ(*found.likelyTime, 0U) << form.name;
        EXPECT_EQ(found.report.columns.at(0).guess, Quantity::Time) << form.name;
        EXPECT_FALSE(found.report.columns[0].quantity) << form.name;
        EXPECT_EQ(found.report.columns[1].quantity, Quantity::PackVoltage) << form.name;
        ASSERT_EQ(found.firstCells.size(), 4U) << form.name;
        EXPECT_EQ(found.firstCells[0].at(1), form.time(1)) << form.name;
        EXPECT_EQ(found.report.separator, ";");
    }
}

TEST(ImportSurvey, itsColumnsMapTheSameText) {
    const std::string text =
        timeless("Uhr;Akkuspannung;Strom;Zaehler", [](int row) { return std::to_string(20 * row); });
    const ImportSurvey found = survey(text);
    rw::ImportOptions options;
    options.map = rw::columnMapFrom(found.report);
    EXPECT_TRUE(rw::mapFits(*options.map, found.report));
    options.map->columns.at(*found.likelyTime).quantity = Quantity::Time;
    const rw::Log log = read(text, options);
    EXPECT_EQ(log.rows(), 30U);
    EXPECT_DOUBLE_EQ(log.time[1], 0.02) << "milliseconds by their steps";
}

TEST(ImportSurvey, aCountOfRowsComesAfterStamps) {
    const ImportSurvey found =
        survey(timeless("Nr;Akkuspannung;Strom;Uhr", [](int row) { return std::to_string(row); }));
    EXPECT_EQ(found.likelyTime, 3U);
}

TEST(ImportSurvey, withoutAnythingThatRisesNothingIsMarked) {
    const ImportSurvey found = survey(timeless("Foo;Akkuspannung;Strom;Bar", [](int) { return std::string("7"); }));
    EXPECT_EQ(found.likelyTime, 3U) << "10, 40, 90 … rises, if not steadily";
    const ImportSurvey none = survey("Foo;Akkuspannung;Strom\n" + std::string("1;16;3\n0;17;4\n2;16;3\n1;15;2\n") +
                                     "0;16;3\n2;16;3\n1;16;3\n");
    EXPECT_FALSE(none.likelyTime);
}

TEST(ImportSurvey, aHeaderOfUnknownNamesIsShownToo) {
    const ImportSurvey found =
        survey("# a logger\n" + timeless("Uhr;Eins;Zwei;Drei", [](int row) { return std::to_string(20 * row); }));
    EXPECT_EQ(found.report.headerLine, 2U);
    EXPECT_EQ(found.likelyTime, 0U);
    EXPECT_EQ(found.report.columns.size(), 4U);
}

TEST(ImportSurvey, numbersWithoutAHeaderAreRefusedAsBefore) {
    const std::string text = "1;2;3\n4;5;6\n7;8;9\n1;2;3\n4;5;6\n7;8;9\n";
    EXPECT_NE(complaint(text).find("no header"), std::string::npos);
    EXPECT_THROW(
        {
            try {
                (void)rw::importLog(text, "log.csv");
            } catch (const rw::ImportRefusal&) {
                ADD_FAILURE() << "there is nothing to map";
                throw;
            }
        },
        rw::InputError);
}

TEST(ImportSurvey, theComplaintNamesTheColumnAndNoOption) {
    const std::string said =
        complaint(timeless("Uhr;Akkuspannung;Strom;Zaehler", [](int row) { return std::to_string(20 * row); }));
    EXPECT_NE(said.find("\"Uhr\" reads like one"), std::string::npos) << said;
    EXPECT_EQ(said.find("--"), std::string::npos) << "words of the command line: " << said;
}

// One load, then rest; the second column is what the case is about.
rw::Log withLargest(const std::string& heading, double largest) {
    std::string text = "time [s];" + heading + ";throttle [%]\n";
    for (int row = 0; row < 400; ++row) {
        const double share = row > 100 && row < 300 ? 1.0 : 0.0;
        char line[64];
        std::snprintf(line, sizeof line, "%.2f;%.2f;%.0f\n", 0.05 * row, 0.1 * largest + 0.9 * largest * share,
                      100.0 * share);
        text += line;
    }
    return read(text);
}

TEST(Implausible, isSaidWithTheLikelyFactor) {
    const struct {
        const char* heading;
        double largest;
        const char *said, *likely;
        double factor;
    } table[] = {{"Strom [A]", 2150.0, "2150 A is implausible", "makes 215 A", 0.1},
                 {"Voltage [V]", 25200.0, "25200 V is implausible", "makes 25.2 V", 0.001},
                 {"Voltage [V]", 2520.0, "2520 V is implausible", "makes 25.2 V", 0.01},
                 {"Voltage [V]", 252.0, "252 V is implausible", "makes 25.2 V", 0.1},
                 {"Receiver voltage [V]", 6000.0, "6000 V is implausible", "makes 6 V", 0.001},
                 {"Motor temp [°C]", 552.0, "552 °C is implausible", "makes 55.2 °C", 0.1}};
    for (const auto& row : table) {
        const rw::Log log = withLargest(row.heading, row.largest);
        const rw::ImportColumn& column = log.report.columns.at(1);
        EXPECT_NE(column.doubt.find(row.said), std::string::npos) << column.doubt;
        EXPECT_NE(column.doubt.find(row.likely), std::string::npos) << column.doubt;
        ASSERT_TRUE(column.likelyFactor) << row.heading;
        EXPECT_DOUBLE_EQ(*column.likelyFactor, row.factor) << row.heading;
        EXPECT_TRUE(notesHold(log, row.said)) << row.heading;
    }
}

TEST(Implausible, thePeakIsToldAsTablesShowIt) {
    std::string text = "time [s];current\n";
    for (int row = 0; row < 2000; ++row)
        text += std::to_string(row) + ";" +
                std::to_string(row == 1000   ? 2150
                               : row == 1001 ? 9999
                                             : 5 + row % 1900) +
                "\n";
    const rw::Log log = read(text);
    EXPECT_TRUE(log.report.columns.at(1).doubt.starts_with("2150 A is implausible")) << log.report.columns[1].doubt;
}

TEST(Implausible, whatACarHasIsNotDoubted) {
    const std::pair<const char*, double> table[] = {{"Strom [A]", 850.0},
                                                    {"Voltage [V]", 67.2},
                                                    {"Motor RPM", 98000.0},
                                                    {"Motor temp [°C]", 130.0},
                                                    {"Speed [km/h]", 340.0}};
    for (const auto& [heading, largest] : table)
        EXPECT_EQ(withLargest(heading, largest).report.columns.at(1).doubt, "") << heading;
}

TEST(Implausible, kelvinIsToldApart) {
    std::string text = "time [s];Motor temp;voltage\n";
    for (int row = 0; row < 50; ++row)
        text += std::to_string(row) + ";" + std::to_string(295 + row) + ";16,8\n";
    const rw::Log log = read(text);
    EXPECT_NE(log.report.columns.at(1).doubt.find("kelvin"), std::string::npos) << log.report.columns.at(1).doubt;
}

TEST(Implausible, hundredsOfTurnsAreToldApart) {
    std::string text = "time [s];RPM;current\n";
    for (int row = 0; row < 400; ++row)
        text += std::to_string(row) + ";" + (row > 100 && row < 300 ? "425;90" : "0;0") + "\n";
    const rw::Log log = read(text);
    EXPECT_NE(log.report.columns.at(1).doubt.find("makes 42500 rpm"), std::string::npos)
        << log.report.columns.at(1).doubt;
}

} // namespace
