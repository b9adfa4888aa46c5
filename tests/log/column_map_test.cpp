#include "core/log/column_map.h"

#include "core/error.h"
#include "tests/log/log_text.h"

#include <gtest/gtest.h>

#include <numbers>

namespace {

using namespace rw::test;
using rw::ColumnMap;
using rw::Quantity;

ColumnMap fullMap() {
    ColumnMap map;
    map.columns = {{"Temp 1", Quantity::MotorTemperature, "°C"},
                   {"Spare \"2\"", std::nullopt, ""},
                   {"Strom", Quantity::PackCurrent, "A", 0.1},
                   {"t", Quantity::Time, "ms"}};
    map.header = {"t", "Temp 1", "Spare \"2\""};
    map.text.encoding = rw::TextEncoding::Latin1;
    map.text.separator = '\t';
    map.text.decimal = ',';
    map.text.timeForm = rw::TimeForm::Milliseconds;
    map.rate_Hz = 33.3;
    map.polePairs = 2;
    return map;
}

TEST(ColumnMap, whatIsWrittenReadsBack) {
    EXPECT_EQ(rw::readColumnMap(rw::writeColumnMap(fullMap()), "map.json"), fullMap());
    EXPECT_EQ(rw::readColumnMap(rw::writeColumnMap({}), "map.json"), ColumnMap());
}

TEST(ColumnMap, badMapsGetOneClearSentence) {
    const std::string head = R"({"runwright": "column-map", "version": 1, )";
    const std::vector<std::pair<std::string, std::string>> bad{
        {"", "map.json:1:1: not valid JSON"},
        {"{\n\"runwright\": ", "map.json:2:"},
        {"[]", "map.json:1:1: is not a column map"},
        {"{}", "map.json:1:1: is not a column map"},
        {R"({"runwright": "plan", "version": 1})", "map.json:1:1: is not a column map"},
        {R"({"runwright": "column-map", "version": 2, "columns": {}})", "map.json:1:40: version: must be 1"},
        {R"({"runwright": "column-map", "version": 1})", "map.json:1:1: columns: is missing"},
        {head + R"("columns": []})", "columns: must be an object"},
        {head + R"("columns": {"a": {}}})", "columns.a.quantity: is missing"},
        {head + R"("columns": {"a": {"quantity": "volts"}}})",
         "columns.a.quantity: is no known quantity; time, pack_voltage"},
        {head + R"("columns": {"a": {"quantity": "time", "unit": "parsec"}}})",
         "columns.a.unit: is no unit that is known"},
        {head + R"("columns": {"a": {"quantity": "time", "factor": 0}}})", "columns.a.factor: must be a number over 0"},
        {head + R"("columns": {"a": {"quantity": "time", "factor": "ten"}}})", "columns.a.factor: must be"},
        {head + R"("columns": {"a": {"quantity": "time", "units": "s"}}})", "columns.a.units: is not a key"},
        {head + R"("columns": {"a": {"quantity": "time"}, "b": {"quantity": "time"}}})",
         "columns.b: names a quantity that another"},
        {head + R"("columns": {}, "columns": {}})", "key \"columns\" stands twice"},
        {head + R"("columns": {}, "seperator": ","})", "seperator: is not a key of a column map"},
        {head + R"("columns": {}, "separator": "|"})", "separator: must be"},
        {head + R"("columns": {}, "decimal": ";"})", "decimal: must be"},
        {head + R"("columns": {}, "encoding": "EBCDIC"})", "encoding: must be one of \"UTF-8\""},
        {head + R"("columns": {}, "time_form": "fortnights"})", "time_form: must be one of \"seconds\""},
        {head + R"("columns": {}, "rate_Hz": 0})", "rate_Hz: must be a number over 0"},
        {head + R"("columns": {}, "rate_Hz": 1e999})", "map.json"},
        {head + R"("columns": {}, "pole_pairs": 1.5})", "pole_pairs: must be a whole number"},
        {head + R"("columns": {"a": {"quantity": [[0]]}}})", "columns.a.quantity: must be a text in quotes"},
        {head + R"("columns": )" + std::string(200, '['), "nested deeper"},
    };
    for (const auto& [text, words] : bad) {
        try {
            (void)rw::readColumnMap(text, "map.json");
            ADD_FAILURE() << text;
        } catch (const rw::InputError& error) {
            const std::string said = error.what();
            EXPECT_NE(said.find(words), std::string::npos) << said << "\nwanted: " << words;
            EXPECT_EQ(said.find('\n'), std::string::npos) << said;
        }
    }
}

TEST(ColumnMap, decidesColumnsAndUnits) {
    rw::ImportOptions options;
    options.map = rw::readColumnMap(R"({"runwright": "column-map", "version": 1, "columns": {
        "temp 1": {"quantity": "motor_temperature", "unit": "°F"}, "current": {"quantity": null}}})",
                                    "map.json");
    const rw::Log log = read(plainLog({.header = "time,Temp 1,current"}), options);
    EXPECT_EQ(column(log, "Temp 1").quantity, Quantity::MotorTemperature);
    EXPECT_EQ(column(log, "Temp 1").confidence, 1.0);
    // NIST SP 811 (2008), appendix B.8: K = (°F + 459.67) / 1.8.
    EXPECT_NEAR(log[Quantity::MotorTemperature].values[0], (16.8 + 459.67) / 1.8, 1e-9);
    EXPECT_FALSE(log[Quantity::PackCurrent].present());
    EXPECT_FALSE(column(log, "current").guess);
}

