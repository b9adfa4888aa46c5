// Runs every benchmark that is linked in. The widgets' benchmarks paint off screen, so no display is needed.
#include <benchmark/benchmark.h>

#ifdef RUNWRIGHT_WITH_DESKTOP
#include <QApplication>
#endif

int main(int argc, char** argv) {
#ifdef RUNWRIGHT_WITH_DESKTOP
    qputenv("QT_QPA_PLATFORM", "offscreen");
    const QApplication application(argc, argv);
#endif
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
