// The Review workspace driven as a person does, with an invented day written as text and read by the real importer.
#include "app/desktop/review/findings_panel.h"
#include "app/desktop/review/log_panels.h"
#include "app/desktop/review/pass_panel.h"
#include "app/desktop/review/session_ribbon.h"
#include "app/desktop/shared/figure_table.h"
#include "plotting/chart.h"
#include "tests/desktop/review/review_fixture.h"

#include <QAbstractItemModelTester>
#include <QComboBox>
#include <QLabel>
#include <QListWidget>

#include <algorithm>
#include <cmath>

using rw::test::ReviewFixture;

TEST_F(ReviewFixture, aDroppedLogShowsItsSessionsAndPasses) {
    EXPECT_EQ(workspace.fits(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("x.csv"))),
              rw::Workspace::Fit::Sure);
    openDay();
    const rw::LogReview& found = *review().data()->review;
    ASSERT_EQ(found.sessions.size(), 2U);
    ASSERT_EQ(found.passes.size(), 3U);
    EXPECT_EQ(found.sessions[0].cells, 4);
    EXPECT_EQ(found.sessions[1].cells, 6);
    EXPECT_EQ(workspace.document(), QStringLiteral("invented day.csv"));
    const rw::LanesContent& lanes = part<rw::LanesPanel>().view().content();
    EXPECT_EQ(lanes.segments.size(), 2U);
    EXPECT_GE(lanes.lanes.size(), 6U);
    EXPECT_EQ(part<rw::SessionRibbon>().scale().blocks().size(), 2U);
}

TEST_F(ReviewFixture, aClickOnAFindingBringsItsEvidenceIntoView) {
    openDay();
    auto& panel = part<rw::FindingsPanel>();
    const auto cards = panel.cards();
    ASSERT_FALSE(cards.isEmpty());
    for (rw::FindingCard* card : cards) {
        const rw::Finding& what = review().data()->review->findings[card->finding()];
        review().axis().showAll();
        QTest::mouseClick(card, Qt::LeftButton, {}, card->rect().center());
        const rw::Range seen = review().axis().range();
        const rw::Range evidence = review().data()->spanOfFinding(what);
        EXPECT_LE(seen.from, evidence.from + 1e-6) << std::string(what.id);
        EXPECT_GE(seen.to, evidence.to - 1e-6) << std::string(what.id);
        EXPECT_NEAR(review().axis().cursor().value_or(-1.0), review().data()->axisTime(what.session, what.at), 1e-9);
        if (what.pass) {
            EXPECT_EQ(review().pass(), what.pass);
        }
    }
    QTest::keyClick(cards.first(), Qt::Key_Return);
    EXPECT_TRUE(review().axis().pinned()) << "the keyboard does the same";
}

TEST_F(ReviewFixture, aDraggedSessionStartIsUndoneAndRedone) {
    openDay();
    auto& ribbon = part<rw::SessionRibbon>();
    const std::uint32_t found = review().data()->review->sessions[1].startLine;
    const rw::RibbonScale scale = ribbon.scale();
    const QPoint edge(static_cast<int>(scale.blocks()[1].from), ribbon.height() / 2);
    const QPoint later = edge + QPoint(40, 0);
    QTest::mousePress(&ribbon, Qt::LeftButton, {}, edge);
    QTest::mouseMove(&ribbon, later);
    QTest::mouseRelease(&ribbon, Qt::LeftButton, {}, later);
    settle();
    ASSERT_EQ(workspace.undoStack()->count(), 1);
    const std::uint32_t moved = review().data()->review->sessions[1].startLine;
    EXPECT_GT(moved, found);
    workspace.undoStack()->undo();
    settle();
    EXPECT_EQ(review().data()->review->sessions[1].startLine, found);
    workspace.undoStack()->redo();
    settle();
    EXPECT_EQ(review().data()->review->sessions[1].startLine, moved);
}

TEST_F(ReviewFixture, passesAreAddedAndRemovedAtTheCursor) {
    openDay();
    const QList<QAction*> edits = workspace.actions(rw::Workspace::Menu::Edit);
    ASSERT_EQ(edits.size(), 4);
    EXPECT_FALSE(edits[2]->isEnabled()) << "no mark, no cursor";
    review().goToPass(1);
    EXPECT_TRUE(edits[3]->isEnabled());
    edits[3]->trigger();
    settle();
    EXPECT_EQ(review().data()->review->passes.size(), 2U);
    workspace.undoStack()->undo();
    settle();
    EXPECT_EQ(review().data()->review->passes.size(), 3U);
    review().axis().setAnchor(10.0);
    review().axis().setCursor(15.0);
    ASSERT_TRUE(edits[2]->isEnabled());
    edits[2]->trigger();
    settle();
    EXPECT_EQ(review().data()->review->passes.size(), 4U);
}

