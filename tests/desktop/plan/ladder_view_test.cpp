// The ladder on screen and on paper: whole steps under their treads, more than five on further pages, what is likely to
// break a limit marked and never offered, and the bench folded to a rail beside it.
#include "app/desktop/pages/ladder_drawing.h"
#include "app/desktop/pages/ladder_sheet.h"
#include "app/desktop/pages/page_printer.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/ladder_panel.h"
#include "app/desktop/plan/plan_columns.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/tab_groups.h"
#include "tests/desktop/window_fixture.h"

#include <QDoubleSpinBox>
#include <QFile>
#include <QProcess>
#include <QPushButton>
#include <QRegularExpression>

namespace rw::test {

namespace {

// Invented: one pinion tooth a step.
Ladder stairs(std::size_t steps, double limitProbability = 0.02) {
    Ladder out;
    for (std::size_t i = 0; i < steps; ++i) {
        LadderStep step;
        step.plan = samplePlan();
        step.plan.gears.pinion_teeth += static_cast<int>(i) + 1;
        step.speed = 30.0 + 2.0 * static_cast<double>(i);
        step.expect = {{"zone_mean_mps", step.speed - 0.5, step.speed + 0.2, step.speed + 0.9},
                       {"peak_pack_A", 100.0, 110.0, 120.0},
                       {"stop_at_m", 280.0, 300.0, 320.0}};
        step.goOnIf = {{"peak_pack_A", true, 120.0, {}}, {"stop_at_m", true, 320.0, {}}};
        step.stopIf = {{"peak_pack_A", false, 150.0, "why"}, {"stop_at_m", false, 360.0, "why"}};
        step.targetProbability = 0.6;
        step.limitProbability = limitProbability;
        step.wait_s = 150.0;
        out.steps.push_back(step);
    }
    return out;
}

LadderHead head(const Ladder& ladder) {
    return {QStringLiteral("Sandpiper"), QStringLiteral("Invented strip"), 28.0, ladder.steps.back().speed,
            samplePlan()};
}

QString textOfPage(const QString& path, int page) {
    QProcess reader;
    const QString number = QString::number(page);
    reader.start(QStringLiteral("pdftotext"), {QStringLiteral("-f"), number, QStringLiteral("-l"), number,
                                               QStringLiteral("-layout"), path, QStringLiteral("-")});
    reader.waitForFinished();
    return QString::fromUtf8(reader.readAllStandardOutput()).simplified();
}

class LadderView : public WindowTest {
protected:
    LadderPanel& panel() { return *program.window().findChild<LadderPanel*>(); }
    void openLadder() {
        BenchContent content;
        PlanInput input = samplePlan();
        input.drive.target_mps = 33.0;
        content.input = std::make_shared<const PlanInput>(std::move(input));
        program.bench.put(content);
        program.window().showWorkspace(QStringLiteral("plan"));
        program.window().findChild<TabGroups*>()->setCurrentWidget(&panel());
    }
};

} // namespace

TEST_F(LadderView, EveryStepStandsWholeUnderItsTread) {
    const Ladder ladder = stairs(3);
    const LadderSheet sheet = ladderSheet(head(ladder), ladder, program.units);
    ASSERT_EQ(sheet.columns.size(), 3U);
    const int pinion = samplePlan().gears.pinion_teeth;
    EXPECT_EQ(sheet.columns[1].change, QStringLiteral("pinion %1 → %2").arg(pinion + 1).arg(pinion + 2));
    EXPECT_TRUE(sheet.columns[1].stays.contains(QStringLiteral("spur")));
    EXPECT_EQ(sheet.columns[1].figure, QStringLiteral("32.2"));
    EXPECT_EQ(sheet.columns[1].band, QStringLiteral("31.5 … 32.9"));
    EXPECT_EQ(sheet.columns[1].wait, QStringLiteral("2 min 30 s"));
    ASSERT_EQ(sheet.columns[1].lines.size(), 2U);
    EXPECT_EQ(sheet.columns[1].lines[0].goOn, QStringLiteral("≤ 120"));
    EXPECT_EQ(sheet.columns[1].lines[0].stop, QStringLiteral("> 150"));
    EXPECT_EQ(sheet.columns[1].boxes.size(), 3);
    // Columns stand beside each other and hold their widest line.
    const LadderPart all{0, 3};
    const QSizeF least = ladderLeast(sheet, all);
    double before = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
        const auto [left, right] = ladderColumnAt(sheet, all, least.width(), i);
        EXPECT_GE(left, before);
        EXPECT_GT(right - left, figuresWidth(font(Type::Small), QStringLiteral("☐ tyres, mesh, pack looked at")));
        EXPECT_LE(right, least.width() + 1e-9);
        before = right;
    }
}

