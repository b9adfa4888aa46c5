#include "core/log/column_words.h"

#include "core/log/ascii_text.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <unordered_map>

namespace rw {
namespace {

// Words of one meaning, without capitals and accents: English, German, French, Spanish, Italian, some Dutch.
struct Meaning {
    std::uint64_t words;
    std::string_view spellings; // one blank between
};
// clang-format off
constexpr Meaning dictionary[] = {
    {wordTime, "time timestamp stamp clock elapsed seconds secs sec millis datetime uptime runtime zeit "
        "uhrzeit zeitstempel zeitmarke sekunde sekunden millisekunden laufzeit temps heure horodatage seconde "
        "secondes tiempo hora segundo segundos tempo ora orario secondo secondi tijd"},
    {wordDate, "date datum fecha"},
    {wordT, "t"},
    {wordVolt, "voltage volt volts v u spannung tension voltaje voltios tensione voltaggio spanning"},
    {wordCurrent, "current curr amp amps ampere amperes amperage i strom stromstaerke stromstarke courant "
        "intensite corriente intensidad amperaje amperios corrente intensita stroom"},
    {wordTemp, "temp temperature tmp temperatur temperatura temperatuur"},
    {wordRpm, "rpm revs rotation drehzahl umdrehung umdrehungen umdr regime tours revoluciones vueltas giri "
        "toerental"},
    {wordErpm, "erpm"},
    {wordSpeed, "speed velocity vel geschwindigkeit geschw vitesse velocidad velocita snelheid"},
    {wordThrottle, "throttle thr thro throt gas demand stick trigger gasgeber gashebel fahrhebel knueppel "
        "knuppel drossel gaz accelerateur gachette manette manche papillon acelerador palanca gatillo "
        "acceleratore grilletto manetta farfalla"},
    {wordBrake, "brake brk braking bremse bremsen frein freinage freno frenado frenata"},
    {wordOutput, "output out modulation ausgang ausgabe aussteuerung stellgrad stellgroesse stellgrosse "
        "oeffnung offnung sortie ouverture salida uscita apertura"},
    {wordDuty, "duty dutycycle tastgrad tastverhaeltnis tastverhaltnis einschaltdauer cyclique trabajo"},
    {wordPwm, "pwm"},
    {wordRipple, "ripple ripp welligkeit restwelligkeit brummspannung ondulation rizado ondulazione"},
    {wordLatitude, "lat latitude breite breitengrad latitud latitudine"},
    {wordLongitude, "lon lng longitude laenge lange laengengrad langengrad longitud longitudine"},
    {wordElevation, "alt altitude elevation elev height hoehe hohe hauteur altitud altura altitudine quota "
        "altezza"},
    {wordAcceleration, "acc accel acceleration gforce g beschleunigung aceleracion accelerazione"},
    {wordPower, "power watt watts leistung puissance potencia vatios potenza"},
    {wordCharge, "charge mah capacity consumption consumed ladung kapazitaet kapazitat verbrauch capacite "
        "consommation carga capacidad consumo carica capacita"},
    {wordEvent, "event events ereignis ereignisse evenement evenements evento eventos eventi"},
    {wordPack, "pack batt battery bat lipo supply akku akkupack batterie akkus accu accus alimentation "
        "bateria alimentacion batteria pacco alimentazione"},
    {wordMotor, "motor mot mtr stator moteur motore"},
    {wordWinding, "winding windings wicklung bobinage bobinado avvolgimento"},
    {wordCase, "case casing housing gehaeuse gehause carcasse carcasa carcassa"},
    {wordController, "esc controller ctrl fet fets mosfet inverter drive regler fahrregler fahrtregler "
        "steller variateur controleur variador regulador controlador regolatore controllore variatore"},
    {wordReceiver, "receiver rx bec servo empfaenger empfanger recepteur receptor ricevente ricevitore"},
    {wordGround, "gps gnss ground boden grund sol suelo suolo"},
    {wordWheel, "wheel axle spur rad raeder achse roue roues essieu rueda ruedas eje ruota ruote asse"},
    {wordCell, "cell cells zelle zellen cellule cellules element elements celda celdas cella celle"},
    {wordPhase, "phase phasen fase fasi"},
    {wordX, "x longitudinal laengs langs longitudinale"},
    {wordY, "y lateral quer laterale"},
    {wordZ, "z vertical vertikal verticale"},
    {wordElectrical, "electrical elec el e elektrisch elektrische electrique electrica electrico elettrica "
        "elettrico elettrici"},
    {wordIn, "in input main source eingang entree entrada ingresso"},
    {wordTotal, "total gesamt totale"},
    {wordFiller, "the of value sensor measured log logger data position pos cycle force used since start "
        "over channel ch reading raw and peak pp to asked given requested command commanded actual applied "
        "der die das des dem am an im vom von und pro wert messwert mess kanal stellung ist lauf entnommen "
        "entnommene verbraucht verbrauchte fahr de du la le les l d et a au aux en valeur capteur mesure voie "
        "rapport commande ecoule utilisee consommee par minute del los las valor canal ciclo por minuto mando "
        "transcurrido utilizada consumida medida di da dal della dello dei al allo il lo valore canale "
        "sensore comando per trascorso usata consumata misura misurata"},
    {wordRms, "rms eff effektiv effektivwert efficace eficaz"},
    {wordStatistic, "min max avg mean average minimum maximum limit setpoint target cutoff mittel mittelwert "
        "durchschnitt grenze grenzwert soll sollwert abschaltung moyen moyenne maxi mini limite consigne "
        "coupure media medio maximo minimo maxima minima corte objetivo massimo massima obiettivo soglia"},
    {wordN, "n"},
    {wordP, "p"},
    {wordQ, "q"},
    // Letters of formulas in front of a subject.
    {wordVolt | wordPack, "vbat ubat vpack upack"}, {wordVolt | wordReceiver, "vbec vrx"}, {wordVolt | wordIn, "vin uin"},
    {wordCurrent | wordPack, "ibat ipack"}, {wordCurrent | wordMotor, "imot imotor"}, {wordCurrent | wordIn, "iin"},
    {wordTemp | wordController, "tesc tfet"}, {wordTemp | wordMotor, "tmot tmotor"}, {wordTemp | wordPack, "tbat tpack"},
    {wordRpm | wordMotor, "nmot"}, {wordAcceleration | wordX, "ax"}, {wordAcceleration | wordY, "ay"},
    {wordAcceleration | wordZ, "az"},
};
// clang-format on

constexpr std::size_t longestWord = 19; // bytes

std::uint64_t lookUp(std::string_view token) {
    static const auto index = [] {
        std::unordered_map<std::string_view, std::uint64_t> words;
        for (const Meaning& meaning : dictionary)
            for (std::string_view rest = meaning.spellings; !rest.empty();) {
                const std::string_view word = rest.substr(0, rest.find(' '));
                words.emplace(word, meaning.words);
                rest.remove_prefix(std::min(word.size() + 1, rest.size()));
            }
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

// UTF-8 letters of Latin-1 → their ASCII letters, capitals kept: "É" → "E", "ß" → "ss"; its signs ("°") → blanks.
// Others stay.
std::string withoutAccents(std::string_view text) {
    // U+00C0 to U+00FF, "?" where there is no such letter.
    constexpr std::string_view base = "AAAAAAACEEEEIIIIDNOOOOO?OUUUUY?saaaaaaaceeeeiiiidnooooo?ouuuuy?y";
    std::string plain;
    plain.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto next = i + 1 < text.size() ? static_cast<unsigned char>(text[i + 1]) : 0U;
        if (text[i] == '\xC2' && next >= 0x80U && next < 0xC0U) {
            plain.push_back(' ');
            ++i;
            continue;
        }
        const char letter = text[i] == '\xC3' && next >= 0x80U && next < 0xC0U ? base[next - 0x80U] : '?';
        if (letter == '?') {
            plain.push_back(text[i]);
            continue;
        }
        plain.push_back(letter);
        if (next == 0x9FU) plain.push_back('s');
        ++i;
    }
    return plain;
}

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
    const std::string plain = withoutAccents(name.substr(0, 200));
    for (const std::string_view run : runs(plain)) {
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
