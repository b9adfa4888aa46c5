#include "plotting/lanes.h"

#include "plotting/lanes_paint.h"
#include "plotting/lanes_room.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>
#include <QWheelEvent>

#include <cmath>
#include <memory>

namespace {

// Two sessions of 100 s at 10 rows a second, 20 s apart; lane 0 counts seconds, lane 1 is in kelvin.
rw::LanesContent twoSessions() {
    auto times = std::make_shared<std::vector<double>>();
    auto seconds = std::make_shared<std::vector<double>>();
    auto kelvin = std::make_shared<std::vector<double>>();
    for (int i = 0; i < 2000; ++i) {
        const double t = 0.1 * i + (i >= 1000 ? 20.0 : 0.0);
        times->push_back(t);
        seconds->push_back(t);
        kelvin->push_back(i >= 300 && i < 400 ? std::nan("") : 273.15 + 40.0);
    }
    rw::LanesContent content;
    content.time = std::make_shared<const rw::LaneTime>(times, *times);
    rw::Lane one{.title = QStringLiteral("speed"), .unit = QStringLiteral("m/s"), .hue = rw::Hue::Speed};
    one.column = std::make_shared<const rw::LaneColumn>(seconds, *seconds);
    rw::Lane two{.title = QStringLiteral("motor"), .unit = QStringLiteral("°C"), .hue = rw::Hue::MotorHeat};
    two.column = std::make_shared<const rw::LaneColumn>(kelvin, *kelvin);
    two.offset = -273.15;
    two.limits.push_back({41.0, QStringLiteral("comfort 41")});
    content.lanes = {one, two};
    content.segments = {{0.0, 100.0, 0.0, QStringLiteral("session 1")},
                        {120.0, 220.0, 120.0, QStringLiteral("session 2")}};
    content.spans = {{30.0, 35.0, QStringLiteral("cutoff acted")}};
    return content;
}

int apart(const QColor& a, const QColor& b) {
    return std::abs(a.red() - b.red()) + std::abs(a.green() - b.green()) + std::abs(a.blue() - b.blue());
}

struct LanesFixture : testing::Test {
    LanesFixture() {
        view.resize(800, 400);
        view.setContent(twoSessions());
        view.show();
        QCoreApplication::processEvents();
    }
    [[nodiscard]] QPoint at(double t, int lane = 0) const {
        const rw::LanesGeometry g = view.geometryNow();
        return QPointF(g.pixelOf(t), g.laneTop(lane) + 20.0).toPoint();
    }
    rw::LanesView view;
};

} // namespace

TEST_F(LanesFixture, thePointerReadsEveryLaneInShownUnits) {
    QSignalSpy spoken(&view, &rw::LanesView::readingChanged);
    QTest::mouseMove(&view, at(50.0));
    EXPECT_GE(spoken.count(), 1);
    const auto readings = view.readings();
    ASSERT_EQ(readings.size(), 2U);
    EXPECT_NEAR(readings[0].value, 50.0, 0.5);
    EXPECT_NEAR(readings[1].value, 40.0, 1e-9);
    view.link()->setCursor(110.0);
    EXPECT_TRUE(std::isnan(view.readings()[0].value)) << "no reading in the gap between sessions";
    view.link()->setCursor(35.0);
    EXPECT_TRUE(std::isnan(view.readings()[1].value)) << "no reading where samples are missing";
    view.link()->setCursor(50.05);
    EXPECT_NEAR(view.readings()[0].value, 50.0, 1e-9) << "the sample at or before the cursor";
}

TEST_F(LanesFixture, aClickSetsTheMarkAndDifferencesCountFromIt) {
    QTest::mouseClick(&view, Qt::LeftButton, {}, at(20.0));
    ASSERT_TRUE(view.link()->anchor().has_value());
    QTest::mouseMove(&view, at(60.0));
    const auto reading = view.readings()[0];
    ASSERT_TRUE(reading.difference.has_value());
    EXPECT_NEAR(*reading.difference, 40.0, 0.8);
    EXPECT_NEAR(reading.between->low, 20.0, 0.5);
    EXPECT_NEAR(reading.between->high, 60.0, 0.5);
    QTest::mouseClick(&view, Qt::LeftButton, {}, at(60.0));
    QTest::mouseMove(&view, at(80.0));
    EXPECT_NEAR(*view.link()->cursor(), 60.0, 0.5) << "held";
    QTest::mouseClick(&view, Qt::LeftButton, {}, at(80.0));
    EXPECT_FALSE(view.link()->anchor().has_value());
}

