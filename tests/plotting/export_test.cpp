#include "plotting/export.h"

#include "core/error.h"
#include "plotting/chart.h"
#include "plotting/lanes.h"

#include <gtest/gtest.h>

#include <cmath>

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
        chart.exportTo(one);
        lanes.exportTo(two);
        EXPECT_GT(bytes(one).size(), suffix == QLatin1String("csv") ? 20 : 1000) << suffix.toStdString();
        EXPECT_GT(bytes(two).size(), 1000) << suffix.toStdString();
    }
    EXPECT_EQ(QImage(folder.filePath(QStringLiteral("chart.png"))).size(), QSize(800, 480)) << "twice the resolution";
    EXPECT_TRUE(bytes(folder.filePath(QStringLiteral("chart.svg"))).contains("26/44")) << "text stays text";
    EXPECT_TRUE(bytes(folder.filePath(QStringLiteral("lanes.pdf"))).startsWith("%PDF"));
}

TEST(Export, refusesWhatItCannotWriteAndNamesTheFile) {
    rw::Chart chart;
    chart.resize(200, 120);
    EXPECT_THROW(chart.exportTo(QStringLiteral("/nowhere/at/all.png")), rw::InputError);
    try {
        chart.exportTo(QStringLiteral("speed.bmp"));
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
