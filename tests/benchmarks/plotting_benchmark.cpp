// What a pan or zoom step of eight lanes costs, drawn whole at 1600 × 900 pixels, noise on every lane so that nothing
// is cheap. The columns are built outside of the timed part, as the workbench builds them off the interface thread.
#include "plotting/lanes.h"

#include <benchmark/benchmark.h>

#include <QImage>
#include <QPainter>

#include <cmath>
#include <memory>
#include <random>

namespace {

using Column = std::vector<double>;

std::shared_ptr<Column> noisy(std::size_t rows, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise(0.0, 0.08);
    auto values = std::make_shared<Column>(rows);
    for (std::size_t i = 0; i < rows; ++i) {
        (*values)[i] = std::sin(1e-4 * static_cast<double>(i) * (1.0 + 0.1 * seed)) + noise(random);
    }
    return values;
}

rw::LanesContent eightLanes(std::size_t rows) {
    auto times = std::make_shared<Column>(rows);
    for (std::size_t i = 0; i < rows; ++i)
        (*times)[i] = 0.01 * static_cast<double>(i);
    rw::LanesContent content;
    content.time = std::make_shared<const rw::LaneTime>(times, *times);
    for (unsigned lane = 0; lane < 8; ++lane) {
        auto values = noisy(rows, lane);
        rw::Lane next;
        next.title = QStringLiteral("lane %1").arg(lane + 1);
        next.hue = static_cast<rw::Hue>(lane);
        next.column = std::make_shared<const rw::LaneColumn>(values, *values);
        content.lanes.push_back(next);
    }
    return content;
}

void lanes(benchmark::State& state, std::size_t rows) {
    rw::LanesView view;
    view.resize(1600, 900);
    view.setContent(eightLanes(rows));
    QImage image(view.size(), QImage::Format_ARGB32_Premultiplied);
    const rw::Range all = view.link()->bounds();
    int step = 0;
    for (auto _ : state) {
        // From everything down to some thousand rows and back, panning on the way.
        const double share = std::pow(10.0, -4.0 * std::abs(std::sin(0.37 * step)));
        const double span = all.span() * share;
        const double from = all.from + (all.span() - span) * (0.5 + 0.5 * std::sin(0.11 * step));
        view.link()->setRange({from, from + span});
        view.render(&image);
        benchmark::DoNotOptimize(image.constBits());
        ++step;
    }
}

} // namespace

BENCHMARK_CAPTURE(lanes, 1M, 1'000'000)->Name("lanes/8x1M")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(lanes, 10M, 10'000'000)->Name("lanes/8x10M")->Unit(benchmark::kMillisecond);
