#include "core/plan/reach.h"

#include "core/error.h"
#include "core/json/json_write.h"
#include "core/plan/reach_binding.h"
#include "core/plan/scan.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr std::size_t ratioPoints = 400; // steps of 1.2 %
constexpr double ratioWidth = 1e-7;      // asked for: 1e-6
constexpr int mostCells = 24;
constexpr double leastDrag = 1e-5, mostDrag = 100.0, absurdDrag = 1e6; // m²
constexpr std::size_t dragPoints = 200;
constexpr double dragWidth = 1e-9; // relative
constexpr double nearLevel = 0.02; // humps and dips this near to what decides are looked into

// The scan of a variable, its best point found between the samples and put among them.
struct Scan {
    std::vector<ScanPoint> points;
    std::size_t best = 0;
};

// Sketched; where that decides, about the target and at the best, exact.
Scan scanned(const ReachVariable& variable, const std::vector<double>& xs, double target, const WorkOptions& options) {
    constexpr double doubtful = 1e-4; // of the target; a sketch is ten times better
    Scan scan;
    scan.points.resize(xs.size());
    parallelFor(xs.size(), options, [&](std::size_t i) {
        scan.points[i] = {xs[i], variable.sketchedMean(xs[i])};
        if (std::abs(scan.points[i].y - target) < doubtful * target) scan.points[i].y = variable.zoneMean(xs[i]);
    });
    auto& points = scan.points;
    const auto lower = [](const ScanPoint& a, const ScanPoint& b) { return a.y < b.y; };
    ScanPoint& highest = *std::ranges::max_element(points, lower);
    highest.y = variable.zoneMean(highest.x);
    ScanPoint best = highest;
    const double worthALook = best.y - nearLevel * std::abs(best.y);
    for (std::size_t i = 1; i + 1 < points.size() && std::isfinite(best.y); ++i) {
        const bool hump = points[i].y >= points[i - 1].y && points[i].y >= points[i + 1].y && points[i].y >= worthALook;
        if (!hump) continue;
        const ScanPoint refined =
            refineMaximum([&](double x) { return variable.zoneMean(x); }, points[i - 1], points[i], points[i + 1]);
        if (refined.y > best.y) best = refined;
    }
    auto place = std::ranges::lower_bound(points, best.x, {}, &ScanPoint::x);
    if (place == points.end() || place->x != best.x) place = points.insert(place, best);
    scan.best = static_cast<std::size_t>(place - points.begin());
    return scan;
}

// From the best point outwards (step -1 or +1): the last x that makes the target.
double reachedEnd(const ReachVariable& variable, const Scan& scan, double target, int step) {
    const auto y = [&](double x) { return variable.zoneMean(x); };
    const auto& points = scan.points;
    std::size_t here = scan.best;
    const std::size_t last = step < 0 ? 0 : points.size() - 1;
    while (here != last) {
        const std::size_t next = here + static_cast<std::size_t>(step); // step -1 wraps to here - 1
        if (points[next].y < target) return edgeOf(y, target, points[here].x, points[next].x, ratioWidth);
        const bool dip = next != last && points[next].y <= points[here].y &&
                         points[next].y <= points[next + static_cast<std::size_t>(step)].y;
        if (dip && points[next].y < target * (1.0 + nearLevel)) {
            const ScanPoint& beyond = points[next + static_cast<std::size_t>(step)];
            const auto down = [&](double x) { return -variable.zoneMean(x); };
            const bool rising = step > 0;
            const ScanPoint least =
                refineMaximum(down, {rising ? points[here].x : beyond.x, 0.0}, {points[next].x, -points[next].y},
                              {rising ? beyond.x : points[here].x, 0.0});
            if (-least.y < target) return edgeOf(y, target, points[here].x, least.x, ratioWidth);
        }
        here = next;
    }
    return points[last].x;
}

std::optional<double> finiteOrNone(double value) { return std::isfinite(value) ? std::optional(value) : std::nullopt; }

std::optional<ReachPair> nearestPair(const PlanInput& input, const ReachVariable& gearing, double target,
                                     std::pair<double, double> range, const WorkOptions& options) {
    const std::vector<GearPair> pairs = fittingPairs(input);
    std::vector<double> means(pairs.size());
    parallelFor(pairs.size(), options, [&](std::size_t i) { means[i] = gearing.zoneMean(pairs[i].overallRatio); });
    // Those that make the target first, then the nearest in log ratio, then the fastest, then the order of the lists.
    const auto key = [&](std::size_t i) {
        const double ratio = pairs[i].overallRatio;
        const double away = std::max({std::log(range.first / ratio), std::log(ratio / range.second), 0.0});
        return std::tuple(means[i] < target, away, -means[i], i);
    };
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < pairs.size(); ++i)
        if (!best || key(i) < key(*best)) best = i;
    if (!best) return std::nullopt;
    return ReachPair{pairs[*best], finiteOrNone(means[*best])};
}