TEST_F(ReviewFixture, theRibbonIsWorkedByMouseAndKeys) {
    openDay();
    auto& ribbon = part<rw::SessionRibbon>();
    const rw::Range block = ribbon.scale().blocks()[1];
    QTest::mouseClick(&ribbon, Qt::LeftButton, {}, QPoint(static_cast<int>(block.to) - 20, ribbon.height() / 2));
    EXPECT_NEAR(review().axis().range().from, review().data()->spanOfSession(1).from, 1.0);
    ribbon.setFocus();
    QTest::keyClick(&ribbon, Qt::Key_Right);
    EXPECT_EQ(review().pass(), 0U);
    QTest::keyClick(&ribbon, Qt::Key_Right);
    EXPECT_EQ(review().pass(), 1U);
    EXPECT_LE(review().axis().range().from, review().data()->spanOfPass(1).from);
    QTest::keyClick(&ribbon, Qt::Key_Home);
    EXPECT_EQ(review().axis().range(), review().axis().bounds());
}

TEST_F(ReviewFixture, thePassTableSortsByValueAndFollowsTheChoice) {
    openDay();
    auto& table = part<rw::PassPanel>().table();
    ASSERT_EQ(table.model()->rowCount(), 3);
    table.sortByColumn(rw::PassTableModel::Current, Qt::DescendingOrder);
    double before = 1e9;
    for (int row = 0; row < 3; ++row) {
        const double value =
            table.model()->index(row, rw::PassTableModel::Current).data(rw::PassTableModel::RawRole).toDouble();
        EXPECT_LE(value, before);
        before = value;
    }
    table.selectRow(0);
    ASSERT_TRUE(review().pass().has_value());
    const auto chosen = *review().pass();
    EXPECT_EQ(table.model()->index(0, 0).data().toString(), QString::number(chosen + 1));
    review().goToPass(2);
    EXPECT_EQ(table.model()->index(table.currentIndex().row(), 0).data().toString(), QStringLiteral("3"));
}

// In the order of the runs nothing is marked; else the head says by what they are sorted, and stands whole.
TEST_F(ReviewFixture, headsOfThePassTableStandWholeAndSayTheOrder) {
    openDay();
    auto& panel = part<rw::PassPanel>();
    auto& table = panel.table();
    const auto head = [&](int column) { return table.model()->headerData(column, Qt::Horizontal).toString(); };
    EXPECT_EQ(head(rw::PassTableModel::Number), QStringLiteral("no."));
    for (const int width : {360, 300, 240}) {
        panel.setMinimumWidth(0);
        panel.resize(width, panel.height());
        table.sortByColumn(rw::PassTableModel::Motor, Qt::DescendingOrder);
        QTest::qWait(10);
        EXPECT_TRUE(head(rw::PassTableModel::Motor).startsWith(QStringLiteral("↓ ")));
        int all = 0;
        for (int column = 0; column < table.model()->columnCount(); ++column) {
            if (table.isColumnHidden(column)) continue;
            all += table.columnWidth(column);
            EXPECT_GE(table.columnWidth(column), table.neededWidth(column)) << width << head(column).toStdString();
        }
        EXPECT_LE(all, table.viewport()->width()) << width;
        table.sortByColumn(rw::PassTableModel::Number, Qt::AscendingOrder);
    }
    EXPECT_EQ(head(rw::PassTableModel::Motor).left(5), QStringLiteral("motor"));
}

TEST_F(ReviewFixture, modelsKeepTheRulesOfModels) {
    rw::PassTableModel passes(review());
    rw::ValueTableModel figures(2);
    const QAbstractItemModelTester one(&passes, QAbstractItemModelTester::FailureReportingMode::Fatal);
    const QAbstractItemModelTester two(&figures, QAbstractItemModelTester::FailureReportingMode::Fatal);
    openDay();
    rw::showPassFigures(figures, review());
    EXPECT_EQ(passes.rowCount(), 3);
    EXPECT_EQ(figures.columnCount(), 5);
    EXPECT_GT(figures.rowCount(), 10);
}

TEST_F(ReviewFixture, theUnitSwitchTurnsLanesAndTables) {
    openDay();
    const auto temperatureLane = [this] {
        const auto& lanes = part<rw::LanesPanel>().view().content().lanes;
        return *std::find_if(lanes.begin(), lanes.end(),
                             [](const rw::Lane& lane) { return lane.hue == rw::Hue::MotorHeat; });
    };
    EXPECT_EQ(temperatureLane().unit, QStringLiteral("°C"));
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Fahrenheit);
    EXPECT_EQ(temperatureLane().unit, QStringLiteral("°F"));
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Celsius);
}

TEST_F(ReviewFixture, passesLieOverEachOther) {
    openDay();
    auto& overlay = part<rw::OverlayPanel>();
    auto* tabs = widget->findChild<QTabWidget*>();
    tabs->setCurrentWidget(&overlay);
    settle();
    EXPECT_EQ(overlay.passes().count(), 3);
    ASSERT_EQ(overlay.chart().content().series.size(), 3U);
    overlay.passes().item(1)->setCheckState(Qt::Unchecked);
    ASSERT_EQ(overlay.chart().content().series.size(), 2U);
    const rw::ChartSeries& series = overlay.chart().content().series.front();
    EXPECT_NEAR(series.x.front(), 0.0, 0.1) << "from the throttle's start";
    EXPECT_TRUE(std::is_sorted(series.x.begin(), series.x.end()));
}

