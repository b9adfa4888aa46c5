#include "core/choose/size.h"

#include "core/choose/changed_plan.h"
#include "core/choose/size_point.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/plan/reach_binding.h"
#include "core/plan/scan.h"
#include "core/plan/spread.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr double widestKv = 3.0;     // times the plan's and a part of it
constexpr std::size_t kvFinest = 21; // places over two steps of the grid of 24 over a factor of 9: 1 % apart
constexpr int fewest = 1, most = 24; // cells that a plan allows

std::pair<double, double> kvBounds(const PlanInput& input, const SizeOptions& options) {
    const PlanField& field = *findPlanField("motor.kv_rpm_per_V");
    const double own = input.motor.kv_rpm_per_V;
    if (!options.kv) return {std::max(own / widestKv, field.low), std::min(own * widestKv, field.high)};
    checkFieldValue(field, options.kv->first, "kv");
    checkFieldValue(field, options.kv->second, "kv");
    if (options.kv->first > options.kv->second)
        throw InputError("kv", "expected the lower speed constant first, then the higher one");
    return *options.kv;
}

void checkAsked(const SizeOptions& options, double target) {
    if (!std::isfinite(target) || target <= 0.0) throw InputError("target", "expected a speed over 0 m/s");
    if (options.fewestCells < fewest || options.mostCells > most || options.fewestCells > options.mostCells)
        throw InputError("cells", std::to_string(options.fewestCells) + " to " + std::to_string(options.mostCells) +
                                      " is out of range; expected cells in series between 1 and 24, the fewest first");
    if (options.cellStep < 1) throw InputError("cells", "expected a step of at least one cell");
    if (options.kvSteps < 2) throw InputError("kv", "expected at least 2 steps");
}

PlanInput sized(const PlanInput& base, int cells, double kv) { return woundFor(withCells(base, cells), kv); }

std::optional<SizeCell> cellOf(const SizePoint& point) {
    if (!point.ratio) return std::nullopt;
    return SizeCell{point.judged.tightest.margin, point.judged.tightest.limit, *point.ratio,
                    point.judged.peakPackCurrent, point.judged.caseSoakPeak};
}

struct Grid {
    const PlanInput& base; // with the target
    const SizeOptions& options;
    std::vector<SizePoint> points; // cells outermost

    void fill(const SizeMap& size, const WorkOptions& work) {
        points.resize(size.cells.size() * size.kv.size());
        parallelFor(points.size(), work, [&](std::size_t i) {
            points[i] = sizePoint(sized(base, size.cells[i / size.kv.size()], size.kv[i % size.kv.size()]));
        });
    }
    [[nodiscard]] std::optional<std::size_t> best() const {
        std::optional<std::size_t> out;
        for (std::size_t i = 0; i < points.size(); ++i)
            if (points[i].ratio && (!out || points[i].judged.tightest.margin > points[*out].judged.tightest.margin))
                out = i;
        return out;
    }
};

// Places 1 % apart between the neighbours on the grid; for a first look the grid's own alone.
void refineBest(const Grid& grid, SizeMap& size, std::size_t index) {
    const std::size_t column = index % size.kv.size();
    const int cells = size.cells[index / size.kv.size()];
    const std::size_t from = column == 0 ? 0 : column - 1, to = std::min(column + 1, size.kv.size() - 1);
    std::vector<double> kv;
    if (grid.options.refined && from < to) kv = logSpaced(size.kv[from], size.kv[to], kvFinest);
    std::vector<SizePoint> points(kv.size());
    parallelFor(kv.size(), quiet(grid.options.work),
                [&](std::size_t i) { points[i] = sizePoint(sized(grid.base, cells, kv[i])); });
    kv.push_back(size.kv[column]);
    points.push_back(grid.points[index]);
    std::size_t best = points.size() - 1;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].ratio && points[i].judged.tightest.margin > points[best].judged.tightest.margin) best = i;
    SizeBest out;
    out.cells = cells;
    out.kv = kv[best];
    out.overallRatio = *points[best].ratio;
    out.plan = withRatio(sized(grid.base, cells, out.kv), out.overallRatio);
    out.tightest = judgedPass(out.plan, passSetup(out.plan)).tightest;
    size.best = std::move(out);
}

std::optional<SizeNearest> nearest(const Grid& grid, const SizeMap& size) {
    const auto slower = [](const SizePoint& a, const SizePoint& b) { return a.bestMean < b.bestMean; };
    const auto fastest = std::ranges::max_element(grid.points, slower);
    if (fastest == grid.points.end() || fastest->bestMean <= 0.0) return std::nullopt;
    const auto index = static_cast<std::size_t>(fastest - grid.points.begin());
    SizeNearest out;
    out.cells = size.cells[index / size.kv.size()];
    out.kv = size.kv[index % size.kv.size()];
    out.overallRatio = fastest->bestMeanRatio;
    out.zoneMean = fastest->bestMean;
    const PlanInput plan = sized(grid.base, out.cells, out.kv);
    checkPlanInput(plan, "plan input");
    out.binding = whatBinds(gearingOf(plan), out.overallRatio, grid.options.work);
    return out;
}

} // namespace

SizeMap sizePower(const PlanInput& input, double target, const SizeOptions& options) {
    static_cast<void>(passSetup(input)); // refuses an invalid one
    checkAsked(options, target);
    const auto [low, high] = kvBounds(input, options);
    SizeMap out;
    for (int cells = options.fewestCells; cells <= options.mostCells; cells += options.cellStep)
        out.cells.push_back(cells);
    out.kv = low < high ? logSpaced(low, high, options.kvSteps) : std::vector{low};
    PlanInput base = input;
    base.drive.target_mps = target;
    base.learned.reset(); // what logs taught was taught by this winding
    Grid grid{base, options, {}};
    grid.fill(out, options.work);
    for (std::size_t row = 0; row < out.cells.size(); ++row) {
        out.map.emplace_back();
        for (std::size_t column = 0; column < out.kv.size(); ++column)
            out.map.back().push_back(cellOf(grid.points[row * out.kv.size() + column]));
    }
    const auto best = grid.best();
    if (!best) {
        if (options.refined) out.nearest = nearest(grid, out);
        return out;
    }
    refineBest(grid, out, *best);
    if (options.runs == 0) return out;
    const SpreadResult spread = spreadPlan(out.best->plan, {options.runs, 1, quiet(options.work)});
    out.best->targetProbability = spread.targetProbability;
    return out;
}

} // namespace rw
