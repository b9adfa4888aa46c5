// From what the garage remembers to the log itself: by double click from outing, search, best passes and history.
#include "app/desktop/garage/garage_side.h"
#include "app/desktop/garage/part_dialog.h"
#include "app/desktop/garage/part_history.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/review_workspace.h"
#include "core/log/import.h"
#include "plotting/chart.h"
#include "storage/log_record.h"
#include "tests/desktop/garage/garage_fixture.h"
#include "tests/desktop/invented_log.h"

#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>

using namespace rw;
using rw::test::await;
using rw::test::GarageTest;
using rw::test::GarageView;
using rw::test::inDialog;

namespace {

class GettingAboutTest : public GarageTest {
protected:
    // A garage with a day whose three passes the review really finds, driven with the first revision.
    void openWithDay() {
        openFilled();
        const QString file = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv"));
        const Log log = importLogFile(file.toStdString());
        const LogReview found = reviewLog(log);
        ASSERT_EQ(found.passes.size(), 3U);
        LogRecord record = logRecord(packLog(rw::test::readBytes(file.toStdString())), log, found);
        record.setup = filled.plan.setup;
        record.outing = filled.outing;
        double speed = 35.0; // as if light gates had told it
        for (PassRecord& pass : record.passes)
            pass.figures["zone_speed_mps"] = speed++;
        ASSERT_TRUE(program.garage.attempt({}, [&](Garage& g) { day = g.addLog(record).log; }));
    }
    ReviewWorkspace& review() {
        return *dynamic_cast<ReviewWorkspace*>(program.window().workspace(QStringLiteral("review")));
    }
    // The log in Review once it is read; the window is back at the garage afterwards.
    std::optional<Id> opened() {
        EXPECT_TRUE(await([&] { return review().review().data() != nullptr && !review().busy(); }))
            << program.window().notice().toStdString();
        const auto data = review().review().data();
        if (!data) return std::nullopt;
        const auto kept = data->source.kept;
        program.window().showWorkspace(QStringLiteral("garage"));
        return kept;
    }
    static void doubleClick(QAbstractItemView& list, const QModelIndex& index) {
        list.scrollTo(index);
        const QPoint at = list.visualRect(index).center();
        QTest::mouseClick(list.viewport(), Qt::LeftButton, {}, at);
        QTest::mouseDClick(list.viewport(), Qt::LeftButton, {}, at);
    }
    FigureTable& passesOnPage() { return *view.part<PartPage>().findChild<KeptList*>()->findChild<FigureTable*>(); }

    Id day;
};

} // namespace

TEST_F(GettingAboutTest, anOutingShowsItsNotesAndOpensItsLogs) {
    openWithDay();
    view.choose(QStringLiteral("Saturday"));
    EXPECT_TRUE(view.pageText().contains(QStringLiteral("gusty after noon"))) << view.pageText().toStdString();
    FigureTable& logs = view.table("Logs");
    ASSERT_EQ(logs.model()->rowCount(), 2);
    const int row = garage().logs(filled.outing).front().id == day ? 0 : 1;
    doubleClick(logs, logs.model()->index(row, 0));
    EXPECT_EQ(opened(), day);
}

TEST_F(GettingAboutTest, anOutingIsNamedAndNoted) {
    openFilled();
    view.choose(QStringLiteral("Saturday"));
    QAction* name = rw::test::menuAction(view.window(), QStringLiteral("Name and notes…"));
    ASSERT_TRUE(name->isEnabled());
    inDialog<NameDialog>([](NameDialog& dialog) {
        EXPECT_EQ(dialog.findChild<QPlainTextEdit*>()->toPlainText(), QStringLiteral("gusty after noon"));
        dialog.findChild<QLineEdit*>()->setText(QStringLiteral("First day at the strip"));
        dialog.findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("<b>calm</b>"));
        dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Save)->click();
    });
    name->trigger();
    EXPECT_EQ(garage().outing(filled.outing).name, "First day at the strip");
    EXPECT_EQ(garage().outing(filled.outing).photos.size(), 1U) << "the rest stays";
    EXPECT_TRUE(view.under(QStringLiteral("Outings")).contains(QStringLiteral("First day at the strip")));
    EXPECT_TRUE(view.pageText().contains(QStringLiteral("<b>calm</b>"))) << "words, no markup";
    rw::test::menuAction(view.window(), QStringLiteral("Undo change outing First day at the strip"))->trigger();
    ASSERT_TRUE(await([&] { return garage().outing(filled.outing).name == "Saturday"; }));
}