TEST_F(LadderView, FiveStepsFitTheSmallWindowInEveryUnit) {
    const Ladder ladder = stairs(5);
    program.window().resize(1280, 800);
    for (const auto speed : {SpeedUnit::Kmh, SpeedUnit::Mph}) {
        program.units.set(&UnitChoice::speed, speed);
        program.units.set(&UnitChoice::length, speed == SpeedUnit::Mph ? LengthUnit::Inch : LengthUnit::Metric);
        const LadderSheet sheet = ladderSheet(head(ladder), ladder, program.units);
        // Rails of 32 at either side, margins of 24, the scroll bar and the paper's edge of 16.
        EXPECT_LE(ladderLeast(sheet, {0, 5}).width(), 1280 - 2 * 32 - 2 * 24 - 10 - 2 * 16);
        EXPECT_LE(ladderLeastHeight(sheet, {0, 5}, 1126), ladderLeastHeight(sheet, {0, 5}, 700))
            << "nothing is longer where there is more room";
    }
}

// A band that reaches beyond what ends the day: "go on" ends there too.
TEST_F(LadderView, WhatEndsTheDayIsNeverAReasonToGoOn) {
    Ladder ladder = stairs(1);
    ladder.steps[0].goOnIf[0].value = 180.0;
    const LadderSheet sheet = ladderSheet(head(ladder), ladder, program.units);
    EXPECT_EQ(sheet.columns[0].lines[0].goOn, QStringLiteral("≤ 150"));
    EXPECT_EQ(sheet.columns[0].lines[0].stop, QStringLiteral("> 150"));
}

TEST_F(LadderView, MoreThanFiveStepsGoOnFurtherPagesWholeStepsOnly) {
    const Ladder ladder = stairs(7);
    const LadderSheet sheet = ladderSheet(head(ladder), ladder, program.units);
    const auto pages = ladderPages(sheet);
    ASSERT_EQ(pages.size(), 2U);
    EXPECT_EQ(pages[0].count, 5U);
    EXPECT_EQ(pages[1].first, 5U);
    const QString path = folder.filePath(QStringLiteral("ladder.pdf"));
    ASSERT_TRUE(makeLadderPage(sheet).writeTo(path, QPageSize::A4, true));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    const QByteArray pdf = file.readAll();
    // ISO 32000-1, 7.7.3.3: the medium's size in 1/72 inch; A4 on its side is 842 by 595.
    const auto medium = QRegularExpression(QStringLiteral("/MediaBox\\s*\\[\\s*0\\s+0\\s+([\\d.]+)\\s+([\\d.]+)"))
                            .match(QString::fromLatin1(pdf));
    EXPECT_NEAR(medium.captured(1).toDouble(), 842.0, 1.0);
    EXPECT_NEAR(medium.captured(2).toDouble(), 595.0, 1.0);
    const QString first = textOfPage(path, 1), second = textOfPage(path, 2);
    for (int step = 1; step <= 7; ++step) {
        const QString name = QStringLiteral("step %1").arg(step);
        const QString made = QStringLiteral("made %1").arg(QString::number(28.0 + 2.0 * step, 'f', 1));
        EXPECT_EQ(first.contains(made), step <= 5) << step;
        EXPECT_EQ(second.contains(made), step > 5) << step;
        if (step > 5) {
            EXPECT_TRUE(second.contains(name)) << step;
        }
    }
    for (const QString& page : {first, second}) {
        EXPECT_TRUE(page.contains(QStringLiteral("Before every step")));
        EXPECT_TRUE(page.contains(QStringLiteral("every figure says go on")));
    }
    EXPECT_TRUE(textOfPage(path, 3).isEmpty());
}

TEST_F(LadderView, BeyondFiveStepsTheScreenScrollsSideways) {
    StairView view;
    const Ladder few = stairs(5), many = stairs(7);
    view.setSheet(ladderSheet(head(few), few, program.units));
    EXPECT_LE(view.minimumSizeHint().width(), 1158); // the middle of a window 1280 wide between its rails
    view.setSheet(ladderSheet(head(many), many, program.units));
    EXPECT_GT(view.minimumSizeHint().width(), 1158);
}

TEST_F(LadderView, AStepLikelyToBreakALimitIsMarkedAndNeverOffered) {
    StairView view;
    const Ladder risky = stairs(2, 0.11), safe = stairs(2, 0.09);
    view.setSheet(ladderSheet(head(risky), risky, program.units));
    EXPECT_FALSE(view.chosen());
    EXPECT_TRUE(view.sheet().columns[0].figure.startsWith(QStringLiteral("▲")));
    EXPECT_TRUE(view.sheet().columns[0].under.join(u' ').contains(QStringLiteral("not advised")));
    view.choose(0); // a person may
    EXPECT_EQ(view.chosen(), std::optional<std::size_t>(0));
    view.setSheet(ladderSheet(head(safe), safe, program.units));
    EXPECT_EQ(view.chosen(), std::optional<std::size_t>(0));
    EXPECT_FALSE(view.sheet().columns[0].figure.startsWith(QStringLiteral("▲")));
}