// 2150 tenths of an ampere are 215 A, however it is said.
TEST(ColumnMap, takesAFactorInEverySpelling) {
    for (const char* how :
         {R"("unit": "dA")", R"("unit": "0.1 A")", R"("unit": "A", "factor": 0.1)", R"("factor": 0.1)"}) {
        rw::ImportOptions options;
        options.map = rw::readColumnMap(std::string(R"({"runwright": "column-map", "version": 1, "columns": {
            "Strom": {"quantity": "pack_current", )") +
                                            how + "}}}",
                                        "map.json");
        const rw::Log log = read(plainLog({.header = "time,voltage,Strom"}), options);
        const rw::Log plain = read(plainLog({.header = "time,voltage,Strom"}));
        EXPECT_DOUBLE_EQ(log[Quantity::PackCurrent].values[3], plain[Quantity::PackCurrent].values[3] / 10.0) << how;
        // The report says the unit in a way that a map can keep.
        options.map = rw::columnMapFrom(log.report);
        EXPECT_EQ(read(plainLog({.header = "time,voltage,Strom"}), options)[Quantity::PackCurrent].values,
                  log[Quantity::PackCurrent].values)
            << how << ": " << column(log, "Strom").unit;
    }
}

TEST(ColumnMap, namesCountAsAHeader) {
    const std::string text = plainLog({.header = "a1,b2,c3"});
    EXPECT_NE(complaint(text).find("no header"), std::string::npos);
    rw::ImportOptions options;
    options.map = ColumnMap{{{"a1", Quantity::Time, "s"}, {"b2", Quantity::PackVoltage, "V"}}, {}, {}, {}, {}};
    EXPECT_EQ(read(text, options).rows(), 20U);
}

TEST(ColumnMap, isOfferedForTheSameHeaderOnly) {
    const rw::Log log = read(plainLog());
    const ColumnMap map = rw::columnMapFrom(log.report);
    EXPECT_TRUE(rw::mapFits(map, log.report));
    EXPECT_FALSE(rw::mapFits(map, read(plainLog({.header = "time,current,voltage"})).report));
    rw::ImportOptions options;
    options.map = map;
    EXPECT_EQ(read(plainLog(), options)[Quantity::PackVoltage].values, log[Quantity::PackVoltage].values);
}

TEST(ColumnMap, carriesRatePolePairsAndTextButOptionsWin) {
    rw::ImportOptions options;
    options.map = ColumnMap{{}, {}, {}, 50.0, 2};
    const std::string text = plainLog({.header = "time,voltage,erpm"});
    EXPECT_DOUBLE_EQ(read(text, options).time[1], 0.02);
    // 9 electrical rpm at two pole pairs: 4.5 rpm.
    EXPECT_NEAR(read(text, options)[Quantity::MotorSpeed].values[2], 4.5 * 2.0 * std::numbers::pi / 60.0, 1e-12);
    options.rate_Hz = 10.0;
    options.polePairs = 1;
    EXPECT_DOUBLE_EQ(read(text, options).time[1], 0.1);
    EXPECT_NEAR(read(text, options)[Quantity::MotorSpeed].values[2], 9.0 * 2.0 * std::numbers::pi / 60.0, 1e-12);
}

} // namespace
