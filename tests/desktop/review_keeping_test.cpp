// What leaves Review: the page of the log in view, and the log kept in the garage with the packs that ran it.
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/review/keep_dialog.h"
#include "app/desktop/review/log_keeper.h"
#include "app/desktop/review/review_actions.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/review_workspace.h"
#include "app/desktop/review/session_packs.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/caution_texts.h"
#include "tests/desktop/window_fixture.h"
#include "tests/plotting/review/invented_log.h"

#include <QComboBox>
#include <QFile>
#include <QMenu>
#include <QMenuBar>
#include <QTextDocument>

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

class ReviewKeepingTest : public rw::test::WindowTest {
protected:
    ReviewWorkspace& review() {
        return *dynamic_cast<ReviewWorkspace*>(program.window().workspace(QStringLiteral("review")));
    }
    void openLog(const QString& path) {
        program.window().openFiles({path});
        ASSERT_TRUE(await([&] { return !review().busy(); }));
        ASSERT_NE(review().review().data(), nullptr) << program.window().notice().toStdString();
    }
    void keep(const KeepChoice& choice) {
        review().reviewActions().keeper().keep(choice);
        ASSERT_TRUE(await([&] { return !review().busy(); }));
        QCoreApplication::processEvents();
        ASSERT_TRUE(program.window().notice().isEmpty()) << program.window().notice().toStdString();
    }
    QList<QAction*> withKeys(const QKeySequence& keys) {
        QList<QAction*> found;
        for (QAction* top : program.window().menuBar()->actions())
            for (QAction* entry : top->menu()->actions())
                if (entry->shortcut() == keys) found << entry;
        return found;
    }
    // A garage with a setup on the bench and another pack beside its own.
    void makeGarage() {
        ASSERT_TRUE(program.garage.create(folder.filePath(QStringLiteral("own.runwright"))));
        ASSERT_TRUE(program.garage.attempt(QStringLiteral("adding"), [&](Garage& garage) {
            ids = garage.addSetupFromPlan(samplePlan(), {.setup = "Sandpiper",
                                                         .vehicle = "Sandpiper",
                                                         .motor = {},
                                                         .controller = {},
                                                         .pack = "first pack",
                                                         .tyre = {},
                                                         .venue = {}});
            own = garage.setup(ids.setup).pack;
            other = garage.duplicate(own, "<b>other</b>");
            program.bench.put(benchFromSetup(garage, ids.setup, ids.venue));
        }));
    }

    PlanIds ids;
    Id own, other;
};

} // namespace

TEST_F(ReviewKeepingTest, printingIsTheSameKeyInPlanAndReview) {
    Shell& window = open();
    for (const char* name : {"plan", "review"}) {
        window.showWorkspace(QLatin1String(name));
        ASSERT_EQ(withKeys(QKeySequence::Print).size(), 1) << name;
        EXPECT_TRUE(withKeys(QKeySequence::Print).front()->text().startsWith(QStringLiteral("&Print"))) << name;
        EXPECT_EQ(withKeys(QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_P)).size(), 1) << name;
    }
    EXPECT_FALSE(withKeys(QKeySequence::Print).front()->isEnabled()) << "no log yet";
}

TEST_F(ReviewKeepingTest, theLogInViewBecomesAPage) {
    open();
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("first & day.csv")));
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("second day.csv"),
                                       {.rate_Hz = 20.0, .cutoffActs = false}));
    EXPECT_TRUE(withKeys(QKeySequence::Print).front()->isEnabled());
    const QString path = folder.filePath(QStringLiteral("review.html"));
    review().reviewActions().printer().writeTo(path);
    ASSERT_TRUE(await([&] { return !review().busy(); }));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly)) << program.window().notice().toStdString();
    QTextDocument page;
    page.setHtml(QString::fromUtf8(file.readAll()));
    const QString words = page.toPlainText().simplified();
    EXPECT_TRUE(words.contains(QStringLiteral("Review: second day.csv"))) << words.toStdString();
    EXPECT_FALSE(words.contains(QStringLiteral("first & day")));
    EXPECT_TRUE(words.contains(cautionLine()));
    const auto data = review().review().data();
    for (const ReviewPass& pass : data->review->passes)
        EXPECT_TRUE(words.contains(program.units.figure(Dimension::Current, pass.peakCurrent, 0)));
}

TEST_F(ReviewKeepingTest, eachSessionMayHaveRunOnAnotherPack) {
    open();
    makeGarage();
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    KeepDialog dialog(review().review());
    ASSERT_NE(dialog.packs(), nullptr);
    const auto boxes = dialog.packs()->boxes();
    ASSERT_EQ(boxes.size(), 2U);
    EXPECT_EQ(boxes[0]->currentText(), QStringLiteral("the setup’s pack"));
    EXPECT_EQ(boxes[1]->count(), 3) << "the setup's, and two that lie in the garage";
    const int row = boxes[1]->findData(QString::fromStdString(toString(other)));
    ASSERT_GT(row, 0);
    EXPECT_TRUE(boxes[1]->itemText(row).startsWith(QStringLiteral("<b>other</b>")));
    boxes[1]->setCurrentIndex(row);
    keep(dialog.choice());

    Garage& garage = program.garage.garage();
    ASSERT_EQ(garage.logs().size(), 1U);
    const Id log = garage.logs().front().id;
    auto sessions = garage.sessions(log);
    ASSERT_EQ(sessions.size(), 2U);
    EXPECT_EQ(sessions[0].record.pack, own);
    EXPECT_EQ(sessions[1].record.pack, other);
    PassFilter filter;
    filter.pack = other;
    EXPECT_EQ(garage.passes(filter).size(), 1U) << "the second session's pass";

    // Kept again from the garage: the choice of before stands in the dialog, and can be taken back.
    review().review().openKept(log);
    ASSERT_TRUE(await([&] { return !review().busy(); }));
    KeepDialog again(review().review());
    EXPECT_EQ(again.choice().setup, ids.setup);
    EXPECT_EQ(again.choice().packs, (std::vector<std::optional<Id>>{std::nullopt, other}));
    again.packs()->choose(1, std::nullopt);
    again.packs()->choose(0, other);
    keep(again.choice());
    sessions = garage.sessions(log);
    EXPECT_EQ(sessions[0].record.pack, other);
    EXPECT_EQ(sessions[1].record.pack, own);
    EXPECT_EQ(garage.logs().size(), 1U);
}

TEST_F(ReviewKeepingTest, aLogOfOneSessionAsksForNoPacks) {
    open();
    makeGarage();
    openLog(QStringLiteral(RUNWRIGHT_SOURCE_DIR "/samples/logs/cutoff-day.csv"));
    ASSERT_EQ(review().review().data()->review->sessions.size(), 1U);
    const KeepDialog dialog(review().review());
    EXPECT_TRUE(dialog.choice().packs.empty());
}
