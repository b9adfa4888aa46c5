#include "core/log/column_words.h"

#include "core/log/ascii_text.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <unordered_map>

namespace rw {
namespace {

struct Entry {
    std::string_view text;
    std::uint64_t words;
};

// English first; then words of other languages in which loggers are sold.
// clang-format off
constexpr Entry dictionary[] = {
    {"time", wordTime}, {"timestamp", wordTime}, {"stamp", wordTime}, {"clock", wordTime}, {"elapsed", wordTime},
    {"seconds", wordTime}, {"secs", wordTime}, {"sec", wordTime}, {"millis", wordTime}, {"datetime", wordTime},
    {"uptime", wordTime}, {"runtime", wordTime}, {"zeit", wordTime}, {"uhrzeit", wordTime}, {"zeitstempel", wordTime},
    {"heure", wordTime}, {"tiempo", wordTime}, {"tempo", wordTime}, {"tijd", wordTime}, {"date", wordDate},
    {"datum", wordDate}, {"t", wordT},
    {"voltage", wordVolt}, {"volt", wordVolt}, {"volts", wordVolt}, {"v", wordVolt}, {"spannung", wordVolt},
    {"tension", wordVolt}, {"spanning", wordVolt}, {"u", wordVolt}, {"voltaje", wordVolt}, {"tensione", wordVolt},
    {"current", wordCurrent}, {"curr", wordCurrent}, {"amp", wordCurrent}, {"amps", wordCurrent},
    {"ampere", wordCurrent}, {"amperes", wordCurrent}, {"amperage", wordCurrent}, {"strom", wordCurrent},
    {"courant", wordCurrent}, {"corriente", wordCurrent}, {"corrente", wordCurrent}, {"stroom", wordCurrent},
    {"i", wordCurrent},
    {"temp", wordTemp}, {"temperature", wordTemp}, {"tmp", wordTemp}, {"temperatur", wordTemp},
    {"température", wordTemp}, {"temperatura", wordTemp}, {"temperatuur", wordTemp},
    {"rpm", wordRpm}, {"revs", wordRpm}, {"drehzahl", wordRpm}, {"régime", wordRpm}, {"rotation", wordRpm},
    {"toerental", wordRpm}, {"erpm", wordErpm}, {"speed", wordSpeed}, {"velocity", wordSpeed}, {"vel", wordSpeed},
    {"geschwindigkeit", wordSpeed}, {"vitesse", wordSpeed}, {"velocidad", wordSpeed}, {"snelheid", wordSpeed},
    {"throttle", wordThrottle}, {"thr", wordThrottle}, {"thro", wordThrottle}, {"throt", wordThrottle},
    {"gas", wordThrottle}, {"demand", wordThrottle}, {"stick", wordThrottle}, {"trigger", wordThrottle},
    {"brake", wordBrake}, {"brk", wordBrake}, {"braking", wordBrake}, {"bremse", wordBrake},
    {"output", wordOutput}, {"out", wordOutput}, {"modulation", wordOutput}, {"duty", wordDuty},
    {"dutycycle", wordDuty}, {"pwm", wordPwm}, {"ripple", wordRipple}, {"ripp", wordRipple},
    {"lat", wordLatitude}, {"latitude", wordLatitude}, {"breite", wordLatitude}, {"lon", wordLongitude},
    {"lng", wordLongitude}, {"longitude", wordLongitude}, {"länge", wordLongitude},
    {"alt", wordElevation}, {"altitude", wordElevation}, {"elevation", wordElevation}, {"elev", wordElevation},
    {"height", wordElevation}, {"höhe", wordElevation},
    {"acc", wordAcceleration}, {"accel", wordAcceleration}, {"acceleration", wordAcceleration},
    {"gforce", wordAcceleration}, {"g", wordAcceleration}, {"beschleunigung", wordAcceleration},
    {"power", wordPower}, {"watt", wordPower}, {"watts", wordPower}, {"leistung", wordPower},
    {"puissance", wordPower}, {"charge", wordCharge}, {"mah", wordCharge}, {"capacity", wordCharge},
    {"kapazität", wordCharge}, {"consumption", wordCharge}, {"consumed", wordCharge}, {"verbrauch", wordCharge},
    {"event", wordEvent}, {"events", wordEvent}, {"ereignis", wordEvent},
    {"pack", wordPack}, {"batt", wordPack}, {"battery", wordPack}, {"bat", wordPack}, {"lipo", wordPack},
    {"akku", wordPack}, {"batterie", wordPack}, {"supply", wordPack}, {"accu", wordPack}, {"batería", wordPack},
    {"motor", wordMotor}, {"mot", wordMotor}, {"mtr", wordMotor}, {"moteur", wordMotor}, {"stator", wordMotor},
    {"winding", wordMotor}, {"esc", wordController}, {"controller", wordController}, {"ctrl", wordController},
    {"fet", wordController}, {"fets", wordController}, {"mosfet", wordController}, {"inverter", wordController},
    {"regler", wordController}, {"variateur", wordController}, {"drive", wordController},
    {"receiver", wordReceiver}, {"rx", wordReceiver}, {"bec", wordReceiver}, {"servo", wordReceiver},
    {"empfänger", wordReceiver}, {"récepteur", wordReceiver},
    {"gps", wordGround}, {"gnss", wordGround}, {"ground", wordGround}, {"wheel", wordWheel}, {"axle", wordWheel},
    {"spur", wordWheel}, {"cell", wordCell}, {"cells", wordCell}, {"zelle", wordCell}, {"phase", wordPhase},
    {"x", wordX}, {"longitudinal", wordX}, {"y", wordY}, {"lateral", wordY}, {"z", wordZ}, {"vertical", wordZ},
    {"electrical", wordElectrical}, {"elec", wordElectrical}, {"el", wordElectrical}, {"e", wordElectrical},
    {"in", wordIn}, {"input", wordIn}, {"main", wordIn}, {"source", wordIn}, {"total", wordTotal},
    {"the", wordFiller}, {"of", wordFiller}, {"value", wordFiller}, {"sensor", wordFiller}, {"measured", wordFiller},
    {"log", wordFiller}, {"logger", wordFiller}, {"data", wordFiller}, {"position", wordFiller}, {"pos", wordFiller},
    {"cycle", wordFiller}, {"force", wordFiller}, {"used", wordFiller}, {"since", wordFiller}, {"start", wordFiller},
    {"over", wordFiller}, {"channel", wordFiller}, {"ch", wordFiller}, {"reading", wordFiller}, {"raw", wordFiller},
    {"and", wordFiller}, {"peak", wordFiller}, {"pp", wordFiller}, {"to", wordFiller}, {"asked", wordFiller}, {"given", wordFiller},
    {"requested", wordFiller}, {"command", wordFiller}, {"commanded", wordFiller}, {"actual", wordFiller},
    {"applied", wordFiller}, {"rms", wordRms},
    {"min", wordStatistic}, {"max", wordStatistic}, {"avg", wordStatistic}, {"mean", wordStatistic},
    {"average", wordStatistic}, {"minimum", wordStatistic}, {"maximum", wordStatistic}, {"limit", wordStatistic},
    {"setpoint", wordStatistic}, {"target", wordStatistic}, {"cutoff", wordStatistic},
    // Letters of formulas in front of a subject.
    {"vbat", wordVolt | wordPack}, {"ubat", wordVolt | wordPack}, {"vbec", wordVolt | wordReceiver},
    {"vrx", wordVolt | wordReceiver}, {"vpack", wordVolt | wordPack}, {"upack", wordVolt | wordPack},
    {"vin", wordVolt | wordIn}, {"uin", wordVolt | wordIn}, {"ibat", wordCurrent | wordPack},
    {"ipack", wordCurrent | wordPack}, {"imot", wordCurrent | wordMotor}, {"imotor", wordCurrent | wordMotor},
    {"iin", wordCurrent | wordIn}, {"tesc", wordTemp | wordController}, {"tfet", wordTemp | wordController},
    {"tmot", wordTemp | wordMotor}, {"tmotor", wordTemp | wordMotor}, {"tbat", wordTemp | wordPack},
    {"tpack", wordTemp | wordPack}, {"nmot", wordRpm | wordMotor}, {"ax", wordAcceleration | wordX},
    {"ay", wordAcceleration | wordY}, {"az", wordAcceleration | wordZ},
};
// clang-format on

constexpr std::size_t longestWord = 16; // bytes

std::uint64_t lookUp(std::string_view token) {
    static const auto index = [] {
        std::unordered_map<std::string_view, std::uint64_t> words;
        for (const Entry& entry : dictionary)
            words.emplace(entry.text, entry.words);
        return words;
    }();
    if (token.size() > longestWord) return 0;
    const auto found = index.find(token);
    return found == index.end() ? 0 : found->second;
}

// A token that is nothing but known words of three letters and more, as in "packvoltage"; 0 if it is not.
std::uint64_t compound(std::string_view token) {
    if (token.empty() || token.size() > 40) return 0;
    std::array<std::uint64_t, 41> upTo{}; // words of the first n letters; 0 where they do not divide up
    for (std::size_t end = 3; end <= token.size(); ++end) {
        for (std::size_t start = end > longestWord ? end - longestWord : 0; start + 3 <= end; ++start) {
            if (start > 0 && upTo.at(start) == 0) continue;
            const std::uint64_t words = lookUp(token.substr(start, end - start));
            if (words != 0) upTo.at(end) |= words | upTo.at(start);
        }
    }
    return upTo.at(token.size());
}

bool isDigit(char c) { return c >= '0' && c <= '9'; }
bool isUpper(char c) { return c >= 'A' && c <= 'Z'; }
bool isLetter(char c) { return isUpper(c) || (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) > 127; }

// Runs of letters and runs of digits.
std::vector<std::string_view> runs(std::string_view name) {
    std::vector<std::string_view> out;
    std::size_t i = 0;
    while (i < name.size()) {
        const std::size_t start = i;
        if (isDigit(name[i]))
            while (i < name.size() && isDigit(name[i]))
                ++i;
        else if (isLetter(name[i]))
            while (i < name.size() && isLetter(name[i]))
                ++i;
        else {
            ++i;
            continue;
        }
        out.push_back(name.substr(start, i - start));
    }
    return out;
}

// At capitals: "BattVolt" → Batt, Volt; "ESCTemp" → ESC, Temp.
std::vector<std::string_view> atCapitals(std::string_view run) {
    std::vector<std::string_view> out;
    std::size_t start = 0;
    for (std::size_t i = 1; i < run.size(); ++i) {
        const bool rises = isUpper(run[i]) && !isUpper(run[i - 1]);
        const bool lastOfMany = isUpper(run[i]) && isUpper(run[i - 1]) && i + 1 < run.size() && !isUpper(run[i + 1]);
        if (!rises && !lastOfMany) continue;
        out.push_back(run.substr(start, i - start));
        start = i;
    }
    out.push_back(run.substr(start));
    return out;
}

// A formula's letter in front of its subject: "vbatt", "icontroller".
std::uint64_t formula(std::string_view token) {
    constexpr std::uint64_t subjects = wordPack | wordMotor | wordController | wordReceiver | wordRipple;
    if (token.size() < 4 || std::string_view("vuit").find(token[0]) == std::string_view::npos) return 0;
    const std::uint64_t subject = lookUp(token.substr(1));
    if ((subject & subjects) == 0) return 0;
    return subject | (token[0] == 't' ? wordTemp : lookUp(token.substr(0, 1)));
}

void addToken(NameWords& words, const std::string& token) {
    std::uint64_t found = lookUp(token);
    if (found == 0) found = compound(token);
    if (found == 0) found = formula(token);
    words.known |= found;
    words.unknown += found == 0;
    words.tokens.push_back(token);
}

} // namespace

NameWords wordsOf(std::string_view name) {
    NameWords words;
    for (const std::string_view run : runs(name.substr(0, 200))) {
        const std::string whole = lowerAscii(run);
        if (isDigit(run[0])) {
            words.known |= wordNumber;
            words.tokens.push_back(whole);
        } else if (lookUp(whole) != 0 || compound(whole) != 0) {
            addToken(words, whole);
        } else {
            for (const std::string_view part : atCapitals(run))
                addToken(words, lowerAscii(part));
        }
    }
    return words;
}

} // namespace rw
