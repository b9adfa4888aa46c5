#include "app/desktop/shared/settings.h"

#include <QDir>
#include <QFileInfo>
#include <QStandardPaths>

namespace rw {

namespace {

constexpr int recentCount = 10;

// Choices are kept by name: a renumbered enum never changes what a person chose.
template<typename Enum, std::size_t N>
Enum chosen(const QString& text, const std::pair<const char*, Enum> (&names)[N]) {
    for (const auto& [name, value] : names)
        if (text == QLatin1String(name)) return value;
    return names[0].second;
}

template<typename Enum, std::size_t N>
QString nameOf(Enum value, const std::pair<const char*, Enum> (&names)[N]) {
    for (const auto& [name, candidate] : names)
        if (candidate == value) return QLatin1String(name);
    return {};
}

constexpr std::pair<const char*, Appearance> appearances[] = {
    {"desktop", Appearance::Desktop}, {"light", Appearance::Light}, {"dark", Appearance::Dark}};
constexpr std::pair<const char*, SpeedUnit> speeds[] = {
    {"km/h", SpeedUnit::Kmh}, {"mph", SpeedUnit::Mph}, {"m/s", SpeedUnit::Mps}};
constexpr std::pair<const char*, TemperatureUnit> temperatures[] = {{"celsius", TemperatureUnit::Celsius},
                                                                    {"fahrenheit", TemperatureUnit::Fahrenheit}};
constexpr std::pair<const char*, LengthUnit> lengths[] = {{"metric", LengthUnit::Metric}, {"inch", LengthUnit::Inch}};
constexpr std::pair<const char*, MassUnit> masses[] = {{"metric", MassUnit::Metric}, {"pound", MassUnit::Pound}};

} // namespace

Settings::Settings(const QString& fileName, QObject* parent)
    : QObject(parent)
    , store_(fileName.isEmpty() ? QSettings(QStringLiteral("runwright"), QStringLiteral("runwright")).fileName()
                                : fileName,
             QSettings::IniFormat)
    , ownFile_(!fileName.isEmpty()) {}

Appearance Settings::appearance() const {
    return chosen(store_.value(QStringLiteral("appearance")).toString(), appearances);
}

void Settings::setAppearance(Appearance value) {
    if (value == appearance()) return;
    store_.setValue(QStringLiteral("appearance"), nameOf(value, appearances));
    emit appearanceChanged();
}

QString Settings::garageFile() const { return store_.value(QStringLiteral("garage")).toString(); }

QStringList Settings::recentFiles() const { return store_.value(QStringLiteral("recent")).toStringList(); }

void Settings::addRecentFile(const QString& path) {
    const QString absolute = QDir::cleanPath(QFileInfo(path).absoluteFilePath());
    QStringList files = recentFiles();
    files.removeAll(absolute);
    files.prepend(absolute);
    while (files.size() > recentCount)
        files.removeLast();
    store_.setValue(QStringLiteral("recent"), files);
    emit recentFilesChanged();
}

void Settings::clearRecentFiles() {
    store_.remove(QStringLiteral("recent"));
    emit recentFilesChanged();
}

QByteArray Settings::state(const QString& name) const {
    return store_.value(QStringLiteral("state/") + name).toByteArray();
}
void Settings::setState(const QString& name, const QByteArray& state) {
    store_.setValue(QStringLiteral("state/") + name, state);
}
QString Settings::text(const QString& name) const { return store_.value(QStringLiteral("choice/") + name).toString(); }
void Settings::setText(const QString& name, const QString& text) {
    store_.setValue(QStringLiteral("choice/") + name, text);
}

QString Settings::stateFolder() const {
    if (ownFile_) return QFileInfo(store_.fileName()).absolutePath() + QStringLiteral("/state");
#ifdef Q_OS_LINUX
    // XDG Base Directory Specification 0.8; Qt before 6.7 does not know it.
    const QString given = qEnvironmentVariable("XDG_STATE_HOME");
    const QString base = QDir::isAbsolutePath(given) ? given : QDir::homePath() + QStringLiteral("/.local/state");
    return base + QStringLiteral("/runwright");
#else
    return QStandardPaths::writableLocation(QStandardPaths::AppLocalDataLocation);
#endif
}

namespace {

// What of the switch is kept, by the name of its key.
template<class Each>
void eachUnit(const Each& each) {
    each("speed", &UnitChoice::speed, speeds);
    each("temperature", &UnitChoice::temperature, temperatures);
    each("length", &UnitChoice::length, lengths);
    each("mass", &UnitChoice::mass, masses);
}

QString unitKey(const char* name) { return QLatin1String("units/") + QLatin1String(name); }

} // namespace

void Settings::load(Units& units) const {
    eachUnit([&](const char* name, auto which, const auto& names) {
        units.set(which, chosen(store_.value(unitKey(name)).toString(), names));
    });
}

void Settings::follow(Units& units) {
    connect(&units, &Units::changed, this, [this, &units] {
        eachUnit([&](const char* name, auto which, const auto& names) {
            store_.setValue(unitKey(name), nameOf(units.choice().*which, names));
        });
    });
}

} // namespace rw
