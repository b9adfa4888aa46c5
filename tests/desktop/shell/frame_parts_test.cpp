#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/widgets.h"
#include "app/desktop/shell/bench_strip.h"
#include "app/desktop/shell/notices.h"
#include "app/desktop/shell/theme.h"
#include "tests/desktop/window_fixture.h"

#include <QProgressBar>
#include <QPushButton>

#include <atomic>

using namespace rw;
using rw::test::await;

TEST(LatestWorker, deliversOnlyTheAnswerToTheLastQuestion) {
    QObject home;
    std::vector<int> answers;
    LatestWorker<int> worker(&home, [&](const std::shared_ptr<const int>& value, const QString& why) {
        ASSERT_TRUE(value) << why.toStdString();
        answers.push_back(*value);
    });
    for (int i = 1; i <= 50; ++i)
        worker.ask([i](const std::stop_token&) { return i; });
    ASSERT_TRUE(await([&] { return !worker.busy(); }));
    QTest::qWait(20);
    EXPECT_EQ(answers, std::vector<int>{50});
}

TEST(LatestWorker, aNewQuestionStopsTheRunningOne) {
    QObject home;
    std::atomic<bool> started = false, stopped = false;
    int answer = 0;
    LatestWorker<int> worker(&home, [&](const std::shared_ptr<const int>& value, const QString& why) {
        ASSERT_TRUE(value) << why.toStdString();
        answer = *value;
    });
    worker.ask([&](const std::stop_token& stop) {
        started = true;
        while (!stop.stop_requested())
            std::this_thread::yield();
        stopped = true;
        return 1;
    });
    ASSERT_TRUE(await([&] { return started.load(); }));
    worker.ask([](const std::stop_token&) { return 2; });
    ASSERT_TRUE(await([&] { return answer == 2; }));
    EXPECT_TRUE(stopped);
}

TEST(LatestWorker, saysWhyThereIsNoAnswer) {
    QObject home;
    QString trouble;
    LatestWorker<int> worker(&home, [&](const std::shared_ptr<const int>& value, const QString& why) {
        EXPECT_FALSE(value);
        trouble = why;
    });
    worker.ask([](const std::stop_token&) -> int { throw std::runtime_error("no pack"); });
    ASSERT_TRUE(await([&] { return !trouble.isEmpty(); }));
    EXPECT_EQ(trouble, QStringLiteral("no pack"));
}

TEST(FootLine, showsProgressAndStopsWorkOnce) {
    Jobs jobs;
    FootLine foot(jobs);
    foot.show();
    auto* stop = foot.findChild<QPushButton*>(QStringLiteral("stopJob"));
    auto* bar = foot.findChild<QProgressBar*>();
    EXPECT_FALSE(stop->isVisible());
    int stopped = 0;
    const int id = jobs.begin(QStringLiteral("Chances"), [&] { ++stopped; });
    jobs.progress(id, 0.5);
    EXPECT_TRUE(stop->isVisible());
    EXPECT_EQ(bar->value(), bar->maximum() / 2);
    QTest::mouseClick(stop, Qt::LeftButton);
    QTest::mouseClick(stop, Qt::LeftButton);
    EXPECT_EQ(stopped, 1);
    jobs.end(id);
    EXPECT_FALSE(stop->isVisible());
}

TEST(NoticeBar, staysUntilItIsDismissed) {
    QWidget window;
    NoticeBar bar(&window);
    window.show();
    EXPECT_FALSE(bar.isVisible());
    bar.complain(QStringLiteral("The plan was not opened"), QStringLiteral("<b>x</b>.json: missing"));
    EXPECT_TRUE(bar.isVisible());
    EXPECT_EQ(bar.text(), QStringLiteral("The plan was not opened: <b>x</b>.json: missing")); // never read as markup
    QTest::keyClick(&bar, Qt::Key_Escape);
    EXPECT_FALSE(bar.isVisible());
}

TEST(BenchStrip, saysWhatLiesOnTheBenchAndWhatIsExpected) {
    Bench bench;
    Units units;
    units.set(&UnitChoice::speed, SpeedUnit::Mps);
    BenchStrip strip(bench, units);
    strip.resize(1280, 64);
    EXPECT_EQ(benchTitle(bench).name, QStringLiteral("Nothing on the bench"));
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(rw::test::samplePlan());
    content.name = QStringLiteral("Heron");
    content.pack = QStringLiteral("pack 6S no. 2");
    content.revision = 7;
    content.changes = 2;
    bench.put(content);
    const auto& gears = content.input->gears;
    EXPECT_EQ(benchTitle(bench).rest, QStringLiteral(" · pack 6S no. 2 · %1/%2 · revision 7, 2 changes not kept")
                                          .arg(gears.pinion_teeth)
                                          .arg(gears.spur_teeth));
    bench.expect(
        {.zoneMean = 42.84, .low = 41.3, .high = 44.1, .targetProbability = 0.71, .pending = false, .exact = false});
    const auto* expected = strip.findChild<FigureLabel*>(QStringLiteral("expectedFigure"));
    EXPECT_EQ(expected->text(), QStringLiteral("42.8\u00a0m/s 41.3 … 44.1"));
    EXPECT_EQ(strip.findChild<FigureLabel*>(QStringLiteral("chanceFigure"))->text(), QStringLiteral("71\u00a0%"));
    // Where no value has an uncertainty there is no range, and that is said.
    Expectation exact = bench.expectation();
    exact.exact = true;
    exact.low = exact.high = std::nullopt;
    const Expectation before = bench.expectation();
    bench.expect(exact);
    EXPECT_EQ(expected->text(), QStringLiteral("42.8\u00a0m/s range not known"));
    bench.expect(before);
    units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    EXPECT_EQ(expected->text(), QStringLiteral("154.2\u00a0km/h 148.7 … 158.8"));
}

TEST(Theme, bothSheetsNameNoUnknownColour) {
    EXPECT_FALSE(styleSheet(Look::light()).contains(u'@'));
    EXPECT_FALSE(styleSheet(Look::night()).contains(u'@'));
    EXPECT_NE(styleSheet(Look::light()), styleSheet(Look::night()));
}
