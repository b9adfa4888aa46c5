// Names as loggers and people write them. What is right is the trade's use of the words (common practice).
#include "core/log/column_match.h"

#include "core/log/quantity.h"

#include <gtest/gtest.h>

#include <numbers>
#include <optional>

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

// A sensor sits on a motor's case; what is told of its winding is computed, or a sensor of its own.
TEST(ColumnMatch, aMotorsCaseIsReadBeforeItsWinding) {
    const rw::HeaderMeaning both = match({"time_s", "winding_C", "case_C", "controller_C"});
    EXPECT_FALSE(both.columns.at(1).report.quantity);
    EXPECT_EQ(both.columns.at(2).report.quantity, Quantity::MotorTemperature);
    EXPECT_EQ(both.columns.at(3).report.quantity, Quantity::ControllerTemperature);
    for (const char* alone :
         {"winding_C", "Winding temp", "Wicklung [°C]", "Motor winding temperature", "Motor case °C"})
        EXPECT_EQ(match({alone}).columns.at(0).report.quantity, Quantity::MotorTemperature) << alone;
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
        {"PowerPercent", Q::Output}, {"ThrottlePct", Q::Throttle},
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

// The trade's words for one log in English, German, French, Spanish and Italian, as technical dictionaries have them.
TEST(ColumnMatch, speaksFiveLanguages) {
    using Q = Quantity;
    // clang-format off
    const Sure table[] = {
        {"Zeit [s]", Q::Time}, {"Temps (s)", Q::Time}, {"Tiempo [s]", Q::Time}, {"Tempo (s)", Q::Time},
        {"Uhrzeit", Q::Time}, {"Heure", Q::Time}, {"Hora", Q::Time}, {"Ora", Q::Time}, {"Temps écoulé (ms)", Q::Time},
        {"Akkuspannung [V]", Q::PackVoltage}, {"Spannung (V)", Q::PackVoltage}, {"AKKU-SPANNUNG", Q::PackVoltage},
        {"Tension batterie (V)", Q::PackVoltage}, {"Tension d'alimentation", Q::PackVoltage}, {"Voltaje batería [V]", Q::PackVoltage},
        {"Tensión (V)", Q::PackVoltage}, {"Tensione batteria [V]", Q::PackVoltage}, {"Voltaggio", Q::PackVoltage}, {"U [V]", Q::PackVoltage},
        {"U_Akku [V]", Q::PackVoltage},
        {"Welligkeit [V]", Q::RippleVoltage}, {"Ondulation (V)", Q::RippleVoltage}, {"Rizado [mV]", Q::RippleVoltage},
        {"Ondulazione (V)", Q::RippleVoltage},
        {"Strom [A]", Q::PackCurrent}, {"Akkustrom (A)", Q::PackCurrent}, {"Courant batterie (A)", Q::PackCurrent},
        {"Intensité (A)", Q::PackCurrent}, {"INTENSITÉ", Q::PackCurrent}, {"Corriente de la batería [A]", Q::PackCurrent},
        {"Corrente (A)", Q::PackCurrent}, {"Corrente batteria [dA]", Q::PackCurrent}, {"I_Akku [A]", Q::PackCurrent},
        {"Motorstrom [A]", Q::MotorCurrent}, {"Courant moteur (A)", Q::MotorCurrent}, {"Corriente del motor", Q::MotorCurrent},
        {"Corrente motore [A]", Q::MotorCurrent},
        {"Gas [%]", Q::Throttle}, {"Gasstellung (%)", Q::Throttle}, {"Gaz (%)", Q::Throttle}, {"Accélérateur [%]", Q::Throttle},
        {"Acelerador (%)", Q::Throttle}, {"Acceleratore [%]", Q::Throttle}, {"Comando gas (%)", Q::Throttle},
        {"Bremse [%]", Q::Brake}, {"Frein (%)", Q::Brake}, {"Freno [%]", Q::Brake},
        {"Ausgang Regler [%]", Q::Output}, {"Tastgrad", Q::Output}, {"Sortie variateur (%)", Q::Output}, {"Rapport cyclique (%)", Q::Output},
        {"Salida [%]", Q::Output}, {"Ciclo de trabajo (%)", Q::Output}, {"Uscita regolatore [%]", Q::Output},
        {"Motordrehzahl [1/min]", Q::MotorSpeed}, {"Drehzahl (U/min)", Q::MotorSpeed}, {"n [1/min]", Q::MotorSpeed},
        {"Régime moteur (tr/min)", Q::MotorSpeed}, {"Vitesse de rotation (tr/min)", Q::MotorSpeed}, {"REGIME MOTEUR", Q::MotorSpeed},
        {"Revoluciones (rpm)", Q::MotorSpeed}, {"Giri motore [giri/min]", Q::MotorSpeed}, {"Giri al minuto", Q::MotorSpeed},
        {"Reglertemperatur [°C]", Q::ControllerTemperature}, {"Temp. Regler", Q::ControllerTemperature},
        {"Température variateur (°C)", Q::ControllerTemperature}, {"Température du contrôleur", Q::ControllerTemperature},
        {"Temperatura del variador [°C]", Q::ControllerTemperature}, {"Temperatura regolatore", Q::ControllerTemperature},
        {"Motortemperatur", Q::MotorTemperature}, {"Température moteur [°C]", Q::MotorTemperature},
        {"Temperatura del motor", Q::MotorTemperature}, {"Temperatura motore (°C)", Q::MotorTemperature},
        {"Akkutemperatur [°C]", Q::PackTemperature}, {"Température accu", Q::PackTemperature},
        {"Temperatura de la batería", Q::PackTemperature}, {"Temperatura batteria", Q::PackTemperature},
        {"Empfängerspannung [V]", Q::ReceiverVoltage}, {"Empfaengerspannung", Q::ReceiverVoltage}, {"Tension récepteur (V)", Q::ReceiverVoltage},
        {"Voltaje del receptor", Q::ReceiverVoltage}, {"Tensione ricevente [V]", Q::ReceiverVoltage},
        {"Geschwindigkeit [km/h]", Q::Speed}, {"Vitesse (km/h)", Q::Speed}, {"Velocidad [km/h]", Q::Speed}, {"Velocità (km/h)", Q::Speed},
        {"v [km/h]", Q::Speed}, {"Vitesse GPS (km/h)", Q::Speed},
        {"Breitengrad", Q::Latitude}, {"Längengrad", Q::Longitude}, {"Latitud", Q::Latitude}, {"Longitudine", Q::Longitude},
        {"Höhe [m]", Q::Elevation}, {"HÖHE (m)", Q::Elevation}, {"Altitud (m)", Q::Elevation}, {"Quota [m]", Q::Elevation},
        {"Beschleunigung längs [g]", Q::AccelerationX}, {"Accélération X (g)", Q::AccelerationX}, {"Accelerazione laterale [g]", Q::AccelerationY},
        {"Leistung [W]", Q::Power}, {"Puissance (W)", Q::Power}, {"Potencia [W]", Q::Power}, {"Potenza (kW)", Q::Power}, {"P [W]", Q::Power},
        {"Kapazität [mAh]", Q::Charge}, {"Entnommene Ladung [mAh]", Q::Charge}, {"Capacité consommée (mAh)", Q::Charge},
        {"Consumo [mAh]", Q::Charge}, {"Capacità usata (mAh)", Q::Charge}, {"Q [mAh]", Q::Charge},
        {"Sitzung", Q::SessionMark}, {"Séance no", Q::SessionMark}, {"Sesión", Q::SessionMark}, {"Sessione n.", Q::SessionMark},
        {"T° moteur [°C]", Q::MotorTemperature}, {"Temp. bat.", Q::PackTemperature}, {"Umdrehungen/min", Q::MotorSpeed},
        {"Reglerausgang [%]", Q::Output}, {"Motordrehzahl", Q::MotorSpeed}, {"VBatt", Q::PackVoltage}, {"Gasknüppel [%]", Q::Throttle},
        {"Ereignis", Q::EventMark}, {"Événement", Q::EventMark}, {"Evento", Q::EventMark},
    };
    // clang-format on
    for (const Sure& row : table) {
        const rw::ImportColumn column = match({row.name}).columns.at(0).report;
        ASSERT_TRUE(column.quantity) << row.name << " " << column.confidence;
        EXPECT_EQ(*column.quantity, row.quantity) << row.name << " is " << rw::quantityKey(*column.quantity);
        EXPECT_GE(column.confidence, rw::confidenceUsed) << row.name;
    }
}

TEST(ColumnMatch, inOtherLanguagesTooAStatisticIsNotTheValue) {
    for (const char* name :
         {"Spannung min [V]", "Tension mini (V)", "Corriente media (A)", "Temperatura massima motore",
          "Sollwert Drehzahl", "Temperatur 1", "Température", "Zellenspannung [V]", "Raddrehzahl"})
        EXPECT_LT(match({name}).columns.at(0).report.confidence, rw::confidenceUsed) << name;
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

TEST(ColumnMatch, aFactorWithoutAUnitCountsInTheUsualOne) {
    const struct {
        const char* name;
        Quantity quantity;
        double number, si; // SI or, for the temperature, K
    } table[] = {{"Drehzahl x100", Quantity::MotorSpeed, 6.0, 600.0 * 2.0 * std::numbers::pi / 60.0},
                 {"RPM (×100)", Quantity::MotorSpeed, 6.0, 600.0 * 2.0 * std::numbers::pi / 60.0},
                 {"Current (0.1)", Quantity::PackCurrent, 2150.0, 215.0},
                 {"Voltage x100", Quantity::PackVoltage, 2520.0, 25.2},
                 {"Motor temp (/10)", Quantity::MotorTemperature, 452.0, 45.2 + 273.15},
                 {"ESC temp *10", Quantity::ControllerTemperature, 452.0, 45.2 + 273.15}};
    for (const auto& row : table) {
        const rw::ColumnMeaning column = match({row.name}).columns.at(0);
        EXPECT_EQ(column.report.quantity, row.quantity) << row.name;
        EXPECT_GE(column.report.confidence, rw::confidenceUsed) << row.name;
        EXPECT_NEAR(row.number * column.unit.factor / column.unit.divisor + column.unit.offset, row.si, 1e-9 * row.si)
            << row.name;
    }
}

TEST(ColumnMatch, numbersInNamesAreNoFactors) {
    for (const char* name : {"Log 10", "Cell 1/4", "Max100", "Temp 1", "Voltage 10"}) {
        const rw::ColumnMeaning column = match({name}).columns.at(0);
        EXPECT_FALSE(column.bareFactor) << name;
    }
}

TEST(Units, thoseOfferedForAQuantityAreKnown) {
    for (const rw::QuantityInfo& info : rw::quantityTable())
        for (const std::string_view unit : rw::unitChoices(info.quantity))
            EXPECT_TRUE(rw::findUnit(unit)) << info.key << " " << unit;
}

TEST(Units, whatIsNoUnitStaysNone) {
    for (const char* text :
         {"kg", "cg", "da", "2 A", "x100", "A x", "0 A", "1e-30 A", "10^ A", "x", "-0.1 A", "1/0 A", "motor"})
        EXPECT_FALSE(rw::findUnit(text)) << text;
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
                 {"us", 1e6, 1.0},
                 // SI brochure (9th ed.), table 7: decimal prefixes; factors as they are written.
                 {"dA", 2150.0, 215.0},
                 {"DA", 2150.0, 215.0},
                 {"cV", 2520.0, 25.2},
                 {"dV", 252.0, 25.2},
                 {"d°C", 452.0, 45.2 + 273.15},
                 {"µA", 1e6, 1.0},
                 {"cm/s", 100.0, 1.0},
                 {"mg", 1000.0, 9.80665},
                 {"0.1 A", 2150.0, 215.0},
                 {"0,1 A", 2150.0, 215.0},
                 {"0.01V", 2520.0, 25.2},
                 {"1/10 V", 252.0, 25.2},
                 {"10^-3 V", 25200.0, 25.2},
                 {"A x 0.1", 2150.0, 215.0},
                 {"2.5 x A", 4.0, 10.0},
                 {"A/10", 2150.0, 215.0},
                 {"V*100", 2520.0, 25.2},
                 {"rpm × 100", 6.0, 20.0 * std::numbers::pi},
                 {"rpm*100", 6.0, 20.0 * std::numbers::pi},
                 {"100 rpm", 6.0, 20.0 * std::numbers::pi},
                 {"10 rpm", 6.0, 2.0 * std::numbers::pi},
                 {"10 ms", 150.0, 1.5},
                 {"1e-7 deg", 481173000.0, 48.1173},
                 {"‰", 500.0, 0.5},
                 {"tr/min", 60.0, 2.0 * std::numbers::pi},
                 {"giri/min", 60.0, 2.0 * std::numbers::pi}};
    for (const auto& row : table) {
        const std::optional<rw::Unit> unit = rw::findUnit(row.unit);
        ASSERT_TRUE(unit) << row.unit;
        EXPECT_NEAR(row.number * unit->factor / unit->divisor + unit->offset, row.si, 1e-12 * row.si) << row.unit;
    }
}

} // namespace
