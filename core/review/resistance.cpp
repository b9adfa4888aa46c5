#include "core/review/resistance.h"

#include "core/review/regression.h"

#include <cmath>

namespace rw::review {

namespace {

struct Sample {
    double voltage = 0.0, current = 0.0, charge = 0.0, slow = 0.0;
};

constexpr std::size_t mostSamples = 4096; // more add nothing but time: every k-th is taken

// Current through a first-order low-pass over one step, exact for a current that runs straight between the samples.
double lowPass(double slow, double before, double now, double step, double constant) {
    const double decay = std::exp(-step / constant);
    return slow * decay + now - before * decay - (now - before) * constant / step * (1.0 - decay);
}

std::vector<Sample> samplesOf(const Context& context, const ReviewPass& pass, const std::vector<CutSpan>& cut) {
    const auto voltage = context[Quantity::PackVoltage], current = context[Quantity::PackCurrent];
    const auto& time = context.time;
    const double gap = context.scale[pass.session].gapLimit, margin = context.th.resistanceGapMargin + timeEpsilon;
    std::vector<Sample> samples;
    double charge = 0.0, slow = nan, afterGap = -std::numeric_limits<double>::infinity();
    std::optional<std::size_t> before;
    std::vector<double> times;
    for (std::size_t i = pass.startRow; i <= pass.endRow; ++i) {
        if (std::isnan(current[i])) continue;
        const double step = before ? time[i] - time[*before] : 0.0;
        if (!before) slow = current[i];
        if (step > gap) {
            while (!times.empty() && time[*before] - times.back() <= margin)
                times.pop_back(), samples.pop_back();
            afterGap = time[i];
        } else if (step > 0.0) {
            charge += 0.5 * (current[i] + current[*before]) * step;
        }
        if (step > 0.0) slow = lowPass(slow, current[*before], current[i], step, context.th.resistanceLowPass);
        before = i;
        const bool held = std::ranges::any_of(cut, [&](const CutSpan& span) { return span.rows.holds(i); });
        if (time[i] - afterGap <= margin || held || std::isnan(voltage[i])) continue;
        samples.push_back({voltage[i], current[i], charge, slow});
        times.push_back(time[i]);
    }
    return samples;
}

} // namespace

std::optional<PackResistance> packResistance(const Context& context, const ReviewPass& pass,
                                             const std::vector<CutSpan>& cut) {
    const ReviewThresholds& th = context.th;
    if (!context.has(Quantity::PackVoltage) || !context.has(Quantity::PackCurrent)) return {};
    const auto samples = samplesOf(context, pass, cut);
    if (samples.size() < static_cast<std::size_t>(th.resistanceSamples)) return {};
    const auto [low, high] = std::ranges::minmax_element(samples, {}, &Sample::current);
    if (!(high->current > 0.0) || high->current - low->current < th.resistanceSpan * high->current) return {};
    const std::size_t stride = (samples.size() + mostSamples - 1) / mostSamples;
    const auto n = static_cast<Eigen::Index>((samples.size() + stride - 1) / stride);
    Eigen::MatrixXd columns(n, 4);
    Eigen::VectorXd voltage(n);
    for (Eigen::Index row = 0; row < n; ++row) {
        const Sample& s = samples[static_cast<std::size_t>(row) * stride];
        columns.row(row) << 1.0, s.current, s.charge, s.slow;
        voltage[row] = s.voltage;
    }
    const Regression fit = robustRegression(columns, voltage);
    if (!fit.determined) return {};
    const double ohm = -fit.coefficients[1], error = fit.standardErrors[1];
    if (!(ohm > 0.0) || error > th.resistanceError * ohm) return {};
    return PackResistance{ohm, error};
}

} // namespace rw::review
