#include "core/review/cells.h"

#include "core/error.h"

#include <fmt/format.h>

namespace rw::review {

namespace {

constexpr int mostCells = 24;         // of a plan input
constexpr double firstSeconds = 10.0; // s of a session in which its first rest is looked for

bool highVoltage(const Context& context) {
    if (!context.hasPlan) return false;
    for (const OcvPoint& point : context.plan.pack.ocv)
        if (point.volts_perCell > context.th.cellHigh) return true;
    return false;
}

std::vector<int> countsBetween(double voltage, double low, double high) {
    std::vector<int> counts;
    for (int n = 1; n <= mostCells; ++n)
        if (voltage / n >= low && voltage / n <= high) counts.push_back(n);
    return counts;
}

bool fits(const Context& context, int cells, double voltage) {
    return voltage / cells >= context.th.cellToldLow && voltage / cells <= context.th.cellToldHigh;
}

// The plan's count is one candidate more: never against the voltage.
void takePlans(const Context& context, CellCount& count) {
    const int planned = context.plan.pack.series;
    const auto& rest = count.restingVoltage;
    const double cell = rest ? *rest / planned : 0.0;
    count.planFits = !rest || (cell >= context.th.cellLow && cell <= context.th.cellHighVoltage);
    if (!count.planFits) return;
    const bool agrees = rest && (!count.cells || *count.cells == planned);
    if (count.cells && !agrees) count.byVoltage = count.cells;
    count.cells = planned;
    count.sure = agrees;
    count.nearlyEmpty = false;
}

} // namespace

std::optional<double> firstRestingVoltage(const Context& context, Rows rows, const RestRule& rest) {
    const auto voltage = context[Quantity::PackVoltage];
    if (voltage.empty()) return {};
    const auto& time = context.log.time;
    std::size_t first = rows.first;
    while (first <= rows.last && time[first] - time[rows.first] <= firstSeconds &&
           (!rest.at(first) || std::isnan(voltage[first])))
        ++first;
    if (first > rows.last || time[first] - time[rows.first] > firstSeconds) return {};
    std::size_t last = first;
    while (last < rows.last && time[last + 1] - time[first] <= context.th.restingSpan + timeEpsilon &&
           time[last + 1] >= time[last])
        ++last;
    return medianWhere(voltage, {first, last}, [&](std::size_t i) { return rest.at(i); });
}

CellCount cellsFromVoltage(const Context& context, std::optional<double> restingVoltage) {
    CellCount count;
    count.restingVoltage = restingVoltage;
    if (!restingVoltage) return count;
    const ReviewThresholds& th = context.th;
    const double high = highVoltage(context) ? th.cellHighVoltage : th.cellHigh;
    const auto full = [&](int n) { return *restingVoltage / n >= th.cellFull && *restingVoltage / n <= th.cellHigh; };
    count.candidates = countsBetween(*restingVoltage, th.cellLow, high);
    std::stable_partition(count.candidates.begin(), count.candidates.end(), full);
    const auto fulls = std::ranges::count_if(count.candidates, full);
    if (count.candidates.empty()) {
        count.candidates = countsBetween(*restingVoltage, th.cellEmpty, th.cellLow);
        count.nearlyEmpty = !count.candidates.empty();
        if (count.candidates.size() == 1) count.cells = count.candidates.front();
    } else if (count.candidates.size() == 1) {
        count.cells = count.candidates.front();
        count.sure = true;
    } else if (fulls == 1 && count.candidates.front() <= static_cast<int>(th.cellMostAssumed)) {
        count.cells = count.candidates.front();
    }
    return count;
}

CellCount countCells(const Context& context, std::size_t session, std::size_t sessions,
                     std::optional<double> restingVoltage) {
    CellCount count = cellsFromVoltage(context, restingVoltage);
    const auto& told = context.options.cells;
    if (!told.empty()) {
        const int cells = told.size() == 1 ? told.front() : told[std::min(session, told.size() - 1)];
        if (restingVoltage && !fits(context, cells, *restingVoltage)) {
            throw InputError(context.log.file,
                             fmt::format("session {} of {} rests at {:g} V, {:g} V per cell with {} cells; expected "
                                         "{:g} to {:g} V per cell: give another cell count",
                                         session + 1, sessions, *restingVoltage, *restingVoltage / cells, cells,
                                         context.th.cellToldLow, context.th.cellToldHigh));
        }
        count.cells = cells;
        count.sure = true;
        count.nearlyEmpty = false;
        count.planFits = context.hasPlan;
    } else if (context.hasPlan) {
        takePlans(context, count);
    }
    return count;
}

} // namespace rw::review
