#include "app/batch/result_text.h"

#include "app/batch/text_output.h"
#include "core/plan/cautions.h"
#include "core/plan/limits.h"
#include "core/plan/plan_figures.h"
#include "core/units.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace rw::batch {

namespace {

struct FigureGroup {
    std::string_view title;
    std::vector<std::string_view> figures;
};

const std::array<FigureGroup, 4> groups{
    FigureGroup{"Speed",
                {"zone_mean_mps", "peak_speed_mps", "peak_speed_at_m", "time_to_target_s", "distance_to_target_m",
                 "zone_entry_s", "zone_exit_s"}},
    FigureGroup{"Power",
                {"peak_pack_A", "peak_motor_A", "min_pack_V", "min_cell_V", "peak_electrical_W", "peak_shaft_W",
                 "peak_motor_rpm", "peak_electrical_rpm", "peak_wheel_radps", "ripple_estimate_V", "charge_used_Ah",
                 "energy_used_Wh", "end_charge"}},
    FigureGroup{"Heat",
                {"winding_exit_C", "winding_peak_C", "case_exit_C", "case_soak_peak_C", "case_soak_peak_after_s",
                 "controller_peak_C", "pack_peak_C"}},
    FigureGroup{"Stop", {"braking_m", "stop_at_m", "min_front_load_ratio"}}};

std::string headText(const PlanInput& input, const PlanResult& result) {
    return fmt::format("  Air {} kg/m³, density altitude {} m\n"
                       "  Gearing {}/{}, overall ratio {}, rollout {} mm a motor turn\n"
                       "  Steady top speed {}; the front {}\n",
                       fixed(result.airDensity, 4), fixed(result.densityAltitude, 0), input.gears.pinion_teeth,
                       input.gears.spur_teeth, fixed(result.overallRatio, 3), fixed(result.rollout * 1000.0, 2),
                       result.steadyTopSpeed ? speedText(result.steadyTopSpeed) : "none: nothing holds it back",
                       result.liftOffSpeed ? "lifts off at " + speedText(result.liftOffSpeed) : "never lifts off");
}

std::string verdictText(const PlanInput& input, const PlanResult& result, const Ink& ink) {
    const PassResult& first = result.passes.front();
    if (!first.completed)
        return ink.bad("The pass is not completed") + ": it ends at " + fixed(first.stopAt, 1) + " m after " +
               fixed(first.duration, 1) + " s.\n";
    std::string out = ink.heading("Mean through the zone " + speedText(first.zoneMean)) + "\n";
    if (const auto target = input.drive.target_mps) {
        const double over = *first.zoneMean - *target;
        out += over >= 0.0 ? ink.good("Target made") : ink.warn("Target not made");
        out += ": " + speedText(target) + ", " + fixed(std::abs(over), 2) + " m/s to " +
               (over >= 0.0 ? "spare" : "go") + "\n";
    }
    return out;
}

std::string figuresText(const PlanInput& input, const PlanResult& result, const Ink& ink) {
    Table table{"<"};
    for (std::size_t i = 0; i < result.passes.size(); ++i)
        table.column("pass " + std::to_string(i + 1));
    table.column("<");
    for (const FigureGroup& group : groups) {
        table.row({ink.heading(group.title)});
        for (const std::string_view name : group.figures) {
            const PlanFigure& figure = *findPlanFigure(name);
            std::vector<std::string> cells{"  " + std::string(figure.title)};
            bool any = false;
            for (const PassResult& pass : result.passes) {
                const auto value = figure.get(input, pass);
                any = any || value.has_value();
                cells.push_back(fixed(value, figure.decimals));
            }
            cells.emplace_back(figure.unit());
            if (any) table.row(std::move(cells));
        }
    }
    return table.text(ink);
}

std::string boundsText(const PlanResult& result, const Ink& ink) {
    const BoundTimes& bound = result.passes.front().bound;
    Table table{"<", "", "<"};
    const auto add = [&](Limit limit, double seconds) {
        if (seconds > 0.0) table.row({std::string(boundText(limit)), fixed(seconds, 2), "s"});
    };
    add(Limit::MotorCurrent, bound.motorCurrent);
    add(Limit::PackCurrent, bound.packCurrent);
    add(Limit::Traction, bound.traction);
    add(Limit::Cutoff, bound.cutoff);
    return ink.heading("What bound the pass") + "\n" +
           (table.empty() ? "  nothing but the throttle\n" : table.text(ink));
}

std::string bothWaysText(const PlanResult& result) {
    return "Other way: mean " + speedText(result.reverse.zoneMean) + ", stands at " + fixed(result.reverse.stopAt, 1) +
           " m; mean of both ways " + speedText(result.bothWaysMean) + "\n";
}

std::string repeatsText(const PlanInput& input, const PlanResult& result) {
    const std::string wait = fixed(input.drive.turn_around_s, 0);
    std::string out = "In a row, " + wait + " s apart: ";
    out += result.passesUntilLimit == 0 ? "not one pass within the temperature limits and charge"
           : result.passesUntilLimit >= 20
               ? "20 passes and more"
               : counted(static_cast<std::size_t>(result.passesUntilLimit), "pass") + " within the limits";
    out += "; shortest wait before the second: ";
    out += result.shortestWait_s ? std::to_string(*result.shortestWait_s) + " s"
                                 : std::string("none up to an hour is enough");
    return out + "\n";
}

std::string marginsText(const PlanResult& result, const Ink& ink) {
    Table table{"<limit", "value", "<", "allowed", "<", "<margin"};
    std::string broken;
    for (const Margin& margin : result.margins) {
        const LimitRow& row = limitRow(margin.limit);
        const ShownUnit unit = shownUnit(row.dimension);
        const std::string title(row.title), symbol(unit.symbol);
        const std::string value = fixed(unit.shown(margin.value), row.decimals);
        const std::string allowed = fixed(unit.shown(margin.allowed), row.decimals);
        table.row({title, value, std::string(row.allowedWords), allowed, symbol, marginText(margin.margin, ink)});
        if (margin.margin >= 0.0) continue;
        broken += fmt::format("{}{}, {} {} where {} {} is allowed.\n{}", ink.bad("  Broken: "), title, value, symbol,
                              allowed, symbol, wrapped(row.advice, "    "));
    }
    return ink.heading("Will it hold? The tightest limit first") + "\n" + table.text(ink) +
           (broken.empty() ? "" : "\n" + broken + "\n" + cautionText(ink));
}

} // namespace

