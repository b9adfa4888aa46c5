// Names as loggers and people write them. What is right is the trade's use of the words (common practice).
#include "core/log/column_match.h"

#include "core/log/quantity.h"

#include <gtest/gtest.h>

#include <numbers>

namespace {

using rw::Quantity;

rw::HeaderMeaning match(const std::vector<std::string>& names, const std::vector<std::string>& units = {}) {
    return rw::matchHeader(names, units, nullptr);
}

struct Sure {
    const char* name;
    Quantity quantity;
};

TEST(ColumnMatch, aFactorOfAHundredIsKept) {
    for (const char* name : {"rpm x100", "RPM x100", "RPM (x100)", "Motor RPM [x 100]", "rpm/100"}) {
        const rw::Unit unit = match({name}).columns.at(0).unit;
        EXPECT_DOUBLE_EQ(unit.factor / unit.divisor, 100.0 * 2.0 * std::numbers::pi / 60.0) << name;
    }
}

TEST(ColumnMatch, clearNamesAreSure) {
    using Q = Quantity;
    // clang-format off
    const Sure table[] = {
        {"Time", Q::Time}, {"time_s", Q::Time}, {"Time (ms)", Q::Time}, {"Timestamp", Q::Time}, {"t [s]", Q::Time},
        {"Elapsed time", Q::Time}, {"Zeit [s]", Q::Time}, {"seconds", Q::Time},
        {"Voltage", Q::PackVoltage}, {"Pack V", Q::PackVoltage}, {"BattVolt", Q::PackVoltage}, {"vbat", Q::PackVoltage},
        {"battery_voltage", Q::PackVoltage}, {"Input voltage (V)", Q::PackVoltage}, {"Spannung Akku [V]", Q::PackVoltage},
        {"PackVoltage[mV]", Q::PackVoltage},
        {"Ripple", Q::RippleVoltage}, {"Ripple voltage (V)", Q::RippleVoltage}, {"ripple_V", Q::RippleVoltage},
        {"Current", Q::PackCurrent}, {"Amps", Q::PackCurrent}, {"Battery current [A]", Q::PackCurrent}, {"pack A", Q::PackCurrent},
        {"Motor current", Q::MotorCurrent}, {"Phase current (A)", Q::MotorCurrent}, {"motor_A", Q::MotorCurrent},
        {"Throttle (%)", Q::Throttle}, {"thr", Q::Throttle}, {"ThrottleIn", Q::Throttle}, {"Gas %", Q::Throttle},
        {"throttle asked (%)", Q::Throttle}, {"output given (%)", Q::Output}, {"Brake", Q::Brake}, {"Output (%)", Q::Output}, {"Duty cycle", Q::Output}, {"Motor output [%]", Q::Output},
        {"Power %", Q::Output},
        {"RPM", Q::MotorSpeed}, {"Motor RPM", Q::MotorSpeed}, {"MotorSpeed (1/min)", Q::MotorSpeed}, {"eRPM", Q::MotorSpeed},
        {"Drehzahl", Q::MotorSpeed}, {"1/min", Q::MotorSpeed}, {"U/min", Q::MotorSpeed}, {"rev/min", Q::MotorSpeed},
        {"rpm x100", Q::MotorSpeed}, {"RPM (x100)", Q::MotorSpeed}, {"Motor RPM x100", Q::MotorSpeed},
        {"Vbatt", Q::PackVoltage}, {"ibatt", Q::PackCurrent}, {"Tbatt", Q::PackTemperature}, {"Vripple", Q::RippleVoltage},
        {"ESC Temp", Q::ControllerTemperature}, {"controller temperature [°C]", Q::ControllerTemperature},
        {"FET temp (C)", Q::ControllerTemperature}, {"escTemp_C", Q::ControllerTemperature}, {"T_ESC", Q::ControllerTemperature},
        {"Motor Temp", Q::MotorTemperature}, {"motortemp", Q::MotorTemperature}, {"Temp (motor)", Q::MotorTemperature},
        {"Motor °F", Q::MotorTemperature}, {"Battery temp", Q::PackTemperature},
        {"Receiver voltage", Q::ReceiverVoltage}, {"BEC V", Q::ReceiverVoltage}, {"RxVolt", Q::ReceiverVoltage},
        {"GPS speed (km/h)", Q::Speed}, {"Speed [mph]", Q::Speed}, {"speed_mps", Q::Speed}, {"Speed km/h", Q::Speed},
        {"Latitude", Q::Latitude}, {"lon", Q::Longitude}, {"Altitude (m)", Q::Elevation},
        {"Accel X (g)", Q::AccelerationX}, {"acc_y_g", Q::AccelerationY}, {"Acceleration Z [m/s²]", Q::AccelerationZ},
        {"Lateral g [g]", Q::AccelerationY},
        {"Power (W)", Q::Power}, {"mAh", Q::Charge}, {"Charge used [mAh]", Q::Charge}, {"Capacity (Ah)", Q::Charge},
        {"Session", Q::SessionMark}, {"Session no.", Q::SessionMark}, {"Log", Q::SessionMark}, {"power-up", Q::SessionMark},
        {"Power-up No.", Q::SessionMark}, {"Pack ID", Q::SessionMark}, {"pack", Q::SessionMark}, {"Event", Q::EventMark},
    };
    // clang-format on
    for (const Sure& row : table) {
        const rw::ImportColumn column = match({row.name}).columns.at(0).report;
        ASSERT_TRUE(column.quantity) << row.name;
        EXPECT_EQ(*column.quantity, row.quantity) << row.name << " is " << rw::quantityKey(*column.quantity);
        EXPECT_GE(column.confidence, rw::confidenceUsed) << row.name;
    }
}

TEST(ColumnMatch, doubtfulNamesAreNeverCertain) {
    for (const char* name : {"Temp 1",
                             "Temp 2",
                             "Temperature",
                             "T1 (C)",
                             "Ext temp",
                             "Speed",
                             "Wheel speed (km/h)",
                             "Wheel RPM",
                             "Cell voltage",
                             "Cell 1 (V)",
                             "Accel X",
                             "Output voltage",
                             "ESC voltage (V)",
                             "Min voltage (V)",
                             "Voltage 3",
                             "Throttle output",
                             "Status",
                             "X",
                             "Value 7",
                             "",
                             "Cutoff voltage"}) {
        const rw::ImportColumn column = match({name}).columns.at(0).report;
        EXPECT_LT(column.confidence, rw::confidenceUsed) << name;
        if (column.confidence < rw::confidenceMarked) {
            EXPECT_FALSE(column.quantity) << name;
        }
    }
}

TEST(ColumnMatch, whatIsNotUsedKeepsItsGuessAndIsSaid) {
    const rw::HeaderMeaning meaning = match({"Temp 1"});
    EXPECT_FALSE(meaning.columns[0].report.quantity);
    EXPECT_TRUE(meaning.columns[0].report.guess);
    ASSERT_EQ(meaning.notes.size(), 1U);
    EXPECT_NE(meaning.notes[0].find("Temp 1"), std::string::npos);
}

TEST(ColumnMatch, equalNamesAreNumberedAndTheSecondIsNotUsed) {
    const rw::HeaderMeaning meaning = match({"Time", "Voltage", "Voltage"});
    EXPECT_EQ(meaning.columns[1].report.quantity, Quantity::PackVoltage);
    EXPECT_EQ(meaning.columns[2].report.name, "Voltage#2");
    EXPECT_FALSE(meaning.columns[2].report.quantity);
    EXPECT_EQ(meaning.columns[2].report.guess, Quantity::PackVoltage);
    EXPECT_LE(meaning.columns[2].report.confidence, 0.4);
}

TEST(ColumnMatch, ofSeveralColumnsTheSurestIsUsed) {
    const rw::HeaderMeaning meaning = match({"Voltage", "Pack voltage (V)", "ESC temp", "Motor temp"});
    EXPECT_FALSE(meaning.columns[0].report.quantity);
    EXPECT_EQ(meaning.columns[0].report.guess, Quantity::PackVoltage);
    EXPECT_EQ(meaning.columns[1].report.quantity, Quantity::PackVoltage);
    EXPECT_EQ(meaning.columns[3].report.quantity, Quantity::MotorTemperature);
}

TEST(ColumnMatch, twoEquallySureColumnsMakeNeitherCertain) {
    const rw::HeaderMeaning meaning = match({"Motor temp (C)", "Motor temperature (C)"});
    EXPECT_LT(meaning.columns[0].report.confidence, rw::confidenceUsed);
    EXPECT_FALSE(meaning.columns[1].report.quantity);
}

TEST(ColumnMatch, unitsInAllFourSpellings) {
    for (const char* name : {"Pack [mV]", "Pack (mV)", "Pack_mV", "Pack mV", "Pack{mV}", "Pack/mV"}) {
        const rw::ColumnMeaning column = match({name}).columns.at(0);
        EXPECT_EQ(column.report.unit, "mV") << name;
        EXPECT_EQ(column.report.quantity, Quantity::PackVoltage) << name;
        EXPECT_EQ(column.unit.divisor, 1000.0) << name;
    }
}

TEST(ColumnMatch, aUnitThatContradictsTheNameWins) {
    EXPECT_NE(match({"Voltage [A]"}).columns[0].report.quantity, Quantity::PackVoltage);
    EXPECT_NE(match({"Motor temp (rpm)"}).columns[0].report.quantity, Quantity::MotorTemperature);
}

TEST(ColumnMatch, unitsRowCountsLikeUnitsInTheHeader) {
    const rw::HeaderMeaning meaning = match({"time", "speed", "temp motor"}, {"ms", "km/h", "°F"});
    EXPECT_EQ(meaning.columns[1].report.quantity, Quantity::Speed);
    EXPECT_EQ(meaning.columns[1].report.unit, "km/h");
    EXPECT_EQ(meaning.columns[2].report.quantity, Quantity::MotorTemperature);
}

// NIST SP 811 (2008), appendix B.8 and section 5: factors to SI.
TEST(Units, convertExactly) {
    const struct {
        const char* unit;
        double number, si;
    } table[] = {{"mV", 16800.0, 16.8},
                 {"kW", 6.8, 6800.0},
                 {"mAh", 1000.0, 3600.0},
                 {"Ah", 1.0, 3600.0},
                 {"°F", 212.0, 373.15},
                 {"°C", 80.0, 353.15},
                 {"km/h", 36.0, 10.0},
                 {"mph", 100.0, 44.704},
                 {"kn", 1.0, 1852.0 / 3600.0},
                 {"ft", 1.0, 0.3048},
                 {"g", 1.0, 9.80665},
                 {"rpm", 60.0, 2.0 * std::numbers::pi},
                 {"krpm", 6.0, 200.0 * std::numbers::pi},
                 {"Hz", 1.0, 2.0 * std::numbers::pi},
                 {"%", 50.0, 0.5},
                 {"ms", 1500.0, 1.5},
                 {"µs", 1e6, 1.0},
                 {"us", 1e6, 1.0}};
    for (const auto& row : table) {
        const rw::Unit* unit = rw::findUnit(row.unit);
        ASSERT_NE(unit, nullptr) << row.unit;
        EXPECT_NEAR(row.number * unit->factor / unit->divisor + unit->offset, row.si, 1e-12 * row.si) << row.unit;
    }
}

} // namespace
