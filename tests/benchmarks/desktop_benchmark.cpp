// From a key in the pinion's field to the charts drawn: the edit, the pass with its repeats and waits beside the
// interface thread, and every panel of the Plan workspace painted anew at 1440 × 900 pixels.
#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/size_panel.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shell/program.h"
#include "app/desktop/shell/theme.h"

#include <benchmark/benchmark.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QImage>
#include <QTemporaryDir>

namespace {

void settle(const rw::PlanSession& session) {
    while (!session.current())
        QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents);
}

// The program with the example on its bench, planned.
struct PlannedExample {
    PlannedExample() {
        window.resize(1440, 900);
        window.openFiles({QStringLiteral(":/samples/example.json")});
        window.show();
        settle(plan.session());
    }
    const QTemporaryDir folder;
    rw::Program program{folder.filePath(QStringLiteral("settings.ini"))};
    const rw::Theme theme{*static_cast<QApplication*>(QCoreApplication::instance()), program.settings};
    rw::Shell& window = program.window();
    rw::PlanWorkspace& plan = dynamic_cast<rw::PlanWorkspace&>(*window.workspace(QStringLiteral("plan")));
};

void editToDrawn(benchmark::State& state) {
    PlannedExample example;
    rw::Shell& window = example.window;
    rw::PlanWorkspace& plan = example.plan;
    auto* row = plan.widget()->findChild<rw::SetupPanel*>()->row(QStringLiteral("gears.pinion_teeth"));
    auto* edit = qobject_cast<rw::FieldEdit*>(row->editor());
    QImage image(window.size(), QImage::Format_ARGB32_Premultiplied);
    int up = 1;
    for (auto _ : state) {
        emit edit->stepped(up);
        up = -up;
        settle(plan.session());
        window.render(&image);
        benchmark::DoNotOptimize(image.constBits());
    }
    state.counters["milliseconds_allowed"] = 50.0;
}

// The size map under the Power tab: from the edit to its whole picture; first_ms: to the first, coarse one.
void sizeMapToDrawn(benchmark::State& state) {
    PlannedExample example;
    rw::PlanWorkspace& plan = example.plan;
    rw::SizePanel size(plan.session()); // alone: without the table of what is owned beside it
    size.resize(640, 420);
    size.show();
    QImage image(size.size(), QImage::Format_ARGB32_Premultiplied);
    double first = 0.0;
    int tenths = 420;
    for (auto _ : state) {
        rw::PlanInput next = plan.session().input();
        next.drive.target_mps = 0.1 * (tenths = tenths == 420 ? 421 : 420);
        QElapsedTimer clock;
        clock.start();
        plan.session().edit(QStringLiteral("target"), {}, std::move(next));
        const rw::SizeMap* before = size.map();
        while (size.map() == before || !size.map() || size.map()->kv.size() == rw::SizeOptions{}.kvSteps)
            QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents);
        size.render(&image);
        first += static_cast<double>(clock.nsecsElapsed()) * 1e-6;
        while (size.busy())
            QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents);
        size.render(&image);
        benchmark::DoNotOptimize(image.constBits());
    }
    state.counters["first_ms"] = benchmark::Counter(first, benchmark::Counter::kAvgIterations);
}

} // namespace

BENCHMARK(editToDrawn)->Name("plan/edit-to-drawn")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(sizeMapToDrawn)->Name("plan/size-map-to-drawn")->Unit(benchmark::kMillisecond)->UseRealTime();
