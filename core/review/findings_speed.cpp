// Motor speed against voltage and against earlier passes; the throttle closed too early.
#include "core/review/context.h"
#include "core/review/findings.h"
#include "core/review/regression.h"
#include "core/units.h"

#include <cmath>

namespace rw::review {

namespace {

using enum Quantity;

Evidence wholePass(const ReviewPass& pass) { return {pass.startRow, pass.startRow, pass.endRow}; }

// Which usual mistake explains a factor, within 15 %.
std::string likelyFactor(double seen, int poles) {
    const double pairs = poles / 2.0;
    struct Mistake {
        double factor;
        std::string name;
    };
    const Mistake mistakes[] = {
        {pairs, "the channel is in electrical rpm: divide by " + counted(poles / 2, "pole pair", "pole pairs")},
        {1.0 / pairs, "the pole pairs were divided out twice: multiply by " + std::to_string(poles / 2)},
        {100.0, "the channel is a hundred times too large"},
        {0.01, "the channel is in hundreds of rpm: multiply by 100"},
        {10.0, "the channel is ten times too large"},
        {0.1, "the channel is in tens of rpm: multiply by 10"}};
    // Under load a motor turns at some 0.9 of kv times voltage.
    constexpr double loaded = 0.9, near = 0.15;
    for (const Mistake& m : mistakes)
        if (m.factor != 1.0 && std::abs(seen / (loaded * m.factor) - 1.0) <= near) return "; likely " + m.name;
    return "";
}

void judgePlausible(Context& context) {
    const std::string_view id = "speed-implausible";
    if (!needs(context, id, {MotorSpeed, PackVoltage, Output})) return;
    const ReviewThresholds& th = context.th;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (!needsPlan(context, id, pass.session, "the motor's kv")) continue;
        if (!pass.rpmPerVolt) {
            cannotJudge(context, id, pass.session, "a pass never reaches full output");
            continue;
        }
        const double share = *pass.rpmPerVolt / context.plan.motor.kv_rpm_per_V;
        if (share >= th.implausibleLow && share <= th.implausibleHigh) continue;
        reportPass(context, id, Severity::Watch, p, wholePass(pass),
                   {"At full output the motor turned at " + plain(share, 2) + " of kv times voltage" +
                        likelyFactor(share, context.plan.motor.poles) + ".",
                    plain(th.implausibleLow, 1) + " to " + plain(th.implausibleHigh, 1)},
                   MotorSpeed);
    }
}

// Whether two readings were taken at like load and temperature; false where that is not known.
bool alike(const ReviewThresholds& th, std::optional<double> loadA, std::optional<double> loadB,
           std::optional<double> heatA, std::optional<double> heatB) {
    if (!loadA || !loadB || !heatA || !heatB) return false;
    return std::abs(*loadA - *loadB) <= th.kvLoad * std::max(std::abs(*loadA), std::abs(*loadB)) &&
           std::abs(*heatA - *heatB) <= th.kvTemperature;
}

// By how much rpm per volt changes with current at full output, as the pass itself shows; 0 where it does not. A motor
// turns at kv·(U − I·R), so rpm per volt falls along a line with I/U: passes of somewhat different load are compared on
// that line.
double loadSlope(const Context& context, const ReviewPass& pass) { // rpm/V per A
    constexpr double spread = 0.1, error = 0.25;                   // of the current, of the slope
    constexpr std::size_t fewest = 10;
    const auto output = context[Output], speed = context[MotorSpeed], current = context[PackCurrent],
               voltage = context[PackVoltage];
    const double full = fullLevel(context, Output);
    std::vector<double> load, perVolt, volts;
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i) {
        const double value = speed[i] * rpmPerRadps / voltage[i], x = current[i] / voltage[i];
        if (!(output[i] >= full) || !std::isfinite(value) || !std::isfinite(x)) continue;
        load.push_back(x), perVolt.push_back(value), volts.push_back(voltage[i]);
    }
    if (load.size() < fewest) return 0.0;
    const auto [low, high] = std::ranges::minmax_element(load);
    if (!(*high - *low > spread * *high)) return 0.0;
    Eigen::MatrixXd columns(static_cast<Eigen::Index>(load.size()), 2);
    columns.col(0).setOnes();
    columns.col(1) = Eigen::Map<const Eigen::VectorXd>(load.data(), columns.rows());
    const Regression line = leastSquares(columns, Eigen::Map<const Eigen::VectorXd>(perVolt.data(), columns.rows()));
    if (!line.determined || !(line.coefficients[1] < 0.0) ||
        line.standardErrors[1] > error * std::abs(line.coefficients[1]))
        return 0.0;
    return line.coefficients[1] / medianOf(volts);
}

