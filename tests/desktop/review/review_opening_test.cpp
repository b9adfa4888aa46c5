// What is asked and refused while a log is opened: its columns, how it is judged, what cannot be read.
#include "app/desktop/review/column_table.h"
#include "app/desktop/review/import_dialog.h"
#include "app/desktop/review/log_panels.h"
#include "app/desktop/review/review_head.h"
#include "app/desktop/review/saying_dialogs.h"
#include "tests/desktop/review/review_fixture.h"

#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>

#include <algorithm>
#include <cmath>

using rw::test::ReviewFixture;

TEST_F(ReviewFixture, aColumnIsCorrectedAndReadAgain) {
    rw::test::InventedDay day;
    day.motorName = "Sensor 7 [°C]";
    openDay(day);
    EXPECT_FALSE((*review().data()->log)[rw::Quantity::MotorTemperature].present());
    rw::ImportDialog dialog(review());
    dialog.show();
    QComboBox& used = dialog.columns().usedAs(6);
    used.setCurrentIndex(used.findData(static_cast<int>(rw::Quantity::MotorTemperature)));
    for (QPushButton* button : dialog.findChildren<QPushButton*>()) {
        if (button->isDefault()) QTest::mouseClick(button, Qt::LeftButton);
    }
    settle();
    ASSERT_TRUE(complaints.isEmpty()) << complaints.join(u'\n').toStdString();
    const rw::Channel& heat = (*review().data()->log)[rw::Quantity::MotorTemperature];
    ASSERT_TRUE(heat.present());
    EXPECT_NEAR(heat.values.front(), 273.15 + 25.0, 0.5);
    EXPECT_EQ(review().logs().size(), 1U) << "the same log, read again";
}

TEST_F(ReviewFixture, aLogWhoseColumnsNobodyNamedOpensTheMapping) {
    QFile file(folder.filePath(QStringLiteral("unnamed.csv")));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("Uhr;Akkuspannung;Strom;Zaehler\n");
    for (int row = 0; row < 200; ++row)
        file.write(QStringLiteral("%1;16,5;%2;%3\n").arg(20 * row).arg(1000 + row % 7).arg(row * row).toUtf8());
    file.close();
    workspace.openFiles({file.fileName()});
    settle();
    EXPECT_TRUE(complaints.isEmpty()) << "asked, not refused: " << complaints.join(u'\n').toStdString();
    auto* dialog = widget->findChild<rw::ImportDialog*>();
    ASSERT_NE(dialog, nullptr);
    rw::ColumnTable& columns = dialog->columns();
    EXPECT_EQ(columns.usedAs(0).currentData().toInt(), static_cast<int>(rw::Quantity::Time))
        << "the likely time is marked";
    EXPECT_EQ(columns.item(0, rw::ColumnTable::Sure)->text(), QStringLiteral("likely the time"));
    EXPECT_TRUE(columns.item(0, rw::ColumnTable::First)->text().contains(QStringLiteral("20")));
    QComboBox& current = columns.usedAs(2);
    current.setCurrentIndex(current.findData(static_cast<int>(rw::Quantity::PackCurrent)));
    EXPECT_GE(columns.unit(2).findText(QStringLiteral("dA")), 0) << "units stand in a list";
    columns.factor(2).setText(QStringLiteral("nothing"));
    const auto read = [dialog] {
        QPushButton* reading = nullptr;
        for (QPushButton* button : dialog->findChildren<QPushButton*>())
            if (button->isDefault()) reading = button;
        QTest::mouseClick(reading, Qt::LeftButton); // the dialog and its buttons may be gone after it
    };
    read();
    EXPECT_EQ(review().data(), nullptr) << "no factor, so it is refused in the dialog";
    columns.unit(2).setEditText(QStringLiteral("A"));
    columns.factor(2).setText(QStringLiteral("0,1"));
    read();
    settle();
    ASSERT_NE(review().data(), nullptr) << complaints.join(u'\n').toStdString();
    const rw::Log& log = *review().data()->log;
    EXPECT_EQ(log.rows(), 200U);
    EXPECT_NEAR(log.time.back() - log.time.front(), 0.02 * 199, 1e-9) << "milliseconds";
    EXPECT_NEAR(std::abs(log[rw::Quantity::PackCurrent].values[3]), 100.3, 1e-9); // of 1003 counts of 0.1 A
    const auto* left = widget->findChild<rw::ImportDialog*>();
    EXPECT_TRUE(left == nullptr || !left->isVisible());
}

