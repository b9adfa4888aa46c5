// What leaves Review: the page of the log in view, and the log kept in the garage with the packs that ran it.
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/pass_panel.h"
#include "app/desktop/review/review_actions.h"
#include "app/desktop/review/review_charts.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/review_workspace.h"
#include "app/desktop/review/saying_dialogs.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/plan_words.h"
#include "tests/desktop/invented_log.h"
#include "tests/desktop/window_fixture.h"

#include <QComboBox>
#include <QFile>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QSet>
#include <QTextDocument>
#include <QUndoStack>

#include <random>

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

TEST_F(ReviewKeepingTest, whatIsKeptIsWhatTheOneWayOfJudgingGives) {
    open();
    makeGarage();
    const QString file = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv"));
    openLog(file);
    program.bench.put({}); // whatever lies on the bench now has no say
    Outing saturday;
    saturday.name = "Saturday", saturday.date = "2026-11-21", saturday.venue = ids.venue;
    for (int time = 0; time < 2; ++time) { // kept, and kept again from the garage
        KeepChoice choice;
        choice.setup = ids.setup;
        if (time == 0) choice.newOuting = saturday;
        if (time == 1) choice.outing = program.garage.garage().outings().front().id;
        keep(choice);
        Garage& garage = program.garage.garage();
        ASSERT_EQ(garage.logs().size(), 1U);
        ASSERT_EQ(garage.outings().size(), 1U);
        const StoredLog stored = garage.logs().front();
        const std::string bytes = garage.logBytes(stored.id);
        const JudgedLog judged = readAndJudge(bytes, stored.name, logJudging(garage, stored.id));
        EXPECT_EQ(garage.logReview(stored.id), reviewJson(judged.log, judged.review)) << time;
        EXPECT_EQ(stored.outing, garage.outings().front().id);
        const auto data = review().review().data();
        EXPECT_EQ(data->source.kept, stored.id) << "the log in view is the kept one now";
        EXPECT_EQ(reviewJson(*data->log, *data->review), reviewJson(judged.log, judged.review));
    }
}

TEST_F(ReviewKeepingTest, logAndNewOutingAreOneStep) {
    open();
    makeGarage();
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    KeepChoice choice;
    choice.setup = ids.setup;
    Outing saturday;
    saturday.name = "Saturday", saturday.date = "2026-11-21", saturday.venue = ids.venue;
    choice.newOuting = saturday;
    keep(choice);
    Garage& garage = program.garage.garage();
    ASSERT_EQ(garage.outings().size(), 1U);
    program.window().showWorkspace(QStringLiteral("garage"));
    QUndoStack& undo = *program.window().workspace(QStringLiteral("garage"))->undoStack();
    ASSERT_TRUE(undo.canUndo());
    undo.undo();
    ASSERT_TRUE(await([&] { return garage.logs().empty(); }));
    EXPECT_TRUE(garage.outings().empty()) << "the outing came with it";
    undo.redo();
    ASSERT_TRUE(await([&] { return garage.logs().size() == 1; }));
    EXPECT_EQ(garage.outings().size(), 1U);
}

