// "What this day taught", with an invented report: what is read in its tables, and what its buttons do to the bench.
#include "app/desktop/review/bar_table.h"
#include "app/desktop/review/residual_view.h"
#include "app/desktop/review/taught_panel.h"
#include "app/desktop/review/taught_rows.h"
#include "core/plan/plan_json.h"
#include "tests/desktop/desk_things.h"
#include "tests/desktop/invented_log.h"

#include <gtest/gtest.h>

#include <QComboBox>
#include <QTest>

using namespace rw;

namespace {

// Numbers are invented; low and high of a normal posterior lie 1.96 standard errors to either side.
LearnReport inventedReport(const ReviewData& data) {
    LearnReport report;
    report.converged = true;
    report.parameters = {{"tyre.slip_stiffness", 15.2, 4.4, 6.6, 23.8, 15.0, 4.5, false,
                          "nothing in these logs depends on it", std::nullopt},
                         {"pack.cell_resistance_ohm", 1.84e-3, 5e-5, 1.742e-3, 1.938e-3, 1.6e-3, 2.4e-4, true,
                          std::nullopt, std::nullopt},
                         {"motor.kv_rpm_per_V", 1731.0, 6.0, 1719.2, 1742.8, 1750.0, 35.0, true, std::nullopt,
                          "1731 lies far from 1750: wrong gearing entered"}};
    report.correlation.keys = {"tyre.slip_stiffness", "pack.cell_resistance_ohm", "motor.kv_rpm_per_V"};
    report.correlation.matrix = {{1, 0, 0}, {0, 1, 0.2}, {0, 0.2, 1}};
    report.nuisances = {{"head wind", "m/s", 0, 0, 1, 1.2, 0.4}};
    report.residuals = {{Quantity::PackVoltage, 1500, 120.0, 0.021, 0.025, {0, 0, 0}, 3.0, 0.2}};
    report.foretold = Foretold{
        {0, 1, 2}, {{"peak_A", 163.0, 168.0, 173.0, 168.0, true}, {"motor_soak_C", 38.2, 40.1, 42.0, 42.6, false}}};
    report.passesUsed = {{0, 0, 0}, {0, 0, 1}};
    LearnTrace trace{{0, 0, 0}, Quantity::PackVoltage, {}, {}, {}, {}};
    for (int i = 0; i < 50; ++i) {
        trace.time.push_back(data.review->passes[0].start + 0.1 * i);
        trace.measured.push_back(16.0 - 0.01 * i);
        trace.model.push_back(16.02 - 0.01 * i);
        trace.used.push_back(i < 10 || i > 20);
    }
    report.traces = {trace};
    return report;
}

NextReport inventedNext() {
    NextReport next;
    next.first = {"Calibrate the endpoint before anything else."};
    next.changes = {{"pinion 27 instead of 26",
                     {{"gears.pinion_teeth", 27.0, ""}},
                     {{39.0, 40.0, 41.0}},
                     1.5,
                     0.77,
                     0.04,
                     "strip",
                     0.2},
                    {"nothing", {}, {{37.5, 38.5, 39.5}}, 0.0, 0.004, 0.01, "strip", 0.23},
                    {"cutoff off",
                     {{"controller.cutoff.mode", std::nullopt, "off"}},
                     {{40.0, 41.0, 42.0}},
                     2.5,
                     0.999,
                     0.24,
                     "motor_case",
                     0.05}};
    return next;
}

struct TaughtTest : testing::Test, rw::test::DeskThings {
    TaughtTest()
        : review(desk(), undo)
        , panel(review) {
        units.set(&UnitChoice::speed, SpeedUnit::Mps);
        BenchContent content;
        PlanInput plan =
            readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/plans/invented_light_two_wheel_drive.json");
        plan.drive.target_mps = 39.6;
        content.input = std::make_shared<const PlanInput>(plan);
        bench.put(content);
        QObject::connect(&bench, &Bench::suggested, &bench, [this](const PlanInput& input, const QString& what) {
            suggested = input;
            words = what;
        });
        panel.resize(1000, 700);
        panel.show();
    }
    void openAndTeach() {
        review.open(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
        ASSERT_TRUE(QTest::qWaitFor([this] { return review.data() != nullptr && !review.busy(); }, 30'000));
        auto day = std::make_shared<DayTaught>();
        day->data = review.data();
        day->plan = *bench.content().input;
        day->report = inventedReport(*day->data);
        day->learned = day->plan;
        day->next = inventedNext();
        day->before = ZoneBand{36.0, 38.0, 40.0};
        day->after = ZoneBand{37.5, 38.5, 39.5};
        panel.setDay(day);
    }
    static QString cell(const BarTable& table, int row, int column) {
        return table.model()->index(row, column).data().toString();
    }

    QUndoStack undo;
    ReviewDesk review;
    TaughtPanel panel;
    std::optional<PlanInput> suggested;
    QString words;
};

} // namespace

TEST_F(TaughtTest, theMostNarrowedStandsFirstAndWhatTheLogDoesNotTellLast) {
    openAndTeach();
    const BarTable& table = panel.parameters();
    ASSERT_EQ(table.model()->rowCount(), 3);
    EXPECT_EQ(cell(table, 0, 0), QStringLiteral("speed constant"));
    EXPECT_EQ(cell(table, 0, 4), QStringLiteral("1731.0")) << "as many digits as its error deserves";
    EXPECT_EQ(cell(table, 0, 5), QStringLiteral("6.0"));
    EXPECT_TRUE(cell(table, 0, 7).contains(QStringLiteral("wrong gearing entered"))) << "a conflict is said";
    EXPECT_EQ(cell(table, 1, 4), QStringLiteral("1.840")) << "in the unit of the field: mΩ";
    EXPECT_EQ(cell(table, 1, 6), QStringLiteral("mΩ"));
    EXPECT_TRUE(cell(table, 2, 7).contains(QStringLiteral("nothing in these logs depends on it")));
    const auto bar = table.model()->index(0, 3).data(BarCellRole).value<BarCell>();
    ASSERT_TRUE(bar.pale && bar.solid);
    EXPECT_NEAR(bar.pale->to - bar.pale->from, 2 * 1.96 * 35.0, 1e-9);
    EXPECT_NEAR(bar.solid->from, 1719.2, 1e-9);
    EXPECT_EQ(bar.tick, 1750.0);
}

TEST_F(TaughtTest, whatLiesOutsideTheForetoldIsSaidInWords) {
    openAndTeach();
    const BarTable& table = panel.foretold();
    ASSERT_EQ(table.model()->rowCount(), 2);
    EXPECT_EQ(cell(table, 0, 5), QString());
    EXPECT_EQ(cell(table, 1, 4), QStringLiteral("42.6"));
    EXPECT_EQ(cell(table, 1, 5), QStringLiteral("0.6 above"));
    units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit); // 42.6 °C = 108.68 °F; 0.6 K are 1.08 °F
    EXPECT_EQ(cell(panel.foretold(), 1, 4), QStringLiteral("108.7"));
    EXPECT_EQ(cell(panel.foretold(), 1, 5), QStringLiteral("1.1 above"));
}

TEST(TaughtRows, whatWasLeftOutForOneReasonIsOneSentence) {
    LearnReport report;
    report.passesLeftOut = {{{0, 1, 4}, "8 cells"}, {{0, 1, 5}, "8 cells"}, {{0, 1, 6}, "too short"}};
    EXPECT_EQ(leftOutWords(report),
              (std::vector<std::string>{"Passes 5, 6 left out: 8 cells", "Pass 7 left out: too short"}));
}

// "0.0 below" would say nothing: as many decimals as it takes.
TEST(TaughtRows, aSmallMissIsShownAsAMiss) {
    Foretold foretold;
    foretold.figures = {{"motor_soak_C", 27.60, 27.65, 27.70, 27.59, false}};
    const TaughtTable table = foretoldRows(foretold, Units());
    ASSERT_EQ(table.rows.size(), 1U);
    EXPECT_EQ(table.rows[0][4].text, QStringLiteral("27.59"));
    EXPECT_EQ(table.rows[0][5].text, QStringLiteral("0.01 below"));
}

TEST_F(TaughtTest, changesThatMayBreakALimitStandApart) {
    openAndTeach();
    const BarTable& table = panel.changes();
    ASSERT_EQ(table.model()->rowCount(), 4);
    EXPECT_EQ(cell(table, 0, 5), QStringLiteral("77\u00a0%"));
    EXPECT_EQ(cell(table, 1, 5), QStringLiteral("< 1 %"));
    EXPECT_EQ(cell(table, 2, 0), QStringLiteral("more than one in ten to break a limit"));
    EXPECT_TRUE(cell(table, 3, 6).startsWith(QStringLiteral("▲ 24")));
    EXPECT_EQ(table.model()->index(0, 1).data(BarCellRole).value<BarCell>().target, 39.6);
}

TEST_F(TaughtTest, aClickOnAChangePutsItOnTheBenchAsOneStep) {
    openAndTeach();
    BarTable& table = panel.changes();
    QTest::mouseClick(table.viewport(), Qt::LeftButton, {}, table.visualRect(table.model()->index(0, 0)).center());
    ASSERT_TRUE(suggested.has_value());
    EXPECT_EQ(suggested->gears.pinion_teeth, 27);
    EXPECT_EQ(words, QStringLiteral("pinion 27 instead of 26"));
    suggested.reset();
    QTest::mouseClick(table.viewport(), Qt::LeftButton, {}, table.visualRect(table.model()->index(2, 0)).center());
    EXPECT_FALSE(suggested.has_value()) << "the dividing row is none";
    table.setCurrentIndex(table.model()->index(3, 0));
    table.setFocus();
    QTest::keyClick(&table, Qt::Key_Return);
    ASSERT_TRUE(suggested.has_value());
    EXPECT_EQ(suggested->controller.cutoff.mode, CutoffMode::Off);
}

TEST_F(TaughtTest, whatWasLearnedIsOfThisJudgingOfThisLogAlone) {
    openAndTeach();
    ASSERT_NE(panel.day(), nullptr);
    LogSaid said;
    said.cells = {4, 6};
    review.setJudging(said);
    ASSERT_TRUE(QTest::qWaitFor([this] { return !review.busy(); }, 30'000));
    EXPECT_EQ(panel.day(), nullptr);
}

TEST_F(TaughtTest, theDifferenceOfLogAndModelIsDrawnWithItsNoise) {
    openAndTeach();
    const ResidualCharts charts = residualCharts(*panel.day(), panel.day()->report.traces.front(), units);
    ASSERT_EQ(charts.over.series.size(), 2U);
    EXPECT_EQ(charts.over.series[1].line, LineKind::Dashed);
    ASSERT_EQ(charts.below.series.size(), 1U);
    EXPECT_NEAR(charts.below.series[0].y[5], -0.02, 1e-9); // 16.00 − 16.02
    EXPECT_NEAR(charts.below.series[0].x[5], 0.5, 1e-9) << "from open throttle";
    ASSERT_EQ(charts.below.bands.size(), 1U);
    EXPECT_NEAR(charts.below.bands[0].high[0], 0.025, 1e-12);
    ASSERT_EQ(charts.over.regions.size(), 1U) << "left out: 1.0 to 2.1 s";
    EXPECT_NEAR(charts.over.regions[0].from, 1.0, 1e-9);
    EXPECT_NEAR(charts.over.regions[0].to, 2.1, 1e-9);
}

TEST_F(TaughtTest, aPlanWithoutUncertaintiesSaysWhatToDo) {
    PlanInput certain = *bench.content().input;
    certain.uncertainty.clear();
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(certain);
    bench.put(content);
    review.open(rw::test::writeInventedDay(QDir(folder.path()), QStringLiteral("day.csv")));
    ASSERT_TRUE(QTest::qWaitFor([this] { return review.data() != nullptr && !review.busy(); }, 30'000));
    EXPECT_TRUE(whyNothingToLearn(*review.data()).contains(QStringLiteral("±")));
}