TEST_F(ReviewFixture, judgingDialogRefusesNonsenseAndTakesCells) {
    openDay();
    rw::JudgingDialog dialog(review());
    dialog.cells().setText(QStringLiteral("four"));
    dialog.accept();
    EXPECT_NE(dialog.result(), QDialog::Accepted);
    dialog.cells().setText(QStringLiteral("4, 6"));
    dialog.cutoff().setText(QStringLiteral("3,4"));
    dialog.accept();
    EXPECT_EQ(dialog.result(), QDialog::Accepted);
    settle();
    EXPECT_EQ(review().data()->review->cutoffCell, 3.4);
    const auto& lanes = part<rw::LanesPanel>().view().content().lanes;
    const auto volts =
        std::find_if(lanes.begin(), lanes.end(), [](const rw::Lane& lane) { return !lane.bands.empty(); });
    ASSERT_NE(volts, lanes.end());
    EXPECT_EQ(volts->bands.size(), 2U);
    EXPECT_NEAR(volts->bands[1].below, 6 * 3.4, 1e-9);
}

TEST_F(ReviewFixture, rubbishIsRefusedInWordsAndTheOpenLogStays) {
    openDay();
    QFile rubbish(folder.filePath(QStringLiteral("rubbish.csv")));
    ASSERT_TRUE(rubbish.open(QIODevice::WriteOnly));
    rubbish.write("no header here\nnothing\n");
    rubbish.close();
    workspace.openFiles({rubbish.fileName()});
    settle();
    ASSERT_EQ(complaints.size(), 1);
    EXPECT_TRUE(complaints.front().contains(QStringLiteral("rubbish.csv"))) << complaints.front().toStdString();
    EXPECT_EQ(workspace.document(), QStringLiteral("invented day.csv"));
}

TEST_F(ReviewFixture, severalLogsStayOpenAndCanBeChanged) {
    openDay();
    const QString other = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("other.csv"));
    const QString third = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("third.csv"));
    workspace.openFiles({other, third});
    settle();
    settle();
    EXPECT_EQ(review().logs().size(), 3U);
    EXPECT_EQ(workspace.document(), QStringLiteral("third.csv"));
    review().show(review().logs().front()->id);
    EXPECT_EQ(workspace.document(), QStringLiteral("invented day.csv"));
    review().closeLog(review().data()->id);
    EXPECT_EQ(review().logs().size(), 2U);
    while (review().data())
        review().closeLog(review().data()->id);
    EXPECT_TRUE(workspace.document().isEmpty());
}

TEST_F(ReviewFixture, closingInTheMiddleOfReadingIsQuiet) {
    path = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("big.csv"), {.rate_Hz = 1000.0});
    workspace.openFiles({path});
    EXPECT_TRUE(workspace.busy());
    ASSERT_EQ(jobs.running().size(), 1U);
    jobs.stop(jobs.running().front().id);
    settle();
    EXPECT_TRUE(jobs.running().empty());
    EXPECT_EQ(review().data(), nullptr);
    workspace.openFiles({path}); // and the destructor meets a running reader
}

TEST_F(ReviewFixture, aPlanOfOtherCellsThanTheLogRestsAtIsAskedAbout) {
    putPlan(8); // the day's sessions rest as four and as six cells
    openDay();
    auto& question = part<rw::CellsQuestion>();
    ASSERT_TRUE(question.isVisibleTo(widget));
    const auto dispute = rw::cellsDispute(*review().data());
    ASSERT_TRUE(dispute.has_value());
    EXPECT_EQ(dispute->planned, 8);
    EXPECT_EQ(dispute->byVoltage, (std::vector<int>{4, 6}));
    for (const rw::Finding& finding : review().data()->review->findings)
        EXPECT_NE(finding.id, "sag-deep") << "an eight-cell plan makes no deep sag of it";
    QTest::mouseClick(&question.byVoltage(), Qt::LeftButton);
    settle();
    EXPECT_FALSE(question.isVisibleTo(widget)) << "answered";
    EXPECT_EQ(review().data()->review->sessions[0].cells, 4);
    EXPECT_EQ(review().data()->review->sessions[1].cells, 6);
    EXPECT_EQ(review().data()->context.said.cells, (std::vector<int>{4, 6})) << "kept with the log";
}
