
#include "core/log/channel_finish.h"
#include "core/log/integrals.h"
#include "core/log/quantity.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <span>
#include <utility>

namespace rw {
namespace {

using Q = Quantity;

constexpr double largestShare = 0.999; // "largest" is the 99.9th percentile
constexpr double restShare = 0.02;     // of the largest current
constexpr double zeroShare = 0.05;     // a zero offset lies within this share of the largest
constexpr double mostRestingThrottle = 0.12;
constexpr double standing = 0.5; // rad/s: a motor that stands, noise aside
constexpr std::size_t mostRowsJudged = 400'000;

enum class Scale { Fraction, Percent, Microseconds, Raw };

// Rows judged: all of them, or every n-th of a long log.
std::size_t strideOf(const Log& log) { return 1 + log.rows() / mostRowsJudged; }

std::optional<Scale> scaleByRange(std::span<const double> values) {
    const double low = percentile(values, 1.0 - largestShare), high = percentile(values, largestShare);
    if (low >= -1.05 && high <= 1.05) return Scale::Fraction;
    if (low >= -105.0 && high <= 105.0) return Scale::Percent;
    if (low >= 700.0 && high <= 2300.0) return Scale::Microseconds;
    if (low >= 0.0 && high <= 255.0) return Scale::Raw;
    return std::nullopt;
}

// Median of the values picked; NaN if there are none.
template<class Pick>
double medianWhere(const Log& log, const std::vector<double>& values, Pick pick) {
    std::vector<double> picked;
    for (std::size_t row = 0; row < log.rows(); row += strideOf(log))
        if (!std::isnan(values[row]) && pick(row)) picked.push_back(values[row]);
    if (picked.empty()) return std::numeric_limits<double>::quiet_NaN();
    const auto middle = picked.begin() + static_cast<std::ptrdiff_t>(picked.size() / 2);
    std::nth_element(picked.begin(), middle, picked.end());
    return *middle;
}

// Tells rows without load.
class Rest {
public:
    explicit Rest(const Log& log)
        : current_(log[Q::PackCurrent].values)
        , speed_(log[Q::MotorSpeed].values) {
        if (current_.empty()) return;
        std::vector<double> amounts;
        for (std::size_t row = 0; row < log.rows(); row += strideOf(log))
            amounts.push_back(std::abs(current_[row]));
        largest_ = percentile(amounts, largestShare);
        const double zero = medianWhere(log, current_, [&](std::size_t row) {
            return std::abs(current_[row]) <= zeroShare * largest_ && (speed_.empty() || stands(row));
        });
        zero_ = std::isnan(zero) ? 0.0 : zero;
    }

    [[nodiscard]] bool known() const { return !current_.empty() || !speed_.empty(); }
    [[nodiscard]] bool at(std::size_t row) const {
        if (!current_.empty()) return std::abs(current_[row] - zero_) < restShare * largest_;
        return stands(row);
    }

private:
    [[nodiscard]] bool stands(std::size_t row) const { return std::abs(speed_[row]) <= standing; }

    const std::vector<double>& current_;
    const std::vector<double>& speed_;
    double largest_ = 0.0, zero_ = 0.0;
};

// The most frequent value at rest, told to a thousandth of the scale's width. NaN: no row at rest.
double restingValue(const Log& log, const std::vector<double>& values, const Rest& rest, double width) {
    std::map<std::int64_t, std::pair<std::size_t, double>> counts; // by thousandths: how many, their sum
    for (std::size_t row = 0; row < log.rows(); row += strideOf(log)) {
        if (std::isnan(values[row]) || (rest.known() && !rest.at(row))) continue;
        auto& [count, sum] = counts[std::llround(1000.0 * values[row] / width)];
        ++count;
        sum += values[row];
    }
    std::size_t most = 0;
    double value = std::numeric_limits<double>::quiet_NaN();
    for (const auto& [key, bin] : counts) {
        if (bin.first <= most) continue;
        most = bin.first;
        value = bin.second / static_cast<double>(bin.first);
    }
    return value;
}

std::string number(double value, int decimals) {
    const double scale = std::pow(10.0, decimals);
    std::string text = std::to_string(std::round(value * scale) / scale);
    return text.substr(0, text.find('.') + (decimals > 0 ? static_cast<std::size_t>(decimals) + 1 : 0));
}

class ShareSettler {
public:
    ShareSettler(Log& log, const std::vector<ColumnMeaning>& columns)
        : log_(log)
        , columns_(columns)
        , rest_(log) {}

    void settle(Q quantity) {
        Channel& channel = log_[quantity];
        if (!channel.present()) return;
        const std::optional<Scale> scale = scaleOf(channel);
        if (!scale) {
            giveUp(quantity);
            return;
        }
        if (*scale == Scale::Microseconds || *scale == Scale::Raw)
            settleCounts(quantity, *scale == Scale::Raw ? 255.0 : 1000.0);
        else
            settleFraction(quantity, *scale == Scale::Percent ? 100.0 : 1.0);
    }

private:
    [[nodiscard]] std::optional<Scale> scaleOf(const Channel& channel) const {
        const ColumnMeaning& column = columns_[static_cast<std::size_t>(channel.column)];
        if (column.unitKnown) {
            switch (column.unit.dimension) {
            case UnitKind::Fraction:
                return Scale::Fraction; // per cent are divided already
            case UnitKind::Time:
                return Scale::Microseconds;
            case UnitKind::Raw:
                return Scale::Raw;
            default:
                break;
            }
        }
        return scaleByRange(channel.values);
    }