TEST_F(LanesFixture, wheelDragAndKeysMoveTheAxis) {
    const QPoint middle = at(110.0);
    QWheelEvent wheel(middle, view.mapToGlobal(middle), {}, {0, 240}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                      false);
    QCoreApplication::sendEvent(&view, &wheel);
    EXPECT_NEAR(view.geometryNow().timeOf(middle.x()), 110.0, 0.5) << "the moment under the pointer stays";
    EXPECT_LT(view.link()->range().span(), 150.0);
    const double under = view.geometryNow().timeOf(middle.x());
    QTest::mousePress(&view, Qt::LeftButton, {}, middle);
    QTest::mouseMove(&view, middle + QPoint(50, 0));
    QTest::mouseRelease(&view, Qt::LeftButton, {}, middle + QPoint(50, 0));
    EXPECT_NEAR(view.geometryNow().timeOf(middle.x() + 50), under, 0.5) << "the moment goes with the hand";
    EXPECT_FALSE(view.link()->anchor().has_value()) << "a drag is no click";

    QTest::keyClick(&view, Qt::Key_Home);
    EXPECT_EQ(view.link()->range(), view.link()->bounds());
    view.link()->setCursor(50.0);
    QTest::keyClick(&view, Qt::Key_Plus);
    EXPECT_LT(view.link()->range().span(), view.link()->bounds().span());
    QTest::keyClick(&view, Qt::Key_Space);
    EXPECT_EQ(view.link()->anchor(), 50.0);
    QTest::keyClick(&view, Qt::Key_Right);
    EXPECT_GT(*view.link()->cursor(), 50.0);
    const rw::Range before = view.link()->range();
    QTest::keyClick(&view, Qt::Key_Right, Qt::ShiftModifier);
    EXPECT_GT(view.link()->range().from, before.from);
    QTest::keyClick(&view, Qt::Key_Escape);
    EXPECT_FALSE(view.link()->cursor().has_value());
    QTest::mouseDClick(&view, Qt::LeftButton, {}, at(60.0));
    EXPECT_EQ(view.link()->range(), view.link()->bounds());
}

TEST_F(LanesFixture, heightsFollowWhatIsSeenOnDemand) {
    EXPECT_GE(view.valuesOf(0).to, 219.0);
    view.link()->setRange({10.0, 20.0});
    QTest::keyClick(&view, Qt::Key_F);
    EXPECT_LE(view.valuesOf(0).to, 25.0);
    QTest::keyClick(&view, Qt::Key_F);
    EXPECT_GE(view.valuesOf(0).to, 219.0);
}

TEST_F(LanesFixture, momentsCountFromTheirSession) {
    const rw::LanesContent content = twoSessions();
    EXPECT_EQ(rw::momentText(content, {120.0, 130.0}, 124.4), QStringLiteral("4.40 s"));
    EXPECT_EQ(rw::momentText(content, {0.0, 100.0}, 4.4), QStringLiteral("4.4 s"));
    rw::LanesContent plain;
    EXPECT_EQ(rw::momentText(plain, {0.0, 1000.0}, 125.0), QStringLiteral("2:05"));
}

TEST_F(LanesFixture, differencesCountTheTimeThatReallyPassed) {
    rw::LanesContent content = twoSessions();
    EXPECT_DOUBLE_EQ(rw::passedAt(content, 130.0), 130.0);
    content.segments[0].passed = 0.0;
    content.segments[1].passed = 3600.0; // an hour between the packs, drawn as 20 s
    EXPECT_DOUBLE_EQ(rw::passedAt(content, 50.0), 50.0);
    EXPECT_DOUBLE_EQ(rw::passedAt(content, 130.0), 3610.0);
}