GearingReach reachGearing(const PlanInput& input, double target, const WorkOptions& options) {
    GearingReach out;
    const ReachVariable gearing = gearingOf(input);
    const Scan scan = scanned(gearing, logSpaced(lowestRatio, highestRatio, ratioPoints), target, options);
    const ScanPoint& best = scan.points[scan.best];
    out.zoneMean = finiteOrNone(best.y);
    out.reachable = best.y >= target;
    std::pair range{best.x, best.x};
    if (out.reachable) {
        range = {reachedEnd(gearing, scan, target, -1), reachedEnd(gearing, scan, target, +1)};
        out.ratios = range;
    } else {
        out.binding = whatBinds(gearing, best.x, options);
    }
    out.nearestPair = nearestPair(input, gearing, target, range, options);
    return out;
}

CellsReach reachCells(const PlanInput& input, double target, const WorkOptions& options) {
    CellsReach out;
    std::vector<double> counts;
    for (int count = 1; count <= mostCells; ++count)
        counts.push_back(count);
    const ReachVariable cells{startState(input), counts, [input](double count) {
                                  PlanInput other = input;
                                  other.pack.series = static_cast<int>(count);
                                  return convertedSetup(other);
                              }};
    std::vector<double> means(counts.size());
    parallelFor(counts.size(), options, [&](std::size_t i) { means[i] = cells.zoneMean(counts[i]); });
    const auto best = std::ranges::max_element(means);
    for (std::size_t i = 0; i < counts.size(); ++i)
        if (means[i] >= target) out.counts.push_back(static_cast<int>(counts[i]));
    out.zoneMean = finiteOrNone(*best);
    out.reachable = !out.counts.empty();
    if (!out.reachable) out.binding = whatBinds(cells, counts[static_cast<std::size_t>(best - means.begin())], options);
    return out;
}

DragReach reachDrag(const PlanInput& input, double target, const WorkOptions& options) {
    DragReach out;
    const PassSetup setup = convertedSetup(input);
    const ReachVariable drag{startState(input), {0.0}, [setup](double area) {
                                 PassSetup changed = setup;
                                 changed.chassis.dragArea = area;
                                 return changed;
                             }};
    std::vector<double> areas{0.0};
    for (const double area : logSpaced(leastDrag, mostDrag, dragPoints))
        areas.push_back(area);
    const Scan scan = scanned(drag, areas, target, options);
    const auto& points = scan.points;
    out.zoneMean = finiteOrNone(points[scan.best].y);
    out.reachable = points[scan.best].y >= target;
    if (!out.reachable) {
        out.binding = whatBinds(drag, points[scan.best].x, options);
        return out;
    }
    std::size_t last = points.size() - 1;
    while (points[last].y < target)
        --last;
    double inside = points[last].x;
    double outside = last + 1 < points.size() ? points[last + 1].x : inside * 10.0;
    while (drag.zoneMean(outside) >= target && outside < absurdDrag)
        inside = outside, outside *= 10.0;
    out.largest =
        edgeOf([&](double area) { return drag.zoneMean(area); }, target, inside, outside, dragWidth * outside);
    return out;
}

Json reachPart(const Reach& reach, Json values) {
    return {{"reachable", reach.reachable},
            {"values", std::move(values)},
            {"zone_mean_mps", jsonOrNull(reach.zoneMean)},
            {"binding", reach.binding.empty() ? Json(nullptr) : Json(reach.binding)}};
}

} // namespace

ReachResult reachTarget(const PlanInput& input, double target, const WorkOptions& options) {
    static_cast<void>(passSetup(input)); // refuses an invalid input
    if (!std::isfinite(target) || target <= 0.0) throw InputError("target", "expected a speed over 0 m/s");
    ReachResult out;
    out.gearing = reachGearing(input, target, partOf(options, 0.0, 0.6));
    out.cells = reachCells(input, target, partOf(options, 0.6, 0.7));
    out.dragArea = reachDrag(input, target, partOf(options, 0.7, 1.0));
    return out;
}

std::string reachJson(const ReachResult& result) {
    const auto& gearing = result.gearing;
    Json out;
    out["gearing"] = reachPart(gearing, gearing.ratios ? Json::array({gearing.ratios->first, gearing.ratios->second})
                                                       : Json(nullptr));
    Json pair = nullptr;
    if (gearing.nearestPair)
        pair = {{"pinion", gearing.nearestPair->pinion},
                {"spur", gearing.nearestPair->spur},
                {"overall_ratio", gearing.nearestPair->overallRatio},
                {"zone_mean_mps", jsonOrNull(gearing.nearestPair->zoneMean)}};
    out["gearing"]["nearest_pair"] = std::move(pair);
    out["cells"] = reachPart(result.cells, result.cells.counts);
    out["drag_area"] =
        reachPart(result.dragArea, result.dragArea.largest ? Json::array({*result.dragArea.largest}) : Json(nullptr));
    return out.dump(2) + "\n";
}

} // namespace rw
