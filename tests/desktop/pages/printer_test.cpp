// Pages are made and written beside the interface thread, one at a time, and can be stopped.
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/shared/jobs.h"
#include "tests/desktop/pages/page_reading.h"
#include "tests/desktop/window_fixture.h"

#include <atomic>
#include <thread>

using namespace rw;
using namespace rw::test;

namespace {

// A printer beside a page that is made only when the test lets it.
struct PrinterTest : rw::test::WindowTest {
    PrinterTest()
        : printer({program.voice, program.settings, program.units, program.bench, program.jobs, program.garage},
                  nullptr, {QStringLiteral("&Print it…"), QStringLiteral("Save it…"), {}}, [this] { return order(); }) {
        QObject::connect(&program.voice, &Voice::said, &printer, [this](const QString& sentence) { said << sentence; });
        QObject::connect(&program.voice, &Voice::complained, &printer,
                         [this](const QString&, const QString& sentence) { complaints << sentence; });
    }
    ~PrinterTest() override { go = true; }

    PageOrder order() {
        return {QStringLiteral("page"), true, [this](const WorkOptions& work) {
                    while (!go && !work.stop.stop_requested())
                        std::this_thread::yield();
                    PageDocument page(QStringLiteral("page"));
                    page.paragraph(QStringLiteral("words"));
                    return page;
                }};
    }
    QString path(const char* name) { return folder.filePath(QLatin1String(name)); }

    std::atomic<bool> go = false;
    QStringList said, complaints;
    PagePrinter printer;
};

} // namespace

TEST_F(PrinterTest, showsAJobAndSaysWhereThePageLies) {
    printer.writeTo(path("page.html"));
    ASSERT_EQ(program.jobs.running().size(), 1U);
    EXPECT_TRUE(program.jobs.running().front().text.contains(QStringLiteral("page.html")));
    go = true;
    ASSERT_TRUE(await([&] { return !printer.busy(); }));
    EXPECT_TRUE(program.jobs.running().empty());
    ASSERT_EQ(said.size(), 1);
    EXPECT_TRUE(said.front().contains(path("page.html")));
    EXPECT_TRUE(readableHtml(QString::fromUtf8(bytesOf(path("page.html")))).contains(QStringLiteral("words")));
}

TEST_F(PrinterTest, isStoppedFromTheFootOfTheWindow) {
    printer.writeTo(path("page.pdf"));
    program.jobs.stop(program.jobs.running().front().id);
    ASSERT_TRUE(await([&] { return !printer.busy(); }));
    EXPECT_FALSE(QFile::exists(path("page.pdf")));
    EXPECT_TRUE(said.join(QString()).contains(QStringLiteral("nothing was written"))) << said.join(u' ').toStdString();
    EXPECT_TRUE(program.jobs.running().empty());
}

TEST_F(PrinterTest, oneAtATimeAndTheFirstIsFinished) {
    printer.writeTo(path("first.pdf"));
    printer.writeTo(path("second.pdf"));
    EXPECT_EQ(complaints.size(), 1);
    go = true;
    ASSERT_TRUE(await([&] { return !printer.busy(); }));
    EXPECT_TRUE(QFile::exists(path("first.pdf")));
    EXPECT_FALSE(QFile::exists(path("second.pdf")));
}

TEST_F(PrinterTest, saysWhyAPageCannotBeWritten) {
    go = true;
    printer.writeTo(path("nowhere/page.pdf"));
    ASSERT_TRUE(await([&] { return !printer.busy(); }));
    ASSERT_EQ(complaints.size(), 1);
    EXPECT_TRUE(complaints.front().contains(QStringLiteral("nowhere/page.pdf"))) << complaints.front().toStdString();
}