TEST_F(LanesFixture, picturesShowEveryLaneLightAndDark) {
    for (const rw::Look& look : {rw::Look::light(), rw::Look::night()}) {
        view.setPalette(look.palette());
        QCoreApplication::processEvents();
        const QImage image = view.grab().toImage();
        for (const rw::Hue hue : {rw::Hue::Speed, rw::Hue::MotorHeat}) {
            int count = 0;
            for (int y = 0; y < image.height(); ++y) {
                for (int x = 0; x < image.width(); ++x) { // nearer to the lane's colour than to the ground
                    count +=
                        2 * apart(image.pixelColor(x, y), look.hue(hue)) < apart(look.ground, look.hue(hue)) ? 1 : 0;
                }
            }
            EXPECT_GT(count, 150) << static_cast<int>(hue);
        }
    }
}

TEST_F(LanesFixture, csvHoldsTheRowsThatAreSeen) {
    view.link()->setRange({10.0, 20.0});
    const QStringList lines = view.drawing().csv().split(QStringLiteral("\r\n"), Qt::SkipEmptyParts);
    EXPECT_EQ(lines.front(), QStringLiteral("time [s],speed [m/s],motor [°C]"));
    EXPECT_NEAR(static_cast<double>(lines.size()), 101.0, 1.0);
}

TEST(LaneRange, aHairOfNoiseOpensNoStepAndFarLimitsDoNotFlatten) {
    const std::vector<double> values{-1.0, 0.0, 100.0, 240.0};
    rw::Lane lane;
    lane.column = std::make_shared<const rw::LaneColumn>(nullptr, values);
    lane.fromZero = true;
    EXPECT_EQ(rw::laneRange(lane, 0, 4), (rw::Range{0.0, 250.0}));
    lane.limits.push_back({5000.0, {}});
    EXPECT_EQ(rw::laneRange(lane, 0, 4), (rw::Range{0.0, 250.0}));
    lane.limits.push_back({280.0, {}});
    EXPECT_GE(rw::laneRange(lane, 0, 4).to, 272.0);
}

// A line that shakes about its limit over the last quarter and rests far below before: the limit's name stands where it
// does not lie over it. Pixels of the lane by LanesGeometry, the line's own by its closed form.
TEST(LaneRoom, namesOfLimitsStandBesideTheLine) {
    rw::LanesContent content = twoSessions();
    auto times = std::make_shared<std::vector<double>>();
    auto heat = std::make_shared<std::vector<double>>();
    for (int i = 0; i < 2000; ++i) {
        times->push_back(0.1 * i);
        heat->push_back(i < 1500 ? 20.0 : i % 2 == 0 ? 70.0 : 86.0);
    }
    content.segments.clear();
    content.time = std::make_shared<const rw::LaneTime>(times, *times);
    content.lanes = {rw::Lane{.title = QStringLiteral("motor"), .unit = QStringLiteral("°C")}};
    content.lanes[0].column = std::make_shared<const rw::LaneColumn>(heat, *heat);
    content.lanes[0].limits = {{78.0, QStringLiteral("comfort 78")}, {90.0, QStringLiteral("limit 90")}};
    const std::vector<rw::Range> values{{0.0, 100.0}};
    const rw::LanesGeometry g = rw::LanesGeometry::of({800, 300}, 1, {0.0, 200.0});
    const rw::LanesPicture picture{content, values, g, rw::Look::light()};
    const rw::LaneRoom room({picture, 0}, rw::wordColumns(picture));
    const QSizeF words(70, 14);
    const double y = g.pixelOf(0, 78.0, values[0]);
    const auto place = room.beside(y, words, g.left, g.right);
    ASSERT_TRUE(place.has_value());
    EXPECT_LE(place->right(), g.pixelOf(150.0) + 8.0) << "left of where the line comes up to it";
    EXPECT_GT(place->right(), g.pixelOf(150.0) - 40.0) << "and no further than need be";
    EXPECT_FALSE(room.isFree(QRectF(QPointF(g.pixelOf(170.0), y - 14.0), words))) << "over the line";
    EXPECT_FALSE(room.isFree(QRectF(QPointF(g.left, g.pixelOf(0, 90.0, values[0]) - 5.0), words))) << "over a limit";
    rw::LaneRoom taken = room;
    taken.take(*place);
    EXPECT_NE(taken.beside(y, words, g.left, g.right), place);
}