TEST_F(LadderView, ABlockedEndIsALastColumnThatSaysWhatBlocksAndCannotBeChosen) {
    Ladder ladder = stairs(2);
    ladder.blocked = LadderBlock{36.0, "strip", -0.04};
    StairView view;
    view.setSheet(ladderSheet(head(ladder), ladder, program.units));
    ASSERT_EQ(view.sheet().columns.size(), 3U);
    EXPECT_TRUE(view.sheet().columns[2].blocked);
    EXPECT_TRUE(view.sheet().columns[2].under.join(u' ').contains(QStringLiteral("breaks Strip by 4 %")));
    view.choose(2);
    EXPECT_EQ(view.chosen(), std::optional<std::size_t>(0));
}

TEST_F(LadderView, BenchAndLimitsFoldToRailsAndComeBackByAClick) {
    open();
    openLadder();
    auto* setup = program.window().findChild<SetupPanel*>();
    auto* hold = program.window().findChild<HoldPanel*>();
    auto* bench = program.window().findChild<EdgeRail*>(QStringLiteral("benchRail"));
    auto* limits = program.window().findChild<EdgeRail*>(QStringLiteral("limitsRail"));
    ASSERT_TRUE(bench && limits && setup && hold);
    EXPECT_TRUE(bench->isVisible() && limits->isVisible());
    EXPECT_FALSE(setup->isVisible() || hold->isVisible());
    EXPECT_LE(bench->width(), 48);
    QTest::mouseClick(bench, Qt::LeftButton);
    EXPECT_TRUE(setup->isVisible());
    EXPECT_FALSE(hold->isVisible());
    limits->setFocus();
    QTest::keyClick(limits, Qt::Key_Space);
    EXPECT_TRUE(hold->isVisible());
    QTest::mouseClick(bench, Qt::LeftButton);
    EXPECT_FALSE(setup->isVisible());
    program.window().findChild<TabGroups*>()->setCurrentIndex(0);
    EXPECT_FALSE(bench->isVisible() || limits->isVisible());
    EXPECT_TRUE(setup->isVisible() && hold->isVisible());
}

TEST_F(LadderView, WithoutATargetItSaysWhatToDoAndProvenIsWhatThePlanPromises) {
    open();
    BenchContent content;
    PlanInput aimless = samplePlan();
    aimless.drive.target_mps.reset();
    content.input = std::make_shared<const PlanInput>(std::move(aimless));
    program.bench.put(content);
    program.window().showWorkspace(QStringLiteral("plan"));
    ASSERT_TRUE(await([this] { return program.bench.expectation().zoneMean.has_value(); }));
    program.window().findChild<TabGroups*>()->setCurrentWidget(&panel());
    QTest::qWait(50);
    EXPECT_TRUE(panel().stair().accessibleDescription().contains(QStringLiteral("Set a target")));
    EXPECT_FALSE(panel().printer().actions().front()->isEnabled());
    auto* proven = panel().findChild<QDoubleSpinBox*>();
    EXPECT_NEAR(proven->value(), *program.bench.expectation().zoneMean, 0.06); // shown to a tenth
}

TEST_F(LadderView, WhatItsPageComesToIsSaidInTheWindow) {
    open();
    openLadder();
    panel().setProven(26.0);
    ASSERT_TRUE(await([&] { return panel().ladder() && !panel().ladder()->steps.empty(); }));
    panel().printer().writeTo(folder.filePath(QStringLiteral("ladder.txt")));
    EXPECT_TRUE(await([&] { return program.window().notice().contains(QStringLiteral("ladder.txt")); }));
}

TEST_F(LadderView, TheChosenStepGoesOnTheBenchAndOneUndoTakesItBack) {
    open();
    openLadder();
    panel().setProven(26.0);
    ASSERT_TRUE(await([this] { return panel().ladder() && !panel().ladder()->steps.empty(); }));
    const PlanInput before = *program.bench.content().input;
    const std::size_t last = panel().ladder()->steps.size() - 1;
    const PlanInput wanted = panel().ladder()->steps[last].plan;
    panel().stair().choose(last);
    auto* put = panel().findChild<QPushButton*>(QStringLiteral("ladderBench"));
    ASSERT_TRUE(put->isEnabled());
    QTest::mouseClick(put, Qt::LeftButton);
    const PlanInput& now = *program.bench.content().input;
    EXPECT_EQ(now.gears.pinion_teeth, wanted.gears.pinion_teeth);
    EXPECT_EQ(now.pack.series, wanted.pack.series);
    EXPECT_EQ(now.drive.target_mps, before.drive.target_mps);
    for (const auto& workspace : program.window().workspaces())
        if (workspace->undoStack() && workspace->undoStack()->canUndo()) workspace->undoStack()->undo();
    EXPECT_EQ(*program.bench.content().input, before);
}

} // namespace rw::test
