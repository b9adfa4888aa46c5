#include "plotting/export.h"

#include "core/error.h"
#include "plotting/chart.h"
#include "plotting/lanes.h"
#include "plotting/map_chart.h"

#include <gtest/gtest.h>

#include <cmath>

#include <QCoreApplication>
#include <QFile>
#include <QImage>
#include <QTemporaryDir>

#include <memory>

namespace {

QByteArray bytes(const QString& path) {
    QFile file(path);
    return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
}

rw::LanesContent twoLanes() {
    auto times = std::make_shared<std::vector<double>>();
    auto values = std::make_shared<std::vector<double>>();
    for (int i = 0; i < 5000; ++i) {
        times->push_back(0.01 * i);
        values->push_back(i % 100);
    }
    rw::LanesContent content;
    content.time = std::make_shared<const rw::LaneTime>(times, *times);
    for (int i = 0; i < 2; ++i) {
        rw::Lane lane;
        lane.title = QStringLiteral("pack");
        lane.unit = QStringLiteral("V");
        lane.column = std::make_shared<const rw::LaneColumn>(values, *values);
        lane.bands.push_back({5.0, 20.0, 30.0, QStringLiteral("cutoff")});
        content.lanes.push_back(lane);
    }
    return content;
}

} // namespace

TEST(Export, writesEveryKindForChartsAndLanes) {
    const QTemporaryDir folder;
    rw::Chart chart;
    chart.resize(400, 240);
    rw::ChartContent content;
    content.y.title = QStringLiteral("speed");
    content.series.push_back({.name = QStringLiteral("26/44"), .x = {0, 1, 2}, .y = {0, 1, 4}});
    chart.setContent(content);
    rw::LanesView lanes;
    lanes.resize(500, 300);
    lanes.setContent(twoLanes());
    for (const QString& suffix :
         {QStringLiteral("png"), QStringLiteral("svg"), QStringLiteral("pdf"), QStringLiteral("csv")}) {
        const QString one = folder.filePath(QStringLiteral("chart.") + suffix);
        const QString two = folder.filePath(QStringLiteral("lanes.") + suffix);
        rw::exportDrawing(chart.drawing(), one);
        rw::exportDrawing(lanes.drawing(), two);
        EXPECT_GT(bytes(one).size(), suffix == QLatin1String("csv") ? 20 : 1000) << suffix.toStdString();
        EXPECT_GT(bytes(two).size(), 1000) << suffix.toStdString();
    }
    EXPECT_EQ(QImage(folder.filePath(QStringLiteral("chart.png"))).size(), QSize(800, 480)) << "twice the resolution";
    EXPECT_TRUE(bytes(folder.filePath(QStringLiteral("chart.svg"))).contains("26/44")) << "text stays text";
    EXPECT_TRUE(bytes(folder.filePath(QStringLiteral("lanes.pdf"))).startsWith("%PDF"));
}

// Contours, regions and words of a map are shapes and letters in a file, not a picture of them.
TEST(Export, aMapIsDrawnInVectors) {
    const QTemporaryDir folder;
    rw::MapChart map;
    map.resize(480, 320);
    rw::MapContent content;
    content.xs = {2, 3, 4, 5}, content.ys = {500, 1000, 2000};
    for (const double x : content.xs) {
        content.z.push_back({0.1 * (x - 3.0), 0.2 * (x - 3.0), std::nan("")});
        content.region.push_back({0, 1, -1});
    }
    content.names = {QStringLiteral("strip binds"), QStringLiteral("motor speed")};
    content.points.push_back({4.0, 700.0, QStringLiteral("owned"), rw::MapPoint::Kind::Disc});
    map.setContent(content);
    const QString svg = folder.filePath(QStringLiteral("map.svg")), pdf = folder.filePath(QStringLiteral("map.pdf"));
    rw::exportDrawing(map.drawing(), svg);
    rw::exportDrawing(map.drawing(), pdf);
    const QByteArray drawn = bytes(svg);
    EXPECT_FALSE(drawn.contains("<image"));
    EXPECT_TRUE(drawn.contains("owned")) << "text stays text";
    EXPECT_GT(drawn.count("<path"), 5);
    EXPECT_TRUE(bytes(pdf).startsWith("%PDF"));
    EXPECT_FALSE(bytes(pdf).contains("/Subtype /Image")) << "ISO 32000-1, 8.9.5: no image among its objects";
}

// A chart that was squeezed to nothing says nothing about it.
TEST(Chart, withoutRoomDrawsNothingAndComplainsOfNothing) {
    static int complaints = 0;
    complaints = 0;
    const auto before = qInstallMessageHandler([](QtMsgType type, const QMessageLogContext&, const QString& text) {
        if (type != QtDebugMsg && text.contains(QStringLiteral("aint"))) ++complaints;
    });
    rw::Chart chart;
    rw::MapChart map;
    for (QWidget* widget : std::initializer_list<QWidget*>{&chart, &map}) {
        widget->setMinimumSize(0, 0);
        widget->resize(300, 200);
        (void)widget->grab();
        widget->resize(300, 0);
        (void)widget->grab();
        QCoreApplication::processEvents();
    }
    qInstallMessageHandler(before);
    EXPECT_EQ(complaints, 0);
}

TEST(Export, refusesWhatItCannotWriteAndNamesTheFile) {
    rw::Chart chart;
    chart.resize(200, 120);
    EXPECT_THROW(rw::exportDrawing(chart.drawing(), QStringLiteral("/nowhere/at/all.png")), rw::InputError);
    try {
        rw::exportDrawing(chart.drawing(), QStringLiteral("speed.bmp"));
        FAIL();
    } catch (const rw::InputError& error) {
        EXPECT_NE(std::string(error.what()).find("speed.bmp"), std::string::npos);
    }
}

TEST(Csv, quotesAsRfc4180Says) {
    // RFC 4180, 2.5–2.7: fields with line breaks, quotes or commas are quoted, quotes inside are doubled; lines end
    // CRLF.
    EXPECT_EQ(rw::csvLine({QStringLiteral("a"), QStringLiteral("b,c"), QStringLiteral("d\"e"), QStringLiteral("f\ng")}),
              QStringLiteral("a,\"b,c\",\"d\"\"e\",\"f\ng\"\r\n"));
    EXPECT_EQ(rw::csvNumber(0.1), QStringLiteral("0.1"));
    EXPECT_EQ(rw::csvNumber(std::nan("")), QString());
}
