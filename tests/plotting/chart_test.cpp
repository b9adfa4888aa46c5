#include "plotting/chart.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTest>

#include <cmath>

namespace {

rw::ChartContent line() {
    rw::ChartContent content;
    content.x = {.title = QStringLiteral("distance"), .unit = QStringLiteral("m"), .decimals = 0};
    content.y = {.title = QStringLiteral("speed"), .unit = QStringLiteral("m/s"), .decimals = 1, .fromZero = true};
    rw::ChartSeries series{.name = QStringLiteral("26/44"), .hue = rw::Hue::Speed};
    for (int i = 0; i <= 100; ++i) {
        series.x.push_back(i);
        series.y.push_back(0.5 * i);
    }
    content.series.push_back(series);
    return content;
}

struct ChartFixture : testing::Test {
    ChartFixture() {
        chart.resize(480, 280);
        chart.setContent(line());
        chart.show();
        QCoreApplication::processEvents();
    }
    rw::Chart chart;
};

QPixmap pictureOf(const rw::Chart& chart, QSize size, double scale) {
    rw::Drawing drawing = chart.drawing();
    drawing.size = size;
    return rw::drawingPixmap(drawing, scale);
}

int coloured(const QPixmap& pixmap, const QColor& color) {
    const QImage image = pixmap.toImage();
    int count = 0;
    for (int y = 0; y < image.height(); ++y) {
        for (int x = 0; x < image.width(); ++x) {
            const QColor at = image.pixelColor(x, y);
            const int apart = std::abs(at.red() - color.red()) + std::abs(at.green() - color.green()) +
                              std::abs(at.blue() - color.blue());
            count += apart < 24 ? 1 : 0;
        }
    }
    return count;
}

} // namespace

TEST_F(ChartFixture, pixelsAndValuesAreInverse) {
    const QPointF value(40.0, 20.0);
    const QPointF back = chart.valueAt(chart.pixelAt(value));
    EXPECT_NEAR(back.x(), value.x(), 1e-9);
    EXPECT_NEAR(back.y(), value.y(), 1e-9);
    EXPECT_NEAR(chart.pixelAt({0.0, 0.0}).x(), chart.plotRect().left(), 1.5);
}

TEST_F(ChartFixture, theReadoutTellsTheValueUnderThePointer) {
    QSignalSpy reading(&chart, &rw::Chart::readingChanged);
    QTest::mouseMove(&chart, chart.pixelAt({50.0, 30.0}).toPoint());
    ASSERT_TRUE(chart.link()->cursor().has_value());
    EXPECT_GE(reading.count(), 1);
    EXPECT_NEAR(*chart.link()->cursor(), 50.0, 0.5);
    const QStringList lines = chart.readoutAt(50.0);
    EXPECT_EQ(lines.value(0), QStringLiteral("50\u00A0m"));
    EXPECT_EQ(lines.value(1), QStringLiteral("26/44  25.0\u00A0m/s"));
    EXPECT_EQ(chart.readoutAt(200.0).size(), 1) << "no value where there is no data";
}

TEST_F(ChartFixture, wheelDragAndKeysMoveTheAxis) {
    const QPoint middle = chart.pixelAt({50.0, 30.0}).toPoint();
    QWheelEvent wheel(middle, chart.mapToGlobal(middle), {}, {0, 120}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                      false);
    QCoreApplication::sendEvent(&chart, &wheel);
    EXPECT_NEAR(chart.link()->range().span(), 80.0, 1e-6);
    EXPECT_NEAR(chart.valueAt(middle).x(), 50.0, 0.5);

    const double before = chart.link()->range().from;
    QTest::mousePress(&chart, Qt::LeftButton, {}, middle);
    QTest::mouseMove(&chart, middle - QPoint(40, 0));
    QTest::mouseRelease(&chart, Qt::LeftButton, {}, middle - QPoint(40, 0));
    EXPECT_GT(chart.link()->range().from, before);

    QTest::keyClick(&chart, Qt::Key_Home);
    EXPECT_NEAR(chart.link()->range().span(), 100.0, 1e-9);
    chart.link()->setCursor(10.0);
    QTest::keyClick(&chart, Qt::Key_Right, Qt::ControlModifier);
    EXPECT_GT(*chart.link()->cursor(), 10.0);
    QTest::keyClick(&chart, Qt::Key_Escape);
    EXPECT_FALSE(chart.link()->cursor().has_value());
}