    void giveUp(Q quantity) {
        Channel& channel = log_[quantity];
        ImportColumn& column = log_.report.columns[static_cast<std::size_t>(channel.column)];
        log_.notes.push_back("Column \"" + column.name + "\" is not used: its numbers are no " +
                             std::string(quantityInfo(quantity).name) +
                             " as fraction, per cent, microseconds or 0 to 255; its unit would tell.");
        column.guess = std::exchange(column.quantity, std::nullopt);
        channel = Channel();
    }

    // Microseconds and raw counts: rest is 0, the largest is full, below rest is brake.
    void settleCounts(Q quantity, double width) {
        std::vector<double>& values = log_[quantity].values;
        const double rest = restingValue(log_, values, rest_, width);
        const double full = percentile(values, largestShare), low = percentile(values, 1.0 - largestShare);
        if (std::isnan(rest) || !(full > rest)) {
            giveUp(quantity);
            return;
        }
        log_.notes.push_back("Column \"" + nameOf(quantity) + "\" rests at " + number(rest, 0) + " and is full at " +
                             number(full, 0) +
                             (quantity == Q::Throttle && low < rest ? "; below rest is brake." : "."));
        // Less than a hundredth of the range below rest is jitter of the signal, no brake.
        const bool brakes = rest - low > 0.01 * (full - low);
        if (quantity == Q::Throttle && brakes) makeBrake(rest, rest - low);
        for (double& value : values)
            value = std::isnan(value) ? value : std::max(0.0, (value - rest) / (full - rest));
    }

    // Fractions and per cent: throttle counts from its resting value and full stays full; below 0 is brake.
    void settleFraction(Q quantity, double divisor) {
        std::vector<double>& values = log_[quantity].values;
        if (divisor != 1.0)
            for (double& value : values)
                value /= divisor;
        double rest = 0.0;
        if (quantity == Q::Throttle && rest_.known()) {
            rest = restingValue(log_, values, rest_, 1.0);
            if (std::isnan(rest) || std::abs(rest) >= mostRestingThrottle || std::abs(rest) < 5e-4) rest = 0.0;
        }
        if (rest != 0.0)
            log_.notes.push_back("Throttle rests at " + number(100.0 * rest, 1) + " %; it is counted from there.");
        const double low = percentile(values, 1.0 - largestShare);
        if (quantity == Q::Throttle && low < rest - 0.02) makeBrake(rest, 1.0 + rest);
        const bool negative = std::ranges::any_of(values, [rest](double value) { return value < rest; });
        if (rest == 0.0 && !negative) return;
        for (double& value : values)
            value = std::isnan(value) ? value : std::max(0.0, (value - rest) / (1.0 - rest));
    }

    void makeBrake(double rest, double width) {
        Channel& brake = log_[Q::Brake];
        if (brake.present()) return;
        brake = log_[Q::Throttle];
        brake.column = -1;
        for (double& value : brake.values)
            value = std::isnan(value) ? value : std::clamp((rest - value) / width, 0.0, 1.0);
    }

    [[nodiscard]] std::string nameOf(Q quantity) const {
        return log_.report.columns[static_cast<std::size_t>(log_[quantity].column)].name;
    }

    Log& log_;
    const std::vector<ColumnMeaning>& columns_;
    Rest rest_;
};

} // namespace

void settleShares(Log& log, const std::vector<ColumnMeaning>& columns) {
    ShareSettler settler(log, columns);
    // Brake before throttle: what throttle says of braking is used only where no column says it.
    for (const Q quantity : {Q::Brake, Q::Output, Q::Throttle})
        settler.settle(quantity);
}

void settleCurrentSign(Log& log) {
    const std::vector<double>& voltage = log[Q::PackVoltage].values;
    std::vector<double>& current = log[Q::PackCurrent].values;
    if (voltage.empty() || current.empty()) return;
    const double span = percentile(current, largestShare) - percentile(current, 1.0 - largestShare);
    const double step = medianStep(log.time);
    if (!(span > 0.0) || !(step > 0.0)) return;
    // A step of load takes up to half a second; a slow log shows it from row to row.
    const auto lag = static_cast<std::size_t>(std::max(1.0, std::round(0.5 / step)));
    constexpr double loadStep = 0.15; // share of the current's span
    constexpr std::size_t fewest = 5;
    double together = 0.0, amount = 0.0;
    std::size_t steps = 0;
    for (std::size_t row = lag; row < log.rows(); row += strideOf(log)) {
        const double rise = current[row] - current[row - lag], lift = voltage[row] - voltage[row - lag];
        if (!(std::abs(rise) > loadStep * span) || std::isnan(lift) || log.time[row] < log.time[row - lag]) continue;
        ++steps;
        together += rise * lift;
        amount += std::abs(rise * lift);
    }
    if (steps < fewest || together < 0.5 * amount) return;
    for (double& value : current)
        value = -value;
    log.notes.emplace_back(
        "Pack current is written negative under load (it rises and falls with the voltage): its sign is turned.");
}

} // namespace rw
