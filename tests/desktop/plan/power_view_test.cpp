// The Power tab in the smallest window: what fits, what a picked row says beside the limits, and the size map's points.
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/power_beside.h"
#include "app/desktop/plan/power_panel.h"
#include "app/desktop/plan/size_panel.h"
#include "app/desktop/plan/tab_groups.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/figure_table.h"
#include "plotting/chart.h"
#include "plotting/map_chart.h"
#include "tests/desktop/window_fixture.h"

#include <QLabel>
#include <QPushButton>
#include <QScrollBar>

#include <algorithm>

namespace rw::test {

namespace {

class PowerView : public WindowTest {
protected:
    PowerPanel& panel() { return *program.window().findChild<PowerPanel*>(); }
    void openPower(QSize size) {
        open(size);
        program.garage.openSample(folder.filePath(QStringLiteral("sample.runwright")));
        ASSERT_TRUE(await([this] { return program.garage.isOpen(); }));
        Garage& garage = program.garage.garage();
        const Id setup = garage.list(ItemKind::Setup).front().id;
        BenchContent content = benchFromSetup(garage, setup, garage.list(ItemKind::Venue).front().id);
        PlanInput input = *content.input;
        input.drive.target_mps = 42.0;
        content.input = std::make_shared<const PlanInput>(std::move(input));
        program.bench.put(content);
        program.window().showWorkspace(QStringLiteral("plan"));
        program.window().findChild<TabGroups*>()->setCurrentWidget(&panel());
    }

    void expectPointPicksItsRow() {
        const ChartContent& content = panel().chart().content();
        ASSERT_GE(content.series.size(), 2U);
        const std::string note = content.series[1].notes[0].toStdString();
        emit panel().chart().pointClicked(1, 0);
        EXPECT_NE(panel().card().text().toStdString().find(note), std::string::npos);
        int own = 0; // ringed once, however many of the owned parts are alike
        for (const ChartMarker& marker : panel().chart().content().markers)
            own += marker.label == QStringLiteral("on the bench") ? 1 : 0;
        EXPECT_LE(own, 1);
    }

    void expectMapTellsWhatBinds() {
        ASSERT_TRUE(panel().size().map());
        EXPECT_EQ(panel().size().map()->kv.size(), SizeOptions{}.kvSteps);
        const MapContent& content = panel().size().chart().content();
        for (std::size_t i = 0; i < content.xs.size(); ++i)
            for (std::size_t j = 0; j < content.ys.size(); ++j) {
                if (!std::isfinite(content.z[i][j])) continue;
                const QString& name = content.names[static_cast<std::size_t>(content.region[i][j])];
                EXPECT_EQ(name.endsWith(QStringLiteral("over")), content.z[i][j] < 0.0) << name.toStdString();
            }
        const auto count = [&](MapPoint::Kind kind) {
            return std::count_if(content.points.begin(), content.points.end(),
                                 [&](const MapPoint& point) { return point.kind == kind; });
        };
        EXPECT_EQ(count(MapPoint::Kind::Ring), 1);
        EXPECT_EQ(count(MapPoint::Kind::Diamond), 1);
    }
};

} // namespace

// One window for all: its answer takes thousands of passes.
TEST_F(PowerView, InTheSmallestWindowTheTableFitsAndAPickedRowSpeaksBesideTheLimits) {
    openPower({1280, 800});
    ASSERT_TRUE(await([this] { return panel().answer() && !panel().busy(); }));
    QTest::qWait(50);
    ASSERT_GT(panel().table().model()->rowCount(), 5);
    EXPECT_EQ(panel().table().horizontalScrollBar()->maximum(), 0);
    for (const int column : {0, 1, 2}) // names can be told apart
        EXPECT_GE(panel().table().columnWidth(column), 56);
    expectMapTellsWhatBinds();
    expectPointPicksItsRow();

    auto* hold = program.window().findChild<HoldPanel*>();
    EXPECT_TRUE(hold->isAncestorOf(&panel().card()));
    const PlanInput before = *program.bench.content().input;
    auto* put = panel().card().findChild<QPushButton*>(QStringLiteral("powerBench"));
    ASSERT_TRUE(put);
    const auto& rows = panel().answer()->result.rows;
    const auto other =
        std::find_if(rows.begin(), rows.end(), [&](const ChooseRow& row) { return !sameParts(row.plan, before); });
    ASSERT_NE(other, rows.end());
    panel().table().setFocus();
    panel().table().setCurrentIndex(panel().table().model()->index(static_cast<int>(other - rows.begin()), 0));
    QTest::qWait(50);
    EXPECT_TRUE(put->isVisible() && put->isEnabled());
    const QString words = panel().card().text();
    EXPECT_TRUE(words.contains(program.units.text(Dimension::Current, other->peakPackCurrent, 0)));
    EXPECT_TRUE(words.contains(QStringLiteral("was"))) << words.toStdString();
    for (const QLabel* label : panel().card().findChildren<QLabel*>()) // every word in sight
        EXPECT_GE(label->height(), label->heightForWidth(label->width())) << label->text().toStdString();
    EXPECT_EQ(*program.bench.content().input, before); // until the button says so
    const PlanInput wanted = other->plan;
    QTest::mouseClick(put, Qt::LeftButton);
    EXPECT_TRUE(sameParts(*program.bench.content().input, wanted));
    program.window().findChild<TabGroups*>()->setCurrentIndex(0);
    EXPECT_FALSE(hold->isAncestorOf(&panel().card()));
}

TEST_F(PowerView, InAWindowWithoutLimitsTheCardStandsUnderTheTable) {
    openPower({900, 640});
    EXPECT_TRUE(panel().isAncestorOf(&panel().card()));
    EXPECT_TRUE(panel().card().isVisibleTo(&panel()));
}

} // namespace rw::test
