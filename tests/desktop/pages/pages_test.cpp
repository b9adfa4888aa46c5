// The run sheet and the review page as PDF and HTML: their pages, their words and figures, what hostile names do.
#include "app/desktop/pages/page_document.h"
#include "app/desktop/pages/review_page.h"
#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/plan_words.h"
#include "core/error.h"
#include "core/log/import.h"
#include "core/plan/spread.h"
#include "core/review/finding_kinds.h"
#include "tests/desktop/pages/page_reading.h"
#include "tests/desktop/window_fixture.h"

#include <QPrinter>

using namespace rw;
using namespace rw::test;

namespace {

BenchContent bench(const char* plan = "invented_light_two_wheel_drive") {
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(samplePlan(plan));
    content.name = QStringLiteral("Sandpiper");
    content.venue = QStringLiteral("Invented strip");
    return content;
}

Log sampleLog(const char* name) {
    return importLogFile(std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/logs/" + name + ".csv");
}

QString text(std::string_view words) { return QString::fromUtf8(words.data(), static_cast<qsizetype>(words.size())); }

const QString hostile = QStringLiteral("<b>x</b>&amp;\"picture:0\" %1 %2");

struct PagesTest : testing::Test {
    QTemporaryDir folder;
    Units units;
    QString file(const char* name) { return folder.filePath(QLatin1String(name)); }
};

struct Paper {
    QPageSize::PageSizeId id;
    double width, height; // 1/72 inch
};
// ISO 216: A4 is 210 mm × 297 mm. ANSI/ASME Y14.1: A, letter, is 8.5 in × 11 in.
const Paper papers[] = {{QPageSize::A4, 210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0}, {QPageSize::Letter, 612.0, 792.0}};

} // namespace

TEST_F(PagesTest, theRunSheetIsOnePageOnEitherPaper) {
    for (const char* plan :
         {"invented_light_two_wheel_drive", "invented_heavy_all_wheel_drive", "invented_streamliner"}) {
        BenchContent content = bench(plan);
        content.name =
            QStringLiteral("A vehicle whose owner likes long names that run over the edge of any narrow sheet");
        const PageDocument page = makeRunSheet(content, units);
        for (const Paper& paper : papers) {
            ASSERT_TRUE(page.writeTo(file("sheet.pdf"), paper.id, true));
            const QByteArray pdf = bytesOf(file("sheet.pdf"));
            EXPECT_EQ(pagesOf(pdf), 1) << plan;
            EXPECT_NEAR(mediumOf(pdf).width(), paper.width, 1.0); // whole points
            EXPECT_NEAR(mediumOf(pdf).height(), paper.height, 1.0);
        }
    }
}

// pdfimages (poppler-utils) lists how many pixels of a picture go to an inch of paper, across and down.
TEST_F(PagesTest, thePictureOnTheSheetIsNotStretched) {
    ASSERT_TRUE(makeRunSheet(bench(), units).writeTo(file("sheet.pdf"), QPageSize::A4, true));
    QProcess reader;
    reader.start(QStandardPaths::findExecutable(QStringLiteral("pdfimages")),
                 {QStringLiteral("-list"), file("sheet.pdf")});
    ASSERT_TRUE(reader.waitForFinished());
    const QStringList lines =
        QString::fromUtf8(reader.readAllStandardOutput()).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    ASSERT_EQ(lines.size(), 3); // two of heads, one picture
    const QStringList words = lines.back().split(QLatin1Char(' '), Qt::SkipEmptyParts);
    ASSERT_GE(words.size(), 14);
    EXPECT_GT(words[12].toInt(), 0);
    EXPECT_NEAR(words[12].toInt(), words[13].toInt(), 2); // whole pixels, and a height rounded to one
}

TEST_F(PagesTest, theRunSheetTellsWhatTheCoreComputes) {
    const BenchContent content = bench();
    const PlanResult plan = simulatePlan(*content.input);
    const SpreadResult spread = spreadPlan(*content.input, {.runs = 2000, .seed = 1, .work = {}});
    const PassResult& pass = plan.passes.front();
    const auto zone = std::find_if(spread.figures.begin(), spread.figures.end(),
                                   [](const auto& f) { return f.name == "zone_mean_mps"; });
    ASSERT_TRUE(pass.zoneMean && zone != spread.figures.end());
    QStringList told{
        QStringLiteral("Run sheet: Sandpiper"),
        QStringLiteral("Invented strip"),
        QStringLiteral("%1 / %2").arg(content.input->gears.pinion_teeth).arg(content.input->gears.spur_teeth),
        units.text(Dimension::Speed, pass.zoneMean, 1),
        units.figure(Dimension::Speed, zone->p05, 1),
        units.text(Dimension::Speed, zone->p95, 1),
        units.text(Dimension::Current, pass.peakPackCurrent, 0),
        units.text(Dimension::Voltage, pass.minCellVoltage, 2),
        units.text(Dimension::Distance, pass.stopAt, 0),
        units.text(Dimension::Length, plan.rollout, 1)};
    told += cautionList();
    const PageDocument page = makeRunSheet(content, units);
    const QString html = readableHtml(page.html());
    for (const QString& words : told)
        EXPECT_TRUE(html.contains(readable(words))) << words.toStdString() << " in\n" << html.toStdString();
    if (QStandardPaths::findExecutable(QStringLiteral("pdftotext")).isEmpty()) GTEST_SKIP() << "no reader of PDF here";
    page.writeTo(file("sheet.pdf"), QPageSize::A4, true);
    const QString pdf = readablePdf(file("sheet.pdf"));
    told = told.mid(0, told.size() - cautionList().size()); // those run over lines: by their words
    for (const QString& words : told + cautionList().join(QLatin1Char(' ')).split(QLatin1Char(' ')))
        EXPECT_TRUE(pdf.contains(readable(words))) << words.toStdString() << " in\n" << pdf.toStdString();
}

TEST_F(PagesTest, theRunSheetNamesItsPackItsTightestLimitAndRoundsAsTheScreen) {
    PlanInput input = samplePlan();
    input.pack.series = 8;
    input.pack.capacity_Ah = 5.25;
    input.drive.throttle_ramp_s = 0.75;
    input.motor.timing_deg = 12.5;
    input.controller.endpoint = 0.875;
    BenchContent content = bench();
    content.input = std::make_shared<const PlanInput>(input);
    content.pack = QStringLiteral("6S no. 1"); // what the setup had before its cells were changed
    content.packSeries = 6;
    content.packParallel = 1;
    content.packCapacity_Ah = 5.0;
    const QString html = readableHtml(makeRunSheet(content, units).html());
    EXPECT_FALSE(html.contains(QStringLiteral("6S no. 1")));
    EXPECT_TRUE(html.contains(QStringLiteral("8S, 5.25 Ah")));
    for (const char* key : {"drive.throttle_ramp_s", "motor.timing_deg", "controller.endpoint", "pack.charge"})
        EXPECT_TRUE(html.contains(readable(valueWithUnit(*findPlanField(key), units, input)))) << key;
    const PlanResult plan = simulatePlan(input);
    const HoldAnswer answer = willItHold(input, plan);
    EXPECT_TRUE(html.contains(readable(holdSentence(answer, units)))) << html.toStdString();
    EXPECT_TRUE(html.contains(readable(limitTexts(plan.margins.front(), units).left)));
}

TEST_F(PagesTest, theUnitSwitchHoldsOnPaper) {
    units.set(&UnitChoice::speed, SpeedUnit::Mph);
    const BenchContent content = bench();
    const double zone = *simulatePlan(*content.input).passes.front().zoneMean;
    // 1 mi/h is 0.44704 m/s exactly (NIST SP 811, 2008, B.8).
    const QString html = readableHtml(makeRunSheet(content, units).html());
    EXPECT_TRUE(html.contains(QString::number(zone / 0.44704, 'f', 1) + QStringLiteral(" mph"))) << html.toStdString();
    EXPECT_FALSE(html.contains(QStringLiteral("km/h")));
}

TEST_F(PagesTest, namesAreWordsOnTheSheet) {
    BenchContent content = bench();
    content.name = content.venue = content.pack = hostile;
    const QString html = makeRunSheet(content, units).html();
    EXPECT_FALSE(html.contains(QStringLiteral("<b>x</b>")));
    EXPECT_EQ(readableHtml(html).count(readable(hostile)), 3) << "title, venue, pack";
    EXPECT_EQ(html.count(QStringLiteral("data:image/png;base64,")), 1) << "the strip alone";
}

TEST_F(PagesTest, aPlanThatFailsSaysSo) {
    PlanInput input = samplePlan();
    input.uncertainty.clear();
    input.motor.resistance_ohm = 1.0; // too weak for this hill
    input.venue.grade = 0.2;
    BenchContent content = bench();
    content.input = std::make_shared<const PlanInput>(input);
    ASSERT_FALSE(simulatePlan(input).passes.front().zoneMean);
    EXPECT_TRUE(readableHtml(makeRunSheet(content, units).html()).contains(QStringLiteral("do not run it")));
}

TEST_F(PagesTest, theReviewPageTellsSessionsPassesAndFindings) {
    const Log log = sampleLog("cutoff-day");
    const LogReview review = reviewLog(log);
    ASSERT_FALSE(review.passes.empty());
    ASSERT_FALSE(review.findings.empty());
    const PageDocument page = makeReviewPage({{log, review}}, units);
    const QString html = readableHtml(page.html());
    QStringList told{QStringLiteral("Review: cutoff-day.csv"), readable(cautionLine())};
    for (const ReviewPass& pass : review.passes) {
        told << units.figure(Dimension::Current, pass.peakCurrent, 0)
             << units.figure(Dimension::Voltage, pass.minCellVoltage, 2);
        told << units.text(Dimension::Time, pass.start, 1);
    }
    for (const Finding& finding : review.findings)
        told << text(findingKind(finding.id).title) << text(textOf(finding.seen)) << text(finding.advice);
    for (const QString& words : told)
        EXPECT_TRUE(html.contains(readable(words))) << words.toStdString();
    ASSERT_TRUE(page.writeTo(file("review.pdf"), QPageSize::A4, false));
    EXPECT_GE(pagesOf(bytesOf(file("review.pdf"))), 1);
}

TEST_F(PagesTest, logsFollowEachOtherOnOneReviewPage) {
    const Log one = sampleLog("plain-day"), two = sampleLog("hot-day");
    const LogReview first = reviewLog(one), second = reviewLog(two);
    const QString html = readableHtml(makeReviewPage({{one, first}, {two, second}}, units).html());
    EXPECT_LT(html.indexOf(QStringLiteral("Review: plain-day.csv")),
              html.indexOf(QStringLiteral("Review: hot-day.csv")));
    EXPECT_EQ(html.count(readable(cautionLine())), 1);
}

TEST_F(PagesTest, namesFromALogAreWords) {
    Log log = sampleLog("plain-day");
    log.file = "day/" + hostile.toStdString().substr(0, 4) + ">&.csv";
    LogReview review = reviewLog(log);
    ASSERT_FALSE(review.passes.empty());
    review.findings.push_back({.id = "sag-deep",
                               .session = 0,
                               .pass = 0,
                               .seen = hostile.toStdString(),
                               .threshold = {},
                               .meaning = {},
                               .advice = {},
                               .quantity = {}});
    review.notJudged.push_back({"sag-deep", 0, hostile.toStdString()});
    const QString html = makeReviewPage({{log, review}}, units).html();
    EXPECT_FALSE(html.contains(QStringLiteral("<b>x")));
    EXPECT_EQ(readableHtml(html).count(readable(hostile)), 2);
    EXPECT_TRUE(readableHtml(html).contains(QStringLiteral("Review: <b>x>&.csv")));
}

TEST_F(PagesTest, aLogWithoutFindingsSaysThatNothingNeedsAChange) {
    const Log log = sampleLog("plain-day");
    const LogReview review = reviewLog(log);
    ASSERT_TRUE(review.findings.empty());
    ASSERT_FALSE(review.passes.empty());
    const QString html = readableHtml(makeReviewPage({{log, review}}, units).html());
    EXPECT_TRUE(html.contains(QStringLiteral("Nothing that needs a change.")));
}

TEST_F(PagesTest, aLogWithoutPassesIsNotPraised) {
    const QString html = readableHtml(makeReviewPage({{Log{}, LogReview{}}}, units).html());
    EXPECT_TRUE(html.contains(QStringLiteral("No pass was found in this log.")));
    EXPECT_FALSE(html.contains(QStringLiteral("Nothing that needs a change.")));
    EXPECT_TRUE(html.contains(readable(cautionLine())));
}

TEST_F(PagesTest, longReviewsTakeSeveralPages) {
    const Log log = sampleLog("cutoff-day");
    LogReview review = reviewLog(log);
    const std::vector<Finding> some = review.findings;
    for (int i = 0; i < 20; ++i)
        review.findings.insert(review.findings.end(), some.begin(), some.end());
    const PageDocument page = makeReviewPage({{log, review}}, units);
    ASSERT_TRUE(page.writeTo(file("long.pdf"), QPageSize::Letter, false));
    const int pages = pagesOf(bytesOf(file("long.pdf")));
    EXPECT_GT(pages, 3);

    // Stopped while the second page is drawn: nothing is left behind.
    std::stop_source source;
    int begun = 0;
    const WorkOptions work{source.get_token(), [&](double) {
                               if (++begun == 2) source.request_stop();
                           }};
    EXPECT_FALSE(page.writeTo(file("stopped.pdf"), QPageSize::Letter, false, work));
    EXPECT_EQ(begun, 2);
    EXPECT_FALSE(QFile::exists(file("stopped.pdf")));
}

// Wherever on the page the lines before them end: the page that says "Heads it" shows the picture.
TEST_F(PagesTest, aHeadingStaysWithItsPicture) {
    const QString images = QStandardPaths::findExecutable(QStringLiteral("pdfimages"));
    const QString reader = QStandardPaths::findExecutable(QStringLiteral("pdftotext"));
    if (images.isEmpty() || reader.isEmpty()) GTEST_SKIP() << "no reader of PDF here";
    QImage picture(400, 300, QImage::Format_RGB32);
    picture.fill(Qt::darkGreen);
    const auto saidBy = [&](const QString& program, const QStringList& arguments) {
        QProcess process;
        process.start(program, arguments);
        process.waitForFinished();
        return QString::fromUtf8(process.readAllStandardOutput());
    };
    for (int lines = 22; lines < 52; lines += 2) {
        PageDocument page(QStringLiteral("lines"));
        for (int i = 0; i < lines; ++i)
            page.paragraph(QStringLiteral("a line"));
        page.heading(QStringLiteral("Heads it"));
        page.picture(picture, QStringLiteral("green"), 400);
        ASSERT_TRUE(page.writeTo(file("kept.pdf"), QPageSize::A4, false));
        const QStringList texts = saidBy(reader, {file("kept.pdf"), QStringLiteral("-")}).split(QLatin1Char('\f'));
        int heading = 0, shown = 0;
        for (int i = 0; i < texts.size(); ++i)
            if (texts[i].contains(QStringLiteral("Heads it"))) heading = i + 1;
        for (int i = 1; i < texts.size(); ++i) {
            const QString number = QString::number(i);
            const QStringList pages{QStringLiteral("-list"), QStringLiteral("-f"), number, QStringLiteral("-l"), number,
                                    file("kept.pdf")};
            if (saidBy(images, pages).contains(QStringLiteral("image"))) shown = i;
        }
        EXPECT_GT(heading, 0) << lines;
        EXPECT_EQ(heading, shown) << lines;
    }
}

TEST_F(PagesTest, aPrinterGetsTheSameOnePage) {
    QPrinter printer(QPrinter::HighResolution);
    printer.setOutputFormat(QPrinter::PdfFormat);
    printer.setOutputFileName(file("printed.pdf"));
    printer.setPageSize(QPageSize(QPageSize::A4));
    EXPECT_EQ(makeRunSheet(bench(), units).printOn(printer, true), 1);
    EXPECT_EQ(pagesOf(bytesOf(file("printed.pdf"))), 1);
}

TEST_F(PagesTest, anotherSuffixAndAFolderThatIsNotThereAreRefused) {
    const PageDocument page(QStringLiteral("empty"));
    EXPECT_THROW((void)page.writeTo(file("sheet.doc"), QPageSize::A4, true), InputError);
    EXPECT_THROW((void)page.writeTo(file("nowhere/sheet.pdf"), QPageSize::A4, true), InputError);
}
