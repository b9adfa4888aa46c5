#include "core/log/gps.h"

#include "core/error.h"

#include <GeographicLib/Geodesic.hpp>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <numbers>
#include <utility>

namespace {

using rw::GpsTrack;

// Sentences with published checksums: the examples that NMEA 0183 primers and public receivers' documentation share.
constexpr const char* rmcMunich = "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\r\n";
constexpr const char* ggaMunich = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\r\n";
constexpr const char* rmcVancouver = "$GPRMC,225446,A,4916.45,N,12311.12,W,000.5,054.7,191194,020.3,E*68\r\n";
constexpr const char* rmcMelbourne = "$GPRMC,081836,A,3751.65,S,14507.36,E,000.0,360.0,130998,011.3,E*62\r\n";
constexpr const char* vtg = "$GPVTG,054.7,T,034.4,M,005.5,N,010.2,K*48\r\n";
constexpr const char* zda = "$GPZDA,160012.71,11,03,2004,-1,00*7D\r\n";

// With the checksum that NMEA 0183 prescribes: the exclusive or of the bytes between $ and *.
std::string sentence(const std::string& body) {
    unsigned sum = 0;
    for (const char c : body)
        sum ^= static_cast<unsigned char>(c);
    char text[8];
    std::snprintf(text, sizeof text, "*%02X\r\n", sum);
    return "$" + body + text;
}

GpsTrack nmea(const std::string& text) { return rw::readNmea(text, "day.nmea"); }

TEST(Nmea, rmcGivesPlaceSpeedAndDate) {
    const GpsTrack track = nmea(rmcMunich);
    ASSERT_EQ(track.fixes.size(), 1U);
    const rw::GpsFix& fix = track.fixes[0];
    EXPECT_NEAR(fix.latitude, 48.1173, 1e-9);
    EXPECT_NEAR(fix.longitude, 11.0 + 31.0 / 60.0, 1e-9);
    EXPECT_NEAR(fix.speed, 22.4 * 1852.0 / 3600.0, 1e-12); // international knot, BIPM SI brochure
    EXPECT_TRUE(fix.speedMeasured);
    // 1994-03-23T12:35:19Z in seconds since 1970: a two-digit year from 80 on is 19xx.
    EXPECT_EQ(fix.time, 764426119.0);
    EXPECT_TRUE(track.dated);
}

TEST(Nmea, southAndWestAreNegative) {
    EXPECT_NEAR(nmea(rmcVancouver).fixes.at(0).longitude, -(123.0 + 11.12 / 60.0), 1e-9);
    EXPECT_NEAR(nmea(rmcVancouver).fixes.at(0).speed, 0.2572222, 1e-7);
    EXPECT_NEAR(nmea(rmcMelbourne).fixes.at(0).latitude, -(37.0 + 51.65 / 60.0), 1e-9);
}

TEST(Nmea, sentencesOfOneTimeMakeOneFix) {
    const GpsTrack track = nmea(std::string(rmcMunich) + ggaMunich + vtg);
    ASSERT_EQ(track.fixes.size(), 1U);
    EXPECT_EQ(track.fixes[0].elevation, 545.4);
    EXPECT_NEAR(track.fixes[0].speed, 2.8294444, 1e-7) << "VTG belongs to the fix being gathered: 5.5 kn";
    EXPECT_EQ(track.refused, 0U);
}

TEST(Nmea, zdaTellsTheDateInUtcWhateverTheLocalZone) {
    const GpsTrack track =
        nmea(std::string(zda) + sentence("GPGGA,160012.71,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,"));
    ASSERT_EQ(track.fixes.size(), 1U);
    EXPECT_NEAR(track.fixes[0].time, 1079020812.71, 1e-6); // 2004-03-11T16:00:12.71Z
}

TEST(Nmea, aFixBeforeTheFirstDateBelongsToThatDay) {
    const GpsTrack track = nmea(sentence("GPGGA,123518,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,") + rmcMunich);
    ASSERT_EQ(track.fixes.size(), 2U);
    EXPECT_EQ(track.fixes[1].time - track.fixes[0].time, 1.0);
}

TEST(Nmea, withoutADateMidnightIsPassed) {
    const GpsTrack track = nmea(sentence("GPGGA,235959,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,") +
                                sentence("GPGGA,000000,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,"));
    ASSERT_EQ(track.fixes.size(), 2U);
    EXPECT_EQ(track.fixes[1].time, 86400.0);
    EXPECT_FALSE(track.dated);
}

TEST(Nmea, noFixIsNoPositionAndNoMistake) {
    // As receivers without a fix send them; checksums as published.
    const GpsTrack track =
        nmea("$GPRMC,000700.800,V,,,,,0.00,0.00,060180,,,N*4D\r\n$GNVTG,,T,,M,0.140,N,0.260,K,A*3C\r\n");
    EXPECT_TRUE(track.fixes.empty());
    EXPECT_EQ(track.withoutFix, 1U);
    EXPECT_EQ(track.refused, 0U);
}

TEST(Nmea, wrongChecksumsAreRefusedAndCounted) {
    // Both stand in public code with these checksums; computed they are 34 and 08.
    const GpsTrack track = nmea("$GNRMC,204520.00,A,5109.0262239,S,11401.8407338,E,0.004,102.3,130522,0.0,E,D*3B\r\n"
                                "$GPGGA,143909.00,A,5107.0020216,N,11402.3294835,W,1,04,1.0,64.6,M,-26.5,M,,*13\r\n");
    EXPECT_TRUE(track.fixes.empty());
    EXPECT_EQ(track.refused, 2U);
}

TEST(Nmea, otherMistakesAreRefusedToo) {
    const std::string head = "GPRMC,123519,A,";
    for (const std::string& body :
         {head + "4860.000,N,01131.000,E,022.4,084.4,230394,,", head + "9107.038,N,01131.000,E,022.4,084.4,230394,,",
          head + "4807.038,X,01131.000,E,022.4,084.4,230394,,", head + "4807.038,N,01131.000,E,-2.4,084.4,230394,,",
          head + "4807.038,N,01131.000,E,022.4,084.4,310294,,",
          std::string("GPRMC,126019,A,4807.038,N,01131.000,E,022.4,084.4,230394,,"), head + "4807.038,N"}) {
        const GpsTrack track = nmea(sentence(body));
        EXPECT_TRUE(track.fixes.empty()) << body;
        EXPECT_EQ(track.refused, 1U) << body;
    }
    EXPECT_EQ(nmea("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W\r\n").refused, 1U)
        << "no checksum";
    EXPECT_EQ(nmea(std::string(rmcMunich) + rmcMunich +
                   sentence("GPRMC,123518,A,4807.038,N,01131.000,E,022.4,084.4,230394,,"))
                  .refused,
              1U)
        << "time that does not rise";
}

TEST(Nmea, unknownSentencesArePassedOver) {
    const GpsTrack track = nmea(std::string(rmcMunich) + sentence("GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1"));
    EXPECT_EQ(track.fixes.size(), 1U);
    EXPECT_EQ(track.refused, 0U);
}

std::string gpx(const std::string& points,
                const std::string& root =
                    "<gpx version=\"1.1\" creator=\"invented\" xmlns=\"http://www.topografix.com/GPX/1/1\">") {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + root + "<trk><name>invented</name><trkseg>" + points +
           "</trkseg></trk></gpx>";
}

std::string point(double longitude, const std::string& time, const std::string& more = "") {
    return "<trkpt lat=\"0\" lon=\"" + std::to_string(longitude) + "\"><ele>12.5</ele><time>" + time + "</time>" +
           more + "</trkpt>";
}

// GPX 1.1 schema: trkpt is wptType, lat and lon required, children ele and time in that order; time is UTC.
TEST(Gpx, readsTrackPointsAndWorksOutSpeed) {
    const GpsTrack track =
        rw::readGps(gpx(point(10.0, "2026-05-04T12:00:00Z") + point(10.001, "2026-05-04T12:00:02.5Z") +
                        point(10.002, "2026-05-04T12:00:05Z")),
                    "day.gpx");
    ASSERT_EQ(track.fixes.size(), 3U);
    EXPECT_EQ(track.fixes[0].elevation, 12.5);
    EXPECT_FALSE(track.fixes[1].speedMeasured);
    // 0.002° on the equator of WGS84: 2π · 6378137 m · 0.002/360 over 5 s.
    EXPECT_NEAR(track.fixes[1].speed, 2.0 * std::numbers::pi * 6378137.0 * 0.002 / 360.0 / 5.0, 1e-6);
    EXPECT_NEAR(track.rate_Hz, 0.4, 1e-12);
    EXPECT_EQ(track.notes.size(), 2U) << "speeds worked out; under five fixes a second";
}

TEST(Gpx, aSpeedThatIsToldIsTaken) {
    // GPX 1.0 has <speed> (m/s); 1.1 leaves it to extensions.
    const std::string nested =
        "<extensions><x:more xmlns:x=\"urn:invented\"><x:speed>31.5</x:speed></x:more></extensions>";
    const GpsTrack track = rw::readGps(
        gpx(point(10.0, "2026-05-04T12:00:00Z", "<speed>30.5</speed>") + point(10.001, "2026-05-04T12:00:01Z", nested)),
        "day.gpx");
    EXPECT_EQ(track.fixes[0].speed, 30.5);
    EXPECT_EQ(track.fixes[1].speed, 31.5);
    EXPECT_TRUE(track.fixes[1].speedMeasured);
}

TEST(Gpx, pointsOutsideTheSchemasRangesAreRefused) {
    const std::string good = point(10.0, "2026-05-04T12:00:00Z") + point(10.001, "2026-05-04T12:00:01Z");
    const GpsTrack track =
        rw::readGps(gpx(good + "<trkpt lat=\"91\" lon=\"0\"><time>2026-05-04T12:00:02Z</time></trkpt>"
                               "<trkpt lat=\"0\" lon=\"180\"><time>2026-05-04T12:00:03Z</time></trkpt>"
                               "<trkpt lat=\"0\"><time>2026-05-04T12:00:04Z</time></trkpt>"
                               "<trkpt lat=\"0\" lon=\"10\"/>"
                               "<trkpt lat=\"0\" lon=\"10\"><time>2026-05-04T11:00:00Z</time></trkpt>"
                               "<trkpt lat=\"0\" lon=\"10\"><time>2026-05-04T12:00:09Z</time><fix>none</fix></trkpt>"),
                    "day.gpx");
    EXPECT_EQ(track.fixes.size(), 2U);
    EXPECT_EQ(track.refused, 5U);
    EXPECT_EQ(track.withoutFix, 1U);
}

// A track of two segments in two tracks, long enough to be read piece by piece; extra stands in the middle of it.
std::string longTrack(const std::string& extra) {
    std::string text = "<gpx xmlns=\"http://www.topografix.com/GPX/1/1\"><!-- made up --><metadata/>";
    int second = 0;
    for (int part = 0; part < 2; ++part) {
        text += "<trk><name>day " + std::to_string(part) + "</name><trkseg>\n";
        for (int i = 0; i < 8000; ++i, ++second) {
            char stamp[64];
            std::snprintf(stamp, sizeof stamp, "2026-05-04T%02d:%02d:%02dZ", 1 + second / 3600, second / 60 % 60,
                          second % 60);
            const bool odd = i % 1000 == 7;
            text += point(10.0 + 1e-5 * second, odd ? "yesterday" : stamp, i % 3 == 0 ? "<ele>512.5</ele>" : "") + "\n";
            if (part == 1 && i == 4000) text += extra;
        }
        text += "</trkseg></trk>";
    }
    return text + "<extensions><trkpt lat=\"1\" lon=\"1\"/></extensions></gpx>";
}

// A comment between points has the document read whole: the same fixes must come out.
TEST(Gpx, aLongTrackReadInPiecesIsTheTrackReadWhole) {
    const GpsTrack pieces = rw::readGps(longTrack(""), "day.gpx"),
                   whole = rw::readGps(longTrack("<!-- -->"), "day.gpx");
    ASSERT_EQ(pieces.fixes.size(), 16'000U - 16U);
    EXPECT_EQ(pieces.refused, 16U);
    ASSERT_EQ(pieces.fixes.size(), whole.fixes.size());
    EXPECT_EQ(pieces.refused, whole.refused);
    for (std::size_t i = 0; i < whole.fixes.size(); ++i) {
        ASSERT_EQ(pieces.fixes[i].time, whole.fixes[i].time) << i;
        ASSERT_EQ(pieces.fixes[i].latitude, whole.fixes[i].latitude) << i;
        ASSERT_EQ(pieces.fixes[i].speed, whole.fixes[i].speed) << i;
        ASSERT_EQ(std::isnan(pieces.fixes[i].elevation), std::isnan(whole.fixes[i].elevation)) << i;
    }
}

TEST(Gpx, whatIsBrokenInALongTrackIsToldByItsLine) {
    for (const std::string& broken :
         {std::string("<trkpt"), std::string("</trkpt>"), std::string("</trkseg>"), std::string("<ele>"),
          std::string("<![CDATA[ <trkpt lat=\"1\" lon=\"1\">"), std::string("\0", 1)}) {
        try {
            (void)rw::readGps(longTrack(broken), "day.gpx");
            ADD_FAILURE() << broken;
        } catch (const rw::InputError& error) {
            EXPECT_NE(std::string(error.what()).find("is not well-formed XML"), std::string::npos) << error.what();
        }
    }
}

// Points within other elements count where the schema has none: they are not cut apart either.
TEST(Gpx, pointsWithinPointsAreNoPoints) {
    const GpsTrack track =
        rw::readGps(longTrack(point(11.0, "2026-05-04T23:00:00Z",
                                    "<extensions>" + point(12.0, "2026-05-04T23:30:00Z") + "</extensions>")),
                    "day.gpx");
    EXPECT_EQ(track.fixes.size(), 4001U + 8000U - 12U + 1U) << "those behind 23:00 step back in time";
}

// Receivers of 5 Hz stamp a shade less.
TEST(Gpx, almostFiveFixesASecondCountAsFive) {
    for (const auto& [step, slow] : {std::pair{0.2, false}, {0.204, false}, {1.0 / 4.9, false}, {0.21, true}}) {
        std::string points;
        for (int i = 0; i < 50; ++i) {
            char stamp[64];
            std::snprintf(stamp, sizeof stamp, "2026-05-04T12:00:%06.3fZ", step * i);
            points += point(10.0 + 1e-5 * i, stamp);
        }
        EXPECT_EQ(rw::tooFewFixes(rw::readGps(gpx(points), "day.gpx").rate_Hz), slow) << step;
    }
}

TEST(Gps, whatIsNeitherIsRefusedInOneLine) {
    for (const std::string& text :
         {std::string(), std::string("hello"), std::string("<html/>"), std::string("<gpx><trk>"),
          gpx(point(10.0, "2026-05-04T12:00:00Z")), std::string(rmcMunich), std::string("\0\0\0\0", 4)}) {
        try {
            (void)rw::readGps(text, "day.gpx");
            ADD_FAILURE() << text;
        } catch (const rw::InputError& error) {
            EXPECT_EQ(std::string(error.what()).find('\n'), std::string::npos);
            EXPECT_NE(std::string(error.what()).find("day.gpx"), std::string::npos);
        }
    }
}

TEST(Gps, deepNestingIsNoDanger) {
    std::string deep = "<gpx>";
    for (int i = 0; i < 200'000; ++i)
        deep += "<a>";
    EXPECT_THROW((void)rw::readGps(deep, "deep.gpx"), rw::InputError);
}

TEST(GroundDistance, followsTheEllipsoid) {
    // Geocentric Datum of Australia technical manual: Flinders Peak to Buninyong, 54972.271 m.
    EXPECT_NEAR(rw::groundDistance(-(37.0 + 57.0 / 60.0 + 3.72030 / 3600.0), 144.0 + 25.0 / 60.0 + 29.52440 / 3600.0,
                                   -(37.0 + 39.0 / 60.0 + 10.15610 / 3600.0), 143.0 + 55.0 / 60.0 + 35.38390 / 3600.0),
                54972.271, 1e-3);
    // GeographicLib documentation, Wellington to Salamanca.
    EXPECT_NEAR(rw::groundDistance(-41.32, 174.81, 40.96, -5.50), 19959679.267, 1e-3);
    // 100 m on WGS84, direct solution printed to nine decimals; a mean sphere would say 99.8882 and 100.5614 m.
    EXPECT_NEAR(rw::groundDistance(0.0, 10.0, 0.0, 10.000898315), 100.0, 2e-4);
    EXPECT_NEAR(rw::groundDistance(0.0, 10.0, 0.000904369, 10.0), 100.0, 2e-4);
    EXPECT_NEAR(rw::groundDistance(60.0, 10.0, 60.0, 10.001792115), 100.0, 2e-4);
}

// Where a step is short another formula is used: it must agree with the library's geodesic (GeographicLib, Karney
// 2013).
TEST(GroundDistance, shortStepsAgreeWithTheGeodesic) {
    for (const double latitude : {-79.9, -45.0, -1e-4, 0.0, 30.0, 52.5, 79.9})
        for (const double north : {0.0, 1e-6, -0.0031, 0.00999})
            for (const double east : {0.0, 2e-6, 0.0047, -0.00999}) {
                double expected = 0.0;
                GeographicLib::Geodesic::WGS84().Inverse(latitude, 179.0, latitude + north, 179.0 + east, expected);
                EXPECT_NEAR(rw::groundDistance(latitude, 179.0, latitude + north, 179.0 + east), expected,
                            1e-8 * expected + 1e-9)
                    << latitude << " " << north << " " << east;
            }
}

} // namespace
