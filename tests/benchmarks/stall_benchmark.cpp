// How long the interface thread stays away from its events while long work runs beside it: a heartbeat every
// millisecond, the longest gap between two beats as counter longest_stall_ms; a gap of up to 50 ms is not felt. On a
// machine that has other work a gap holds the wait for a processor too: longest_work_ms is the most processor time that
// the interface thread itself took between two beats.
// The window is painted off screen at 1440 × 900 pixels.
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/spread_controller.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/review_actions.h"
#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/review_workspace.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shell/program.h"
#include "app/desktop/shell/theme.h"
#include "tests/benchmarks/long_log.h"

#include <benchmark/benchmark.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QTemporaryDir>
#include <QTimer>

#include <algorithm>
#include <ctime>
#include <functional>

namespace {

class Heartbeat {
public:
    Heartbeat() {
        timer_.setTimerType(Qt::PreciseTimer);
        timer_.setInterval(1);
        QObject::connect(&timer_, &QTimer::timeout, [this] {
            const double gap = static_cast<double>(clock_.nsecsElapsed()) * 1e-6;
            longest_ = std::max(longest_, gap);
            late_ += gap > allowed_ms;
            const double worked = processorTime();
            mostWork_ = std::max(mostWork_, worked - workedBefore_);
            workedBefore_ = worked;
            clock_.restart();
        });
    }
    void start() {
        clock_.start();
        workedBefore_ = processorTime();
        timer_.start();
    }
    void stop() { timer_.stop(); }
    [[nodiscard]] double longest() const { return longest_; } // ms
    [[nodiscard]] int late() const { return late_; }
    [[nodiscard]] double mostWork() const { return mostWork_; } // ms
    static constexpr double allowed_ms = 50.0;

private:
    static double processorTime() { // ms, of this thread
        timespec time{};
        clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
        return 1e3 * static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_nsec);
    }

    QTimer timer_;
    QElapsedTimer clock_;
    double longest_ = 0.0, workedBefore_ = 0.0, mostWork_ = 0.0;
    int late_ = 0;
};

void runEvents(const std::function<bool()>& until) {
    while (!until())
        QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents);
}

// What is queued behind the answer belongs to it: painting, lists that fill a handful at a time.
void runEventsFor(int milliseconds) {
    bool over = false;
    QTimer::singleShot(milliseconds, [&over] { over = true; });
    runEvents([&over] { return over; });
}

struct Window {
    Window()
        : program(folder.filePath(QStringLiteral("settings.ini")))
        , theme(*static_cast<QApplication*>(QCoreApplication::instance()), program.settings)
        , shell(program.window()) {
        shell.resize(1440, 900);
        shell.show();
    }
    QTemporaryDir folder;
    rw::Program program;
    rw::Theme theme;
    rw::Shell& shell;
};

void report(benchmark::State& state, const Heartbeat& heart) {
    state.counters["longest_stall_ms"] = heart.longest();
    state.counters["longest_work_ms"] = heart.mostWork();
    state.counters["stalls_over_50ms"] = heart.late();
}

void importInTheWindow(benchmark::State& state) {
    const rw::test::TemporaryFile file(rw::test::longLogText(250'000'000));
    Heartbeat heart;
    for (auto _ : state) {
        state.PauseTiming();
        Window window;
        window.shell.openFiles({QStringLiteral(":/samples/example.json")}); // the log is judged and overlaid by it
        window.shell.showWorkspace(QStringLiteral("review"));
        runEventsFor(500);
        auto& review = dynamic_cast<rw::ReviewWorkspace&>(*window.shell.workspace(QStringLiteral("review")));
        state.ResumeTiming();
        heart.start();
        window.shell.openFiles({QString::fromStdString(file.path())});
        runEvents([&review] { return !review.busy(); });
        runEventsFor(3000);
        heart.stop();
        state.PauseTiming();
        if (review.review().data() == nullptr) state.SkipWithError("the log was not read");
        state.ResumeTiming();
    }
    report(state, heart);
}

void spreadInTheWindow(benchmark::State& state) {
    Heartbeat heart;
    for (auto _ : state) {
        state.PauseTiming();
        Window window;
        window.shell.openFiles({QStringLiteral(":/samples/example.json")});
        auto& plan = dynamic_cast<rw::PlanWorkspace&>(*window.shell.workspace(QStringLiteral("plan")));
        runEvents([&plan] { return !plan.busy(); });
        runEventsFor(500);
        state.ResumeTiming();
        heart.start();
        plan.spread().run(rw::SpreadController::thoroughRuns);
        runEvents([&plan] { return !plan.busy(); });
        runEventsFor(500);
        heart.stop();
        state.PauseTiming();
        if (!plan.spread().result()) state.SkipWithError("the spread has no result");
        state.ResumeTiming();
    }
    report(state, heart);
}

// A log of 100 MB is kept, the keeping undone and done again, and the garage that holds it is opened anew.
void keepInTheWindow(benchmark::State& state) {
    const rw::test::TemporaryFile file(rw::test::longLogText(100'000'000));
    Heartbeat heart;
    for (auto _ : state) {
        state.PauseTiming();
        Window window;
        const QString garage = window.folder.filePath(QStringLiteral("own.runwright"));
        window.program.garage.create(garage);
        window.shell.openFiles({QString::fromStdString(file.path())});
        auto& review = dynamic_cast<rw::ReviewWorkspace&>(*window.shell.workspace(QStringLiteral("review")));
        const auto& jobs = window.program.jobs;
        runEvents([&review] { return !review.busy(); });
        runEventsFor(2000);
        state.ResumeTiming();
        heart.start();
        review.reviewActions().keeper().keep({});
        runEvents([&review] { return !review.busy(); });
        window.shell.showWorkspace(QStringLiteral("garage"));
        QUndoStack& undo = *window.shell.workspace(QStringLiteral("garage"))->undoStack();
        undo.undo();
        runEvents([&jobs] { return jobs.running().empty(); });
        undo.redo();
        runEvents([&jobs] { return jobs.running().empty(); });
        const bool kept = window.program.garage.garage().logs().size() == 1;
        window.program.garage.open(garage);
        runEvents([&jobs] { return jobs.running().empty(); });
        runEventsFor(500);
        heart.stop();
        state.PauseTiming();
        if (!kept) state.SkipWithError("the log was not kept");
        state.ResumeTiming();
    }
    report(state, heart);
}

} // namespace

BENCHMARK(importInTheWindow)->Name("review/stall-250MB")->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);
BENCHMARK(keepInTheWindow)
    ->Name("garage/stall-keep-100MB")
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK(spreadInTheWindow)
    ->Name("plan/stall-spread-10000")
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Iterations(1);