void judgeConstant(Context& context) {
    const std::string_view id = "kv-shift";
    if (!needs(context, id, {MotorSpeed, PackVoltage, PackCurrent, Output, MotorTemperature})) return;
    const auto& passes = context.out.passes;
    bool compared = false;
    for (std::size_t p = 0; p < passes.size(); ++p) {
        const ReviewPass& now = passes[p];
        if (!now.rpmPerVolt) continue;
        std::optional<double> before, load;
        for (std::size_t e = p; e-- > 0 && !before;)
            if (passes[e].rpmPerVolt && alike(context.th, now.fullOutputCurrent, passes[e].fullOutputCurrent,
                                              now.motor.start, passes[e].motor.start))
                before = passes[e].rpmPerVolt, load = passes[e].fullOutputCurrent;
        std::string against = "an earlier pass";
        const auto& history = context.options.rpmPerVoltHistory;
        for (std::size_t h = history.size(); h-- > 0 && !before;)
            if (alike(context.th, now.fullOutputCurrent, history[h].load, now.motor.start, history[h].temperature))
                before = history[h].value, load = history[h].load, against = "earlier days";
        if (!before) continue;
        compared = true;
        const double expected = *before + loadSlope(context, now) * (*now.fullOutputCurrent - *load);
        const double shift = *now.rpmPerVolt / expected - 1.0;
        if (std::abs(shift) <= context.th.kvShift) continue;
        reportPass(context, id, Severity::Watch, p, wholePass(now),
                   {plain(*now.rpmPerVolt) + " rpm per volt at full output, " + percent(shift, 1) + " against " +
                        against + " at like load.",
                    percent(context.th.kvShift) + " at like load and within " + warming(context.th.kvTemperature)},
                   MotorSpeed);
    }
    if (!compared)
        cannotJudge(context, id, {}, "no two passes at full output were alike in load and motor temperature");
}

void judgeLift(Context& context) {
    const std::string_view id = "lifted-early";
    const double end = context.plan.venue.run_up_m + context.plan.venue.timed_m;
    for (std::size_t p = 0; p < context.out.passes.size(); ++p) {
        const ReviewPass& pass = context.out.passes[p];
        if (!needsPlan(context, id, pass.session, "the zone")) continue;
        // Where speed is missing the way is longer than what is known of it.
        const bool faulty = std::ranges::any_of(context.out.faults, [&](const FaultSpan& fault) {
            return (fault.quantity == MotorSpeed || fault.quantity == Speed) && fault.endRow > fault.startRow &&
                   context.rows(pass).meets({fault.startRow, fault.endRow});
        });
        if (!pass.distance || !pass.complete || pass.gap > 0.0 || faulty) {
            cannotJudge(context, id, pass.session,
                        !pass.distance ? "no distance is known"
                                       : "a pass is cut, or has a gap or a fault in its speed");
            continue;
        }
        if (*pass.distance >= (1.0 - context.th.liftedShort) * end) continue;
        reportPass(context, id, Severity::Note, p, {pass.endRow, pass.startRow, pass.endRow},
                   {"The throttle closed after " + metres(*pass.distance) + "; the zone ends at " + metres(end) + ".",
                    "the zone's end"},
                   Throttle);
    }
}

} // namespace

void judgeSpeed(Context& context) {
    if (context.out.passes.empty()) return;
    judgePlausible(context);
    judgeConstant(context);
    judgeRatio(context);
    judgeLift(context);
}

} // namespace rw::review