std::string speedText(std::optional<double> speed) {
    if (!speed || !std::isfinite(*speed)) return "-";
    return fixed(speed, 2) + " m/s (" + fixed(*speed * kmhPerMps, 1) + " km/h, " + fixed(*speed * mphPerMps, 1) +
           " mph)";
}

std::string percentText(double share) {
    return fixed(share * 100.0, std::abs(share) < 0.0995 && share != 0.0 ? 1 : 0) + " %";
}

std::string marginText(double margin, const Ink& ink) {
    constexpr double thin = 0.1;
    if (margin < 0.0) return ink.bad("broken by " + percentText(-margin));
    const std::string left = percentText(margin) + " left";
    return margin < thin ? ink.warn(left) : left;
}

std::string cautionText(const Ink& ink) {
    std::string out = ink.warn("Cautions") + "\n";
    for (const std::string_view caution : cautions)
        out += wrapped(caution, "  ");
    return out;
}

std::string planText(const PlanInput& input, const PlanResult& result, const Ink& ink) {
    return verdictText(input, result, ink) + headText(input, result) + "\n" + figuresText(input, result, ink) + "\n" +
           boundsText(result, ink) + "\n" + bothWaysText(result) + repeatsText(input, result) + "\n" +
           marginsText(result, ink);
}

} // namespace rw::batch