TEST_F(ReviewFixture, theLogInHandIsLaidOverItselfFirst) {
    openDay();
    auto& overlay = part<rw::OverlayPanel>();
    widget->findChild<QTabWidget*>()->setCurrentWidget(&overlay);
    settle();
    const QString other = rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("other day.csv"));
    workspace.openFiles({other});
    settle();
    const int inHand = review().data()->id;
    ASSERT_EQ(overlay.passes().count(), 6);
    for (int row = 0; row < 6; ++row) {
        const QListWidgetItem& item = *overlay.passes().item(row);
        EXPECT_EQ(item.checkState() == Qt::Checked, item.data(Qt::UserRole).toInt() == inHand) << row;
        EXPECT_EQ(item.data(Qt::UserRole).toInt() == inHand, row < 3) << "it stands first";
    }
    // What was ticked by hand stays when the log comes back into hand.
    overlay.passes().item(0)->setCheckState(Qt::Unchecked);
    overlay.passes().item(4)->setCheckState(Qt::Checked);
    review().show(review().logs().front()->id);
    settle();
    EXPECT_EQ(overlay.passes().item(1)->checkState(), Qt::Checked);
    EXPECT_EQ(overlay.chart().content().series.size(), 3U);
}

TEST_F(ReviewFixture, onlyWhatTheLogTellsCanBeLaidOver) {
    openDay(); // tells no speed, and without a plan the wheels tell none either
    auto& overlay = part<rw::OverlayPanel>();
    widget->findChild<QTabWidget*>()->setCurrentWidget(&overlay);
    settle();
    for (int i = 0; i < overlay.quantity().count(); ++i) {
        overlay.quantity().setCurrentIndex(i);
        ASSERT_EQ(overlay.chart().content().series.size(), 3U) << overlay.quantity().currentText().toStdString();
        const std::vector<double>& values = overlay.chart().content().series.front().y;
        EXPECT_TRUE(std::ranges::any_of(values, [](double y) { return std::isfinite(y); }))
            << overlay.quantity().currentText().toStdString();
    }
}

TEST_F(ReviewFixture, noLabelIsCutAndPicturesAreNotEmpty) {
    openDay();
    for (const QSize size : {QSize(1280, 720), QSize(1920, 1000)}) {
        widget->resize(size);
        settle();
        for (const QLabel* label : widget->findChildren<QLabel*>()) {
            if (!label->isVisibleTo(widget) || label->text().isEmpty()) continue;
            const int needed = label->wordWrap() ? label->heightForWidth(label->width()) : label->sizeHint().height();
            EXPECT_GE(label->height() + 1, needed) << label->text().toStdString();
            if (!label->wordWrap()) {
                EXPECT_GE(label->width() + 1, label->sizeHint().width()) << label->text().toStdString();
            }
        }
        const QImage image = widget->grab().toImage();
        QSet<QRgb> colours;
        for (int y = 0; y < image.height(); y += 3) {
            for (int x = 0; x < image.width(); x += 3)
                colours.insert(image.pixel(x, y));
        }
        EXPECT_GT(colours.size(), 40);
    }
}

TEST_F(ReviewFixture, findingsAreToldInTheUnitsThatThePersonChose) {
    openDay();
    const auto texts = [this] {
        QStringList all;
        for (const rw::FindingCard* card : part<rw::FindingsPanel>().cards())
            all << card->accessibleName();
        return all.join(u'\n');
    };
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Celsius);
    settle();
    const QString celsius = texts();
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Fahrenheit);
    settle();
    const QString fahrenheit = texts();
    units.set(&rw::UnitChoice::temperature, rw::TemperatureUnit::Celsius);
    EXPECT_FALSE(fahrenheit.contains(QStringLiteral("°C"))) << fahrenheit.toStdString();
    EXPECT_EQ(celsius.contains(QStringLiteral("°C")), fahrenheit.contains(QStringLiteral("°F")));
}

TEST_F(ReviewFixture, eachPassIsForetoldFromItsOwnStart) {
    putPlan(6);
    openDay();
    const rw::ReviewData& data = *review().data();
    const auto of = [&data](std::size_t pass, rw::Quantity quantity) {
        return std::ranges::find_if(
            data.predicted, [&](const rw::PlanLine& line) { return line.pass == pass && line.quantity == quantity; });
    };
    for (std::size_t pass = 0; pass < data.review->passes.size(); ++pass) {
        const rw::ReviewPass& driven = data.review->passes[pass];
        const auto line = of(pass, rw::Quantity::PackVoltage);
        ASSERT_EQ(line != data.predicted.end(), data.review->sessions[driven.session].planFits) << pass;
        if (line == data.predicted.end()) continue;
        // At rest the model's pack stands at the pass's own resting voltage: the charge was read from that.
        EXPECT_NEAR(line->trace.value.front(), *driven.restingVoltage, 0.05) << pass;
    }
}