TEST_F(ChartFixture, linkedChartsZoomAndReadTogether) {
    rw::Chart other;
    rw::AxisLink link;
    link.setBounds({0.0, 100.0});
    other.resize(chart.size());
    other.setContent(line());
    other.setLink(&link);
    chart.setLink(&link);
    chart.setMargins(60, 16);
    other.setMargins(60, 16);
    other.show();
    QTest::keyClick(&chart, Qt::Key_Plus);
    QCoreApplication::processEvents();
    EXPECT_NEAR(other.link()->range().span(), 80.0, 1e-9);
    EXPECT_NEAR(other.pixelAt({50.0, 0.0}).x(), chart.pixelAt({50.0, 0.0}).x(), 1e-6);
}

TEST_F(ChartFixture, aLinkThatGoesAwayLeavesTheChartWithItsOwn) {
    {
        rw::AxisLink link;
        link.setBounds({0.0, 10.0});
        chart.setLink(&link);
    }
    EXPECT_EQ(chart.link()->range(), (rw::Range{0.0, 100.0}));
    QTest::keyClick(&chart, Qt::Key_Plus);
    EXPECT_NEAR(chart.link()->range().span(), 80.0, 1e-9);
}

TEST_F(ChartFixture, picturesShowTheLineInLightAndDark) {
    for (const rw::Look& look : {rw::Look::light(), rw::Look::night()}) {
        chart.setPalette(look.palette());
        QCoreApplication::processEvents();
        EXPECT_GT(coloured(chart.grab(), look.hue(rw::Hue::Speed)), 200);
    }
    EXPECT_GT(coloured(pictureOf(chart, {400, 240}, 2.0), rw::Look::light().hue(rw::Hue::Speed)), 400)
        << "pages are light";
}

TEST_F(ChartFixture, pointsAreFoundByTheirPlace) {
    rw::ChartContent content;
    content.x = {.title = QStringLiteral("day"), .kind = rw::ChartAxis::Kind::Date};
    content.y = {.title = QStringLiteral("resistance"), .unit = QStringLiteral("mΩ")};
    rw::ChartSeries series{.name = QStringLiteral("pack 2"),
                           .x = {1.7e9, 1.71e9, 1.72e9},
                           .y = {12.0, 13.0, 14.0},
                           .line = rw::LineKind::None,
                           .point = rw::PointKind::Ring,
                           .freeForm = true};
    content.series.push_back(series);
    chart.setContent(content);
    QCoreApplication::processEvents();
    QSignalSpy clicked(&chart, &rw::Chart::pointClicked);
    QTest::mouseClick(&chart, Qt::LeftButton, {}, chart.pixelAt({1.71e9, 13.0}).toPoint());
    ASSERT_EQ(clicked.count(), 1);
    EXPECT_EQ(clicked.front().value(1).toInt(), 1);
}

TEST_F(ChartFixture, anEmptyChartSaysWhatToDo) {
    rw::ChartContent content;
    content.empty = QStringLiteral("Choose a vehicle to see its passes.");
    chart.setContent(content);
    QCoreApplication::processEvents();
    EXPECT_GT(coloured(chart.grab(), rw::Look::light().soft), 50);
}

TEST_F(ChartFixture, csvReadsBackToTheSameNumbers) {
    const QStringList lines = chart.drawing().csv().split(QStringLiteral("\r\n"));
    EXPECT_EQ(lines.front(), QStringLiteral("distance [m],26/44 [m/s]"));
    EXPECT_EQ(lines.value(4), QStringLiteral("3,1.5"));
    EXPECT_EQ(lines.size(), 103);
}

// The line crosses the limit at 90 % of the width: its name stands before that, above it. Where it stands is told by
// what differs from the same picture without the name.
TEST_F(ChartFixture, theNameOfALimitDoesNotLieOverTheLine) {
    rw::ChartContent content = line();
    content.series.front().name.clear();
    content.limits = {{45.0, QString(), false}};
    chart.setContent(content);
    const QImage without = pictureOf(chart, {480, 280}, 1.0).toImage();
    content.limits = {{45.0, QStringLiteral("comfort"), false}};
    chart.setContent(content);
    const QImage with = pictureOf(chart, {480, 280}, 1.0).toImage();
    int left = with.width(), right = 0;
    for (int y = 0; y < with.height(); ++y)
        for (int x = 0; x < with.width(); ++x)
            if (with.pixel(x, y) != without.pixel(x, y)) left = std::min(left, x), right = std::max(right, x);
    ASSERT_LT(left, right);
    EXPECT_LT(right - left, 80) << "the name alone";
    EXPECT_LT(right, 0.9 * 480.0);
    EXPECT_GT(right, 0.6 * 480.0) << "as far right as there is room";
}
