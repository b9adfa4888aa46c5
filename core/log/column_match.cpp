#include "core/log/column_match.h"

#include "core/error.h"
#include "core/log/column_words.h"
#include "core/log/number_text.h"
#include "core/log/quantity.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <utility>

namespace rw {
namespace {

using Q = Quantity;
using D = UnitKind;

constexpr std::uint32_t in(D dimension) { return 1U << static_cast<unsigned>(dimension); }
constexpr std::uint32_t shares = in(D::Fraction) | in(D::Time) | in(D::Raw); // %, microseconds, counts
constexpr std::uint32_t turning = in(D::Rotation) | in(D::Electrical);
constexpr std::uint64_t extras = wordFiller | wordTotal | wordIn;

struct Rule {
    Q quantity;
    std::uint64_t needed;     // all of these words
    std::uint64_t allowed;    // and these
    std::uint32_t dimensions; // of a unit, where there is one
    double withUnit, without; // confidence; 0: not without a unit (or not with one)
};

// What a practitioner would sign: a subject and a measure, or a subject and a unit, are sure; a measure alone is taken
// for the pack's; a temperature alone, a speed without unit, an output of something are not sure.
// clang-format off
constexpr Rule rules[] = {
    {Q::Time, wordTime, wordDate | extras, in(D::Time), 0.98, 0.95},
    {Q::Time, wordT, extras, in(D::Time), 0.9, 0.8},
    {Q::Time, wordDate, extras, in(D::Time), 0.6, 0.6},
    {Q::Time, 0, 0, in(D::Time), 0.85, 0.0},
    {Q::PackVoltage, wordVolt | wordPack, extras, in(D::Voltage), 0.98, 0.95},
    {Q::PackVoltage, wordPack, extras, in(D::Voltage), 0.95, 0.0},
    {Q::PackVoltage, wordVolt, extras, in(D::Voltage), 0.9, 0.85},
    {Q::PackVoltage, wordIn, extras, in(D::Voltage), 0.8, 0.0},
    {Q::PackVoltage, 0, 0, in(D::Voltage), 0.7, 0.0},
    {Q::PackVoltage, wordVolt | wordController, extras, in(D::Voltage), 0.6, 0.55},
    {Q::PackVoltage, wordController, extras, in(D::Voltage), 0.55, 0.0},
    {Q::PackVoltage, wordVolt | wordCell, extras | wordPack, in(D::Voltage), 0.3, 0.3},
    {Q::RippleVoltage, wordRipple, extras | wordVolt | wordPack | wordController | wordRms, in(D::Voltage), 0.98, 0.9},
    {Q::PackCurrent, wordCurrent | wordPack, extras, in(D::Current), 0.98, 0.95},
    {Q::PackCurrent, wordPack, extras, in(D::Current), 0.95, 0.0},
    {Q::PackCurrent, wordCurrent, extras, in(D::Current), 0.9, 0.85},
    {Q::PackCurrent, wordIn, extras, in(D::Current), 0.8, 0.0},
    {Q::PackCurrent, 0, 0, in(D::Current), 0.7, 0.0},
    {Q::PackCurrent, wordCurrent | wordController, extras, in(D::Current), 0.6, 0.55},
    {Q::PackCurrent, wordController, extras, in(D::Current), 0.55, 0.0},
    {Q::MotorCurrent, wordCurrent | wordMotor, extras | wordPhase, in(D::Current), 0.98, 0.95},
    {Q::MotorCurrent, wordMotor, extras | wordPhase, in(D::Current), 0.95, 0.0},
    {Q::MotorCurrent, wordCurrent | wordPhase, extras, in(D::Current), 0.85, 0.8},
    {Q::MotorCurrent, wordCurrent | wordWinding, extras | wordMotor, in(D::Current), 0.95, 0.9},
    {Q::Throttle, wordThrottle, extras | wordReceiver | wordPwm, shares, 0.98, 0.95},
    {Q::Throttle, wordThrottle | wordBrake, extras, shares, 0.7, 0.7},
    {Q::Throttle, wordPwm, extras | wordReceiver, in(D::Time), 0.7, 0.0},
    {Q::Throttle, wordIn, extras, in(D::Fraction), 0.6, 0.0},
    {Q::Brake, wordBrake, extras, shares, 0.98, 0.95},
    {Q::Output, wordOutput, extras | wordMotor | wordController | wordPower | wordDuty | wordPwm, shares, 0.95, 0.85},
    {Q::Output, wordDuty, extras | wordMotor | wordController | wordPwm, shares, 0.95, 0.9},
    {Q::Output, wordOutput | wordThrottle, extras, shares, 0.6, 0.6},
    {Q::Output, wordPower, extras | wordMotor | wordController, in(D::Fraction), 0.8, 0.0},
    {Q::Output, wordPwm, extras | wordMotor | wordController, in(D::Fraction) | in(D::Raw), 0.7, 0.6},
    {Q::MotorSpeed, wordRpm, extras | wordMotor | wordSpeed | wordElectrical, turning, 0.98, 0.95},
    {Q::MotorSpeed, wordErpm, extras | wordMotor | wordSpeed | wordElectrical, turning, 0.98, 0.95},
    {Q::MotorSpeed, wordMotor | wordSpeed, extras | wordElectrical, turning, 0.98, 0.8},
    {Q::MotorSpeed, wordMotor, extras, turning, 0.95, 0.0},
    {Q::MotorSpeed, wordSpeed, extras, turning, 0.85, 0.0},
    {Q::MotorSpeed, 0, wordElectrical, turning, 0.9, 0.0},
    {Q::MotorSpeed, wordN, extras | wordMotor, turning, 0.9, 0.0},
    {Q::MotorSpeed, wordRpm | wordWheel, extras | wordSpeed, turning, 0.3, 0.3},
    {Q::ControllerTemperature, wordTemp | wordController, extras, in(D::Temperature), 0.98, 0.95},
    {Q::ControllerTemperature, wordT | wordController, extras, in(D::Temperature), 0.9, 0.85},
    {Q::ControllerTemperature, wordController, extras, in(D::Temperature), 0.95, 0.0},
    {Q::ControllerTemperature, wordTemp, extras, in(D::Temperature), 0.4, 0.4},
    {Q::ControllerTemperature, 0, 0, in(D::Temperature), 0.3, 0.0},
    {Q::MotorTemperature, wordTemp | wordMotor, extras | wordCase, in(D::Temperature), 0.98, 0.95},
    {Q::MotorTemperature, wordT | wordMotor, extras | wordCase, in(D::Temperature), 0.9, 0.85},
    {Q::MotorTemperature, wordMotor, extras | wordCase, in(D::Temperature), 0.95, 0.0},
    // Beside its winding a motor's case is what a sensor reads.
    {Q::MotorTemperature, wordWinding, extras | wordMotor | wordTemp | wordT, in(D::Temperature), 0.8, 0.0},
    {Q::MotorTemperature, wordTemp | wordWinding, extras | wordMotor, in(D::Temperature), 0.8, 0.8},
    {Q::MotorTemperature, wordCase, extras | wordTemp | wordT, in(D::Temperature), 0.85, 0.0},
    {Q::PackTemperature, wordTemp | wordPack, extras, in(D::Temperature), 0.98, 0.95},
    {Q::PackTemperature, wordT | wordPack, extras, in(D::Temperature), 0.9, 0.85},
    {Q::PackTemperature, wordPack, extras, in(D::Temperature), 0.95, 0.0},
    {Q::ReceiverVoltage, wordVolt | wordReceiver, extras, in(D::Voltage), 0.98, 0.95},
    {Q::ReceiverVoltage, wordReceiver, extras, in(D::Voltage), 0.95, 0.0},
    {Q::Speed, wordSpeed, extras | wordGround, in(D::Speed), 0.95, 0.4},
    {Q::Speed, wordGround, extras, in(D::Speed), 0.95, 0.0},
    {Q::Speed, 0, 0, in(D::Speed), 0.85, 0.0},
    {Q::Speed, wordVolt, extras | wordGround, in(D::Speed), 0.9, 0.0}, // "v [km/h]"
    {Q::Speed, wordSpeed | wordWheel, extras, in(D::Speed), 0.3, 0.3},
    {Q::Latitude, wordLatitude, extras | wordGround, in(D::Angle), 0.98, 0.95},
    {Q::Longitude, wordLongitude, extras | wordGround, in(D::Angle), 0.98, 0.95},
    {Q::Elevation, wordElevation, extras | wordGround, in(D::Length), 0.95, 0.8},
    {Q::AccelerationX, wordAcceleration | wordX, extras, in(D::Acceleration), 0.95, 0.4},
    {Q::AccelerationY, wordAcceleration | wordY, extras, in(D::Acceleration), 0.95, 0.4},
    {Q::AccelerationZ, wordAcceleration | wordZ, extras, in(D::Acceleration), 0.95, 0.4},
    {Q::AccelerationX, wordX, extras, in(D::Acceleration), 0.85, 0.0},
    {Q::AccelerationY, wordY, extras, in(D::Acceleration), 0.85, 0.0},
    {Q::AccelerationZ, wordZ, extras, in(D::Acceleration), 0.85, 0.0},
    {Q::Power, wordPower, extras | wordPack | wordController, in(D::Power), 0.95, 0.6},
    {Q::Power, 0, 0, in(D::Power), 0.85, 0.0},
    {Q::Power, wordP, extras | wordPack, in(D::Power), 0.9, 0.0},
    {Q::Charge, wordCharge, extras | wordPack, in(D::Charge), 0.95, 0.6},
    {Q::Charge, wordPack, extras, in(D::Charge), 0.9, 0.0},
    {Q::Charge, wordQ, extras | wordPack, in(D::Charge), 0.9, 0.0},
    {Q::Charge, extras, extras, in(D::Charge), 0.85, 0.0},
    {Q::Charge, 0, extras, in(D::Charge), 0.9, 0.0},
    {Q::EventMark, wordEvent, extras, 0, 0.0, 0.9},
};
// clang-format on

constexpr double unknownWord = 0.15, mostUnknown = 0.45; // taken off per word that means nothing here
constexpr double statistic = 0.45;                       // a minimum, mean or limit is another value
constexpr double numbered = 0.2;                         // "Voltage 2" may be anything's
constexpr double strangeUnit = 0.15;                     // a unit that is not known

double confidenceBy(const Rule& rule, const NameWords& words, const HeaderText& header) {
    constexpr std::uint64_t soft = wordStatistic | wordNumber;
    if ((words.known & rule.needed) != rule.needed) return 0.0;
    if ((words.known & ~(rule.needed | rule.allowed | soft)) != 0) return 0.0;
    if (header.known && (rule.dimensions & in(header.known->dimension)) == 0) return 0.0;
    double confidence = header.known ? rule.withUnit : rule.without;
    if (rule.needed == 0 && (words.unknown > 0 || (words.known & soft) != 0)) confidence = std::min(confidence, 0.4);
    if (!header.known && !header.factor && !header.unit.empty()) confidence -= strangeUnit;
    if ((words.known & wordStatistic) != 0) confidence -= statistic;
    if ((words.known & wordNumber) != 0) confidence -= numbered;
    confidence -= std::min(mostUnknown, unknownWord * words.unknown);
    return std::round(100.0 * std::max(confidence, 0.0)) / 100.0; // 0.95 less 0.15 is 0.8
}

// a session begins, rule (c) of core/review/sessions.cpp: session, log, power-up or pack, also "… no." and "… id".
bool namesSession(const NameWords& words, const HeaderText& header) {
    if (!header.unit.empty() || words.tokens.empty()) return false;
    static constexpr auto numberWords =
        std::to_array<std::string_view>({"no", "nr", "number", "id", "num", "index", "n", "nummer", "numero"});
    std::vector<std::string> tokens = words.tokens;
    if (tokens.size() > 1 && std::ranges::find(numberWords, tokens.back()) != numberWords.end()) tokens.pop_back();
    std::string joined;
    for (const std::string& token : tokens)
        joined += token;
    static constexpr auto names = std::to_array<std::string_view>(
        {"session", "log", "powerup", "pack", "sitzung", "seance", "sesion", "sessione"});
    return std::ranges::find(names, joined) != names.end();
}

// The whole cell may be a unit: "rpm", "mAh", "V", "1/min". Brackets may hold words of the name: "Temp (motor)".
HeaderText readHeader(std::string_view cell) {
    cell = trimBlanks(cell);
    if (const std::optional<Unit> unit = findUnit(cell)) {
        // "amps" is a word too, "1/min" and "rpm x100" are not.
        const bool word = cell.size() > 2 && wordsOf(cell).known != 0 && cell.find_first_of("0123456789/") == cell.npos;
        return {word ? cell : std::string_view(), cell, unit, {}};
    }
    HeaderText header = splitHeader(cell);
    if (!header.known && !header.factor && !header.unit.empty() && wordsOf(header.unit).unknown == 0)
        return {cell, std::string_view(), {}, {}};
    return header;
}

std::string quoted(const std::string& name) { return "\"" + name + "\""; }

std::string percentText(double confidence) { return std::to_string(static_cast<int>(confidence * 100.0 + 0.5)) + " %"; }

bool isTemperature(Quantity quantity) {
    return quantity == Q::ControllerTemperature || quantity == Q::MotorTemperature || quantity == Q::PackTemperature;
}

// What numbers without a unit are taken for.
Unit customaryUnit(Quantity quantity) {
    if (isTemperature(quantity)) return *findUnit("°C");
    if (quantity == Q::MotorSpeed) return *findUnit("rpm");
    if (quantity == Q::Charge) return *findUnit("mAh");
    return {};
}

std::string factorText(double factor) { return fmt::format("{:.15g}", factor); }

void applyMap(ColumnMeaning& column, const MappedColumn& mapped) {
    column.report.quantity = mapped.quantity;
    column.report.guess.reset();
    column.report.confidence = 1.0;
    column.factor = mapped.factor;
    std::string_view spelling = column.report.unit;
    if (!mapped.unit.empty()) {
        const std::optional<Unit> unit = findUnit(mapped.unit);
        if (!unit) throw InputError("column map: columns." + mapped.name + ".unit", "is no unit that is known");
        spelling = mapped.unit;
        column.unit = *unit;
        column.unitKnown = true;
        column.rms = unit->rms;
        column.electrical = unit->dimension == D::Electrical;
    } else if (!column.unitKnown && mapped.quantity && !unitChoices(*mapped.quantity).empty()) {
        spelling = unitChoices(*mapped.quantity).front();
    }
    column.report.unit = mapped.factor == 1.0 ? mapped.unit.empty() ? column.report.unit : mapped.unit
                                              : factorText(mapped.factor) + " x " + std::string(spelling);
}

ColumnMeaning meaningOf(const std::string& name, const std::string& unitBelow) {
    HeaderText header = readHeader(name);
    if (!unitBelow.empty()) header = {header.name, unitBelow, findUnit(unitBelow), bareFactor(unitBelow)};
    const NameMatch match = matchName(header);
    ColumnMeaning column;
    column.report.name = name;
    column.report.unit = std::string(header.unit);
    column.report.confidence = match.confidence;
    column.report.quantity = match.quantity;
    column.electrical = match.electrical;
    column.rms = match.rms;
    column.unitKnown = header.known.has_value();
    column.bareFactor = header.factor;
    if (header.known) column.unit = *header.known;
    return column;
}

// Of several columns for one quantity the surest is used; nearly as sure ones make it less so.
void keepOneEach(HeaderMeaning& meaning) {
    for (const QuantityInfo& info : quantityTable()) {
        ColumnMeaning* best = nullptr;
        double second = 0.0;
        for (ColumnMeaning& column : meaning.columns) {
            if (column.report.quantity != info.quantity) continue;
            if (best == nullptr || column.report.confidence > best->report.confidence) {
                second = best == nullptr ? 0.0 : best->report.confidence;
                best = &column;
            } else {
                second = std::max(second, column.report.confidence);
            }
        }
        if (best == nullptr || second == 0.0) continue;
        for (ColumnMeaning& column : meaning.columns) {
            if (column.report.quantity != info.quantity || &column == best) continue;
            column.report.guess = std::exchange(column.report.quantity, std::nullopt);
            if (column.report.confidence >= confidenceMarked)
                meaning.notes.push_back("Column " + quoted(column.report.name) + " could be " + std::string(info.name) +
                                        " too; " + quoted(best->report.name) + " is used for it.");
        }
        constexpr double twins = 0.02;
        if (best->report.confidence < 1.0 && second >= confidenceMarked && best->report.confidence - second < twins)
            best->report.confidence = std::min(best->report.confidence, 0.6);
    }
}

// A factor of the header counts where no unit stands beside it; one that the owner told counts always.
void applyFactors(ColumnMeaning& column) {
    if (!column.report.quantity) return;
    if (column.bareFactor && !column.unitKnown)
        column.unit = scaledUnit(column.unit, column.bareFactor->times(column.unit.dimension));
    column.unit = scaledUnit(column.unit, column.factor);
}

void settleConfidence(HeaderMeaning& meaning) {
    for (ColumnMeaning& column : meaning.columns) {
        ImportColumn& report = column.report;
        if (!report.quantity) continue;
        if (report.confidence < confidenceMarked) {
            meaning.notes.push_back("Column " + quoted(report.name) + " is not used: it may be " +
                                    std::string(quantityInfo(*report.quantity).name) + " (" +
                                    percentText(report.confidence) + "); a column map can say so.");
            report.guess = std::exchange(report.quantity, std::nullopt);
        } else if (report.confidence < confidenceUsed) {
            meaning.notes.push_back("Column " + quoted(report.name) + " is taken for " +
                                    std::string(quantityInfo(*report.quantity).name) + " (" +
                                    percentText(report.confidence) + " sure).");
        }
        if (report.quantity && !column.unitKnown) column.unit = customaryUnit(*report.quantity);
        applyFactors(column);
    }
}

} // namespace

NameMatch matchName(const HeaderText& header) {
    const NameWords words = wordsOf(header.name);
    NameMatch match;
    if (namesSession(words, header)) return {Q::SessionMark, 0.9, false, false};
    for (const Rule& rule : rules) {
        const double confidence = confidenceBy(rule, words, header);
        if (confidence > match.confidence) match = {rule.quantity, confidence, false, false};
    }
    match.electrical = match.quantity == Q::MotorSpeed && ((words.known & (wordErpm | wordElectrical)) != 0 ||
                                                           (header.known && header.known->dimension == D::Electrical));
    match.rms = (words.known & wordRms) != 0 || (header.known && header.known->rms);
    return match;
}

std::optional<Quantity> namedQuantity(std::string_view cell) {
    const bool letters = std::ranges::any_of(cell, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) > 127 || c == '%';
    });
    if (!letters || cell.size() > 200) return std::nullopt;
    const NameMatch match = matchName(readHeader(cell));
    return match.confidence >= confidenceMarked ? match.quantity : std::nullopt;
}

HeaderMeaning matchHeader(std::span<const std::string> names, std::span<const std::string> units,
                          const ColumnMap* map) {
    HeaderMeaning meaning;
    std::map<std::string, int> seen;
    for (std::size_t i = 0; i < names.size(); ++i) {
        ColumnMeaning column = meaningOf(names[i], i < units.size() ? units[i] : std::string());
        const int count = names[i].empty() ? 1 : ++seen[names[i]];
        if (count > 1) {
            column.report.name += "#" + std::to_string(count);
            column.report.confidence = std::min(column.report.confidence, confidenceRepeated);
        }
        if (map != nullptr)
            if (const MappedColumn* mapped = map->find(column.report.name)) applyMap(column, *mapped);
        meaning.columns.push_back(std::move(column));
    }
    keepOneEach(meaning);
    settleConfidence(meaning);
    return meaning;
}

} // namespace rw
