#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/units.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTemporaryDir>

using namespace rw;

// Factors: BIPM, The International System of Units, 9th ed., and NIST SP 811 (2008), appendix B.8: mile 1609.344 m,
// inch 25.4 mm, foot 0.3048 m, pound 0.45359237 kg, all exact; °F = 1.8 °C + 32.
TEST(Units, speedIsShownInTheChosenUnit) {
    Units units;
    units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    EXPECT_EQ(units.text(Dimension::Speed, 10.0), QStringLiteral("36.0\u00a0km/h"));
    units.set(&UnitChoice::speed, SpeedUnit::Mph);
    EXPECT_EQ(units.text(Dimension::Speed, 44.704), QStringLiteral("100.0\u00a0mph"));
    units.set(&UnitChoice::speed, SpeedUnit::Mps);
    EXPECT_EQ(units.text(Dimension::Speed, 42.04), QStringLiteral("42.0\u00a0m/s"));
}

TEST(Units, temperatureLengthAndMassFollowTheirOwnSwitch) {
    Units units;
    units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit);
    EXPECT_EQ(units.text(Dimension::Temperature, 100.0), QStringLiteral("212\u00a0°F"));
    EXPECT_EQ(units.text(Dimension::Temperature, -40.0), QStringLiteral("\u221240\u00a0°F"));
    units.set(&UnitChoice::length, LengthUnit::Inch);
    EXPECT_EQ(units.text(Dimension::Length, 0.0254), QStringLiteral("1.000\u00a0in"));
    EXPECT_EQ(units.text(Dimension::Distance, 30.48), QStringLiteral("100\u00a0ft"));
    units.set(&UnitChoice::mass, MassUnit::Pound);
    EXPECT_EQ(units.text(Dimension::Mass, 0.45359237), QStringLiteral("1.00\u00a0lb"));
}

TEST(Units, whatIsShownReadsBackToTheSameValue) {
    Units units;
    units.set(&UnitChoice::speed, SpeedUnit::Mph);
    units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit);
    for (const Dimension dimension :
         {Dimension::Speed, Dimension::Temperature, Dimension::Length, Dimension::Mass, Dimension::Pressure}) {
        const UnitView view = units.of(dimension);
        EXPECT_NEAR(view.inside(view.shown(37.25)), 37.25, 1e-12);
    }
}

TEST(Units, tellsOnlyOfAChange) {
    Units units;
    const QSignalSpy spy(&units, &Units::changed);
    units.set(&UnitChoice::speed, units.choice().speed);
    EXPECT_EQ(spy.count(), 0);
    units.set(&UnitChoice::speed, SpeedUnit::Mph);
    EXPECT_EQ(spy.count(), 1);
}

TEST(Units, aMissingValueIsADash) {
    const Units units;
    EXPECT_EQ(units.text(Dimension::Speed, std::nullopt), QStringLiteral("–"));
    EXPECT_EQ(units.figure(Dimension::Speed, std::nan("")), QStringLiteral("–"));
}

TEST(Settings, rememberUnitsAppearanceAndTheTenNewestFiles) {
    const QTemporaryDir folder;
    const QString file = folder.filePath(QStringLiteral("settings.ini"));
    {
        Settings settings(file);
        Units units;
        settings.follow(units);
        units.set(&UnitChoice::speed, SpeedUnit::Mph);
        units.set(&UnitChoice::mass, MassUnit::Pound);
        settings.setAppearance(Appearance::Dark);
        for (int i = 0; i < 12; ++i)
            settings.addRecentFile(QStringLiteral("/logs/%1.csv").arg(i));
        settings.addRecentFile(QStringLiteral("/logs/5.csv"));
    }
    const Settings again(file);
    Units units;
    again.load(units);
    EXPECT_EQ(units.choice().speed, SpeedUnit::Mph);
    EXPECT_EQ(units.choice().mass, MassUnit::Pound);
    EXPECT_EQ(again.appearance(), Appearance::Dark);
    ASSERT_EQ(again.recentFiles().size(), 10);
    EXPECT_EQ(again.recentFiles().first(), QStringLiteral("/logs/5.csv"));
    EXPECT_EQ(again.recentFiles().count(QStringLiteral("/logs/5.csv")), 1);
    EXPECT_EQ(again.recentFiles().last(), QStringLiteral("/logs/2.csv"));
}