TEST_F(GettingAboutTest, searchOpensALogAndShowsTheRest) {
    openWithDay();
    auto& side = view.part<GarageSide>();
    side.findChild<QLineEdit*>()->setText(QStringLiteral("day.csv"));
    auto* finds = side.findChild<QListWidget*>();
    ASSERT_TRUE(await([&] { return finds->count() > 0; }));
    ASSERT_EQ(idFromText(finds->item(0)->data(Qt::UserRole).toString().toStdString())->kind, ItemKind::Log);
    QTest::mouseClick(finds->viewport(), Qt::LeftButton, {}, finds->visualItemRect(finds->item(0)).center());
    EXPECT_TRUE(view.pageText().startsWith(QStringLiteral("Saturday"))) << "one click shows where it belongs";
    EXPECT_EQ(review().review().data(), nullptr);
    doubleClick(*finds, finds->model()->index(0, 0));
    EXPECT_EQ(opened(), idFromText(finds->item(0)->data(Qt::UserRole).toString().toStdString()));
}

TEST_F(GettingAboutTest, bestPassesSelectTheRevisionAndOpenThePass) {
    openWithDay();
    FigureTable& best = view.table("Best passes");
    const auto rows = garage().bestPasses({}, 12);
    ASSERT_EQ(rows.size(), 2U) << "two revisions have driven";
    for (std::size_t i = 0; i < rows.size(); ++i) {
        QTest::mouseClick(best.viewport(), Qt::LeftButton, {},
                          best.visualRect(best.model()->index(static_cast<int>(i), 0)).center());
        const FigureTable& revisions = view.table("Setup revisions");
        EXPECT_TRUE(revisions.currentIndex().siblingAtColumn(0).data().toString().endsWith(
            QStringLiteral("revision %1").arg(rows[i].revision)))
            << i;
    }
    const auto ofDay =
        std::find_if(rows.begin(), rows.end(), [&](const BestPass& one) { return garage().pass(one.pass).log == day; });
    ASSERT_NE(ofDay, rows.end());
    doubleClick(best, best.model()->index(static_cast<int>(ofDay - rows.begin()), 0));
    EXPECT_EQ(opened(), day);
    EXPECT_EQ(review().review().pass(), static_cast<std::size_t>(garage().pass(ofDay->pass).index));
}

TEST_F(GettingAboutTest, theHistoryOpensItsPasses) {
    openWithDay();
    view.choose(QStringLiteral("Heron"));
    FigureTable& passes = passesOnPage();
    PassFilter mine;
    mine.vehicle = garage().setup(filled.plan.setup).vehicle;
    const auto kept = garage().passes(mine);
    ASSERT_EQ(passes.model()->rowCount(), static_cast<int>(kept.size()));
    const auto ofDay = std::find_if(kept.begin(), kept.end(), [&](const StoredPass& one) { return one.log == day; });
    passes.setCurrentIndex(passes.model()->index(static_cast<int>(ofDay - kept.begin()), 0));
    passes.setFocus();
    QTest::keyClick(&passes, Qt::Key_Return);
    EXPECT_EQ(opened(), day);
    EXPECT_EQ(review().review().pass(), static_cast<std::size_t>(ofDay->index));

    auto* chart = view.part<PartPage>().findChild<Chart*>();
    ASSERT_FALSE(chart->content().series.empty());
    const ChartSeries& points = chart->content().series.front();
    review().review().choosePass(std::nullopt);
    QTest::mouseDClick(chart, Qt::LeftButton, {}, chart->pixelAt({points.x.back(), points.y.back()}).toPoint());
    EXPECT_TRUE(opened().has_value());
}

TEST_F(GettingAboutTest, anEmptyGarageOffersToAdd) {
    ASSERT_TRUE(program.garage.create(path));
    open();
    program.window().showWorkspace(QStringLiteral("garage"));
    QPushButton* add = nullptr;
    for (QPushButton* button : view.workspace().widget()->findChildren<QPushButton*>())
        if (button->isVisible() && button->text().remove(u'&').startsWith(QStringLiteral("Add a part"))) add = button;
    ASSERT_NE(add, nullptr);
    ASSERT_TRUE(add->isEnabled());
    inDialog<PartDialog>([](PartDialog& dialog) { dialog.reject(); });
    QTest::mouseClick(add, Qt::LeftButton);
    ASSERT_TRUE(program.garage.attempt({}, [](Garage& g) {
        Part car;
        car.id.kind = ItemKind::Vehicle;
        car.name = "Wren";
        static_cast<void>(g.add(car));
    }));
    EXPECT_FALSE(add->isVisible()) << "something is there now";
    EXPECT_EQ(view.under(QStringLiteral("Vehicles")), QStringList{QStringLiteral("Wren")});
}
