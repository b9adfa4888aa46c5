#include "core/log/unit_text.h"

#include "core/log/ascii_text.h"
#include "core/log/number_text.h"
#include "core/units.h"

#include <string>
#include <unordered_map>
#include <utility>

namespace rw {
namespace {

using D = UnitKind;

// clang-format off
constexpr Unit units[] = {
    {"V", D::Voltage}, {"volt", D::Voltage}, {"volts", D::Voltage}, {"mV", D::Voltage, 1.0, 1000.0},
    {"voltios", D::Voltage},
    {"Vpp", D::Voltage}, {"V pp", D::Voltage}, {"V p-p", D::Voltage}, {"Vp-p", D::Voltage},
    {"Vrms", D::Voltage, 1.0, 1.0, 0.0, true}, {"V rms", D::Voltage, 1.0, 1.0, 0.0, true},
    {"mVrms", D::Voltage, 1.0, 1000.0, 0.0, true}, {"mV rms", D::Voltage, 1.0, 1000.0, 0.0, true},
    {"mVpp", D::Voltage, 1.0, 1000.0},
    {"A", D::Current}, {"amp", D::Current}, {"amps", D::Current}, {"ampere", D::Current}, {"amperes", D::Current},
    {"mA", D::Current, 1.0, 1000.0}, {"amperios", D::Current}, {"ampères", D::Current},
    {"W", D::Power}, {"watt", D::Power}, {"watts", D::Power}, {"vatios", D::Power}, {"kW", D::Power, 1000.0},
    {"mAh", D::Charge, secondsPerHour, 1000.0}, {"Ah", D::Charge, secondsPerHour}, {"As", D::Charge}, {"A s", D::Charge},
    {"A·s", D::Charge}, {"C (charge)", D::Charge},
    {"s", D::Time}, {"sec", D::Time}, {"secs", D::Time}, {"second", D::Time}, {"seconds", D::Time},
    {"sek", D::Time}, {"Sekunden", D::Time}, {"secondes", D::Time}, {"segundos", D::Time}, {"secondi", D::Time},
    {"ms", D::Time, 1.0, 1e3}, {"msec", D::Time, 1.0, 1e3}, {"msecs", D::Time, 1.0, 1e3},
    {"millis", D::Time, 1.0, 1e3}, {"milliseconds", D::Time, 1.0, 1e3}, {"Millisekunden", D::Time, 1.0, 1e3}, {"millisecondes", D::Time, 1.0, 1e3},
    {"milisegundos", D::Time, 1.0, 1e3}, {"millisecondi", D::Time, 1.0, 1e3},
    {"us", D::Time, 1.0, 1e6}, {"usec", D::Time, 1.0, 1e6}, {"µs", D::Time, 1.0, 1e6}, {"μs", D::Time, 1.0, 1e6},
    {"micros", D::Time, 1.0, 1e6}, {"microseconds", D::Time, 1.0, 1e6},
    {"min", D::Time, 60.0}, {"minutes", D::Time, 60.0}, {"h", D::Time, secondsPerHour}, {"hours", D::Time, secondsPerHour},
    {"mm:ss", D::Time}, {"m:s", D::Time}, {"hh:mm:ss", D::Time}, {"h:m:s", D::Time}, {"hh:mm:ss.sss", D::Time},
    {"mm:ss.sss", D::Time}, {"ISO 8601", D::Time}, {"UTC", D::Time},
    {"°C", D::Temperature, 1.0, 1.0, zeroCelsius_K}, {"C", D::Temperature, 1.0, 1.0, zeroCelsius_K},
    {"degC", D::Temperature, 1.0, 1.0, zeroCelsius_K}, {"deg C", D::Temperature, 1.0, 1.0, zeroCelsius_K},
    {"celsius", D::Temperature, 1.0, 1.0, zeroCelsius_K}, {"ºC", D::Temperature, 1.0, 1.0, zeroCelsius_K}, {"Grad C", D::Temperature, 1.0, 1.0, zeroCelsius_K},
    {"° C", D::Temperature, 1.0, 1.0, zeroCelsius_K},
    {"°F", D::Temperature, 1.0, 1.8, zeroCelsius_K - 32.0 / 1.8}, {"F", D::Temperature, 1.0, 1.8, zeroCelsius_K - 32.0 / 1.8},
    {"degF", D::Temperature, 1.0, 1.8, zeroCelsius_K - 32.0 / 1.8},
    {"deg F", D::Temperature, 1.0, 1.8, zeroCelsius_K - 32.0 / 1.8},
    {"fahrenheit", D::Temperature, 1.0, 1.8, zeroCelsius_K - 32.0 / 1.8},
    {"K", D::Temperature}, {"kelvin", D::Temperature},
    {"%", D::Fraction, 1.0, 100.0}, {"percent", D::Fraction, 1.0, 100.0}, {"pct", D::Fraction, 1.0, 100.0},
    {"per cent", D::Fraction, 1.0, 100.0}, {"‰", D::Fraction, 1.0, 1000.0}, {"permille", D::Fraction, 1.0, 1000.0}, {"fraction", D::Fraction}, {"0-1", D::Fraction}, {"0..1", D::Fraction},
    {"rpm", D::Rotation, radpsPerRpm}, {"1/min", D::Rotation, radpsPerRpm}, {"/min", D::Rotation, radpsPerRpm},
    {"min-1", D::Rotation, radpsPerRpm}, {"min^-1", D::Rotation, radpsPerRpm}, {"U/min", D::Rotation, radpsPerRpm},
    {"upm", D::Rotation, radpsPerRpm}, {"r/min", D::Rotation, radpsPerRpm}, {"tr/min", D::Rotation, radpsPerRpm},
    {"trs/min", D::Rotation, radpsPerRpm}, {"tours/min", D::Rotation, radpsPerRpm}, {"giri/min", D::Rotation, radpsPerRpm},
    {"vueltas/min", D::Rotation, radpsPerRpm}, {"Umdr/min", D::Rotation, radpsPerRpm}, {"Umdrehungen/min", D::Rotation, radpsPerRpm}, {"vueltas/minuto", D::Rotation, radpsPerRpm}, {"Umdr./min", D::Rotation, radpsPerRpm},
    {"min⁻¹", D::Rotation, radpsPerRpm}, {"r.p.m.", D::Rotation, radpsPerRpm}, {"tpm", D::Rotation, radpsPerRpm},
    {"rev/min", D::Rotation, radpsPerRpm}, {"krpm", D::Rotation, 1000.0 * radpsPerRpm},
    {"rpm x100", D::Rotation, 100.0 * radpsPerRpm}, {"x100 rpm", D::Rotation, 100.0 * radpsPerRpm},
    {"100 rpm", D::Rotation, 100.0 * radpsPerRpm}, {"rpm/100", D::Rotation, 100.0 * radpsPerRpm},
    {"rps", D::Rotation, 60.0 * radpsPerRpm}, {"rev/s", D::Rotation, 60.0 * radpsPerRpm},
    {"1/s", D::Rotation, 60.0 * radpsPerRpm}, {"Hz", D::Rotation, 60.0 * radpsPerRpm}, {"rad/s", D::Rotation},
    {"erpm", D::Electrical, radpsPerRpm}, {"e-rpm", D::Electrical, radpsPerRpm},
    {"el. rpm", D::Electrical, radpsPerRpm}, {"electrical rpm", D::Electrical, radpsPerRpm},
    {"kerpm", D::Electrical, 1000.0 * radpsPerRpm},
    {"km/h", D::Speed, 1.0, kmhPerMps}, {"kmh", D::Speed, 1.0, kmhPerMps}, {"kph", D::Speed, 1.0, kmhPerMps},
    {"km_h", D::Speed, 1.0, kmhPerMps}, {"mph", D::Speed, 1.0, mphPerMps}, {"mi/h", D::Speed, 1.0, mphPerMps},
    {"m/s", D::Speed}, {"mps", D::Speed}, {"m_s", D::Speed}, {"kn", D::Speed, mpsPerKnot}, {"kt", D::Speed, mpsPerKnot},
    {"kts", D::Speed, mpsPerKnot}, {"knots", D::Speed, mpsPerKnot}, {"ft/s", D::Speed, 12.0 * metrePerInch},
    {"deg", D::Angle}, {"°", D::Angle}, {"degrees", D::Angle},
    {"m", D::Length}, {"metres", D::Length}, {"meters", D::Length}, {"ft", D::Length, 12.0 * metrePerInch},
    {"feet", D::Length, 12.0 * metrePerInch},
    {"g", D::Acceleration, standardGravity}, {"G", D::Acceleration, standardGravity}, {"m/s2", D::Acceleration},
    {"m/s²", D::Acceleration}, {"m/s^2", D::Acceleration}, {"m/ss", D::Acceleration},
    {"raw", D::Raw}, {"counts", D::Raw}, {"0-255", D::Raw}, {"0..255", D::Raw},
};
// clang-format on

constexpr std::size_t longestUnit = 16; // bytes

// The units by their spelling, and by its small letters where only one unit has them ("MV" and "mV" would be two).
struct UnitTable {
    UnitTable() {
        for (const Unit& unit : units) {
            asWritten.emplace(unit.spelling, &unit);
            const auto [entry, added] = small.emplace(lowerAscii(unit.spelling), &unit);
            if (!added && entry->second != nullptr &&
                (entry->second->factor != unit.factor || entry->second->divisor != unit.divisor))
                entry->second = nullptr;
        }
    }
    std::unordered_map<std::string_view, const Unit*> asWritten;
    std::unordered_map<std::string, const Unit*> small;
};

// Between the last pair of such brackets, if they end the cell.
std::string_view bracketed(std::string_view cell, char open, char close) {
    if (cell.size() < 2 || cell.back() != close) return {};
    const std::size_t start = cell.rfind(open);
    return start == std::string_view::npos ? std::string_view() : cell.substr(start + 1, cell.size() - start - 2);
}

HeaderText inBrackets(std::string_view cell) {
    for (const auto& [open, close] : {std::pair{'[', ']'}, std::pair{'(', ')'}, std::pair{'{', '}'}}) {
        const std::string_view unit = trimBlanks(bracketed(cell, open, close));
        if (!unit.empty())
            return {trimBlanks(cell.substr(0, cell.rfind(open))), unit, findUnit(unit), bareFactor(unit)};
    }
    return {cell, {}, {}, {}};
}

// A known unit behind the last '_', blank, '/' or comma; the longest such unit ("V rms" before "rms"). A factor alone
// needs its sign: "Motor RPM x100", not "Log 10".
HeaderText trailing(std::string_view cell) {
    for (std::size_t at = 1; at + 1 < cell.size(); ++at) {
        if (std::string_view("_ /,").find(cell[at]) == std::string_view::npos) continue;
        const std::string_view unit = trimBlanks(cell.substr(at + 1));
        if (const std::optional<Unit> known = findUnit(unit)) return {trimBlanks(cell.substr(0, at)), unit, known, {}};
    }
    for (std::size_t at = 1; at + 1 < cell.size(); ++at) {
        const bool letter = cell[at] == 'x' || cell[at] == 'X'; // no sign within a word: "max100"
        if ((cell[at] >= '0' && cell[at] <= '9') || (letter && cell[at - 1] != ' ' && cell[at - 1] != '_')) continue;
        const std::string_view factor = trimBlanks(cell.substr(at));
        if (const std::optional<BareFactor> known = bareFactor(factor); known && factor[0] != '1' && factor[0] != '0')
            return {trimBlanks(cell.substr(0, at)), factor, {}, known};
    }
    for (const std::string_view share : {"Percent", "Pct"}) // "PowerPercent"
        if (cell.size() > share.size() && cell.ends_with(share))
            return {cell.substr(0, cell.size() - share.size()), share, findUnit(share), {}};
    return {cell, {}, {}, {}};
}

const Unit* plainUnit(std::string_view text) {
    static const UnitTable table;
    if (const auto exact = table.asWritten.find(text); exact != table.asWritten.end()) return exact->second;
    // One letter is a unit only as it is written: "a" and "v" stand for too much else.
    if (text.size() < 2 || text.size() > longestUnit) return nullptr;
    const auto any = table.small.find(lowerAscii(text));
    return any == table.small.end() ? nullptr : any->second;
}

} // namespace

std::optional<Unit> findUnit(std::string_view text) {
    if (const Unit* unit = plainUnit(text)) return *unit;
    return unitWithFactor(text, plainUnit);
}

HeaderText splitHeader(std::string_view cell) {
    cell = trimBlanks(cell);
    const HeaderText brackets = inBrackets(cell);
    if (!brackets.unit.empty()) return brackets;
    return trailing(cell);
}

} // namespace rw