// Digits that no compression makes small: the step that holds them is a large one.
TEST_F(ReviewKeepingTest, undoingALargeLogLeavesTheInterfaceFreeAndKeepsTheOrder) {
    open();
    makeGarage();
    QFile file(folder.filePath(QStringLiteral("long.csv")));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("Time [s],Voltage [V],Current [A],Throttle [%]\n");
    std::mt19937 random(20261126);
    std::uniform_int_distribution<int> digits(0, 999'999);
    for (int row = 0; row < 120'000; ++row) {
        const auto noise = [&] { return QString::number(digits(random)).rightJustified(6, QLatin1Char('0')); };
        file.write(QStringLiteral("%1,15.%2,%3.%4,0.%5\n")
                       .arg(0.02 * row)
                       .arg(noise())
                       .arg(row % 7)
                       .arg(noise(), noise())
                       .toUtf8());
    }
    file.close();
    ASSERT_TRUE(program.garage.change(QStringLiteral("adding"),
                                      [&](Garage& garage) { static_cast<void>(garage.duplicate(own, "third")); }));
    openLog(file.fileName());
    keep({});
    Garage& garage = program.garage.garage();
    ASSERT_EQ(garage.logs().size(), 1U);
    Workspace& workspace = *program.window().workspace(QStringLiteral("garage"));
    QUndoStack& undo = *workspace.undoStack();
    const std::size_t packs = garage.parts(ItemKind::Pack).size();
    undo.undo();
    EXPECT_TRUE(workspace.busy()) << "the log goes beside the interface thread";
    undo.undo();
    ASSERT_TRUE(await([&] { return !workspace.busy(); }));
    EXPECT_TRUE(garage.logs().empty());
    EXPECT_EQ(garage.parts(ItemKind::Pack).size(), packs - 1) << "the step before followed in its order";
    undo.redo();
    undo.redo();
    EXPECT_TRUE(workspace.busy());
    undo.undo();
    undo.redo();
    ASSERT_TRUE(await([&] { return !workspace.busy(); }));
    EXPECT_EQ(garage.logs().size(), 1U);
    EXPECT_EQ(garage.parts(ItemKind::Pack).size(), packs);
    EXPECT_TRUE(garage.check(true).ok);
    EXPECT_TRUE(program.window().notice().isEmpty()) << program.window().notice().toStdString();
}

TEST_F(ReviewKeepingTest, thePolePairsOfTheSetupMakeMotorSpeedOfElectricalRpm) {
    open();
    makeGarage();
    QFile file(folder.filePath(QStringLiteral("erpm.csv")));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("Time [s],Voltage [V],Current [A],Throttle [%],Motor [erpm]\n");
    for (int row = 0; row < 300; ++row)
        file.write(QStringLiteral("%1,15.1,%2,%3,%4\n")
                       .arg(0.05 * row)
                       .arg(row > 100 && row < 200 ? 120 : 0)
                       .arg(row > 100 && row < 200 ? 100 : 0)
                       .arg(row > 100 && row < 200 ? 60000 : 0)
                       .toUtf8());
    file.close();
    openLog(file.fileName());
    const int pairs = samplePlan().motor.poles / 2;
    const Channel& speed = (*review().review().data()->log)[Quantity::MotorSpeed];
    ASSERT_TRUE(speed.present());
    constexpr double pi = 3.14159265358979323846;
    EXPECT_NEAR(speed.values[150], 60000.0 / pairs * 2.0 * pi / 60.0,
                1e-6); // electrical turns are mechanical ones times the pairs
    keep({.setup = ids.setup, .outing = {}, .newOuting = {}, .packs = {}, .notes = {}});
    EXPECT_TRUE((*review().review().data()->log)[Quantity::MotorSpeed].present());
}

TEST_F(ReviewKeepingTest, aNotedSpeedIsKeptWithItsPass) {
    open();
    makeGarage();
    program.units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    QAction* note = review().reviewActions().noteAction();
    review().review().choosePass(1);
    keep({.setup = ids.setup, .outing = {}, .newOuting = {}, .packs = {}, .notes = {}});
    review().review().choosePass(1);
    ASSERT_TRUE(note->isEnabled());
    note->trigger();
    auto* dialog = review().widget()->findChild<NotedDialog*>();
    ASSERT_NE(dialog, nullptr);
    dialog->peak().setText(QStringLiteral("fast"));
    dialog->accept();
    EXPECT_TRUE(dialog->isVisible());
    dialog->peak().setText(QStringLiteral("141,5"));
    dialog->accept();
    Garage& garage = program.garage.garage();
    PassFilter all;
    all.order = PassFilter::Order::Oldest;
    const auto passes = garage.passes(all);
    ASSERT_EQ(passes.size(), 3U);
    ASSERT_EQ(passes[1].noted.size(), 1U);
    EXPECT_NEAR(passes[1].noted[0].mps, 141.5 / 3.6, 1e-9);
    EXPECT_EQ(passes[1].noted[0].kind, SpeedKind::Peak);
    auto& table = review().widget()->findChild<PassPanel*>()->table();
    EXPECT_FALSE(table.isColumnHidden(PassTableModel::Noted));
    EXPECT_EQ(table.model()->index(1, PassTableModel::Noted).data().toString(), QStringLiteral("141.5"));
}

TEST_F(ReviewKeepingTest, thePageOfALogHasItsPictures) {
    open();
    makeGarage(); // the plan brings cutoff and limits
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    const auto pictures = reviewPictures(*review().review().data(), program.units);
    ASSERT_EQ(pictures.size(), 3U) << "lanes of the best pass, passes over each other, temperatures";
    for (const ReviewPicture& picture : pictures) {
        QSet<QRgb> colours;
        for (int y = 0; y < picture.image.height(); y += 2)
            for (int x = 0; x < picture.image.width(); x += 2)
                colours.insert(picture.image.pixel(x, y));
        EXPECT_GT(colours.size(), 20) << picture.words.toStdString();
    }
    const QString path = folder.filePath(QStringLiteral("review.html"));
    review().reviewActions().printer().writeTo(path);
    ASSERT_TRUE(await([&] { return !review().busy(); }));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(QString::fromUtf8(file.readAll()).count(QStringLiteral("<img ")), 3);
}

// A set of the garage, its limits over the plan's and its thresholds over the usual ones, chosen where one says how a
// log is judged.
TEST_F(ReviewKeepingTest, aLimitSetOfTheGarageJudgesTheLogAndStaysWithIt) {
    open();
    makeGarage();
    Part set;
    set.id.kind = ItemKind::LimitSet;
    set.name = "careful";
    set.values["motor.comfort_C"].number = 45.0;
    set.values["review.restThrottle"].number = 0.05;
    ASSERT_TRUE(program.garage.change(QStringLiteral("adding"), [&](Garage& garage) { set.id = garage.add(set); }));
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    EXPECT_EQ(review().review().data()->options.plan->motor.comfort_C, 80.0) << "the plan's own";
    JudgingDialog dialog(review().review());
    ASSERT_EQ(dialog.limits().count(), 2);
    EXPECT_EQ(dialog.limits().currentIndex(), 0);
    dialog.limits().setCurrentIndex(1);
    dialog.accept();
    ASSERT_TRUE(await([&] { return !review().busy(); }));
    EXPECT_EQ(review().review().data()->options.plan->motor.comfort_C, 45.0);
    KeepChoice choice;
    choice.setup = ids.setup;
    Outing saturday; // its venue makes the plan that the limits go over
    saturday.name = "Saturday", saturday.date = "2026-11-21", saturday.venue = ids.venue;
    choice.newOuting = saturday;
    keep(choice);
    const auto data = review().review().data();
    ASSERT_TRUE(data->options.plan.has_value()) << "known with setup, and a venue";
    EXPECT_EQ(data->options.plan->motor.comfort_C, 45.0);
    EXPECT_EQ(data->options.thresholds.restThrottle, 0.05);
    EXPECT_EQ(JudgingDialog(review().review()).limits().currentText(), QStringLiteral("careful"));
}

TEST_F(ReviewKeepingTest, aNoteOfALogThatIsNotKeptSaysWhatToDo) {
    open();
    openLog(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    review().review().goToPass(0);
    for (QAction* action : review().actions(Workspace::Menu::Own))
        if (action->text().contains(QStringLiteral("Noted"))) action->trigger();
    EXPECT_TRUE(program.window().notice().contains(QStringLiteral("keep the log")))
        << program.window().notice().toStdString();
}
