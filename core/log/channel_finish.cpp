#include "core/log/channel_finish.h"

#include "core/log/integrals.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw {
namespace {

constexpr double heldIntervals = 5.0, heldSeconds = 1.0; // missing beyond both
constexpr double mostlyEmpty = 0.2; // share of empty cells from which the non-empty ones make the interval
constexpr std::size_t mostIntervals = 20'000;

std::size_t countMissing(const std::vector<double>& values) {
    std::size_t missing = 0;
    for (const double value : values)
        missing += std::isnan(value);
    return missing;
}

// Neighbouring rows from all over the column, at most about so many values; NaN left out.
std::vector<double> spreadSample(std::span<const double> values, std::size_t most) {
    constexpr std::size_t block = 64;
    const std::size_t blocks = std::max<std::size_t>(most / block, 1);
    const std::size_t stride = std::max(values.size() / blocks, block);
    std::vector<double> sample;
    sample.reserve(std::min(values.size(), most + block));
    for (std::size_t from = 0; from < values.size(); from += stride)
        for (std::size_t i = from; i < std::min(from + block, values.size()); ++i)
            if (!std::isnan(values[i])) sample.push_back(values[i]);
    return sample;
}

// Median time between values that are there (or that differ from the one before), within sessions.
double ownInterval(const std::vector<double>& values, const std::vector<double>& time, bool changesOnly) {
    std::vector<double> intervals;
    double last = std::numeric_limits<double>::quiet_NaN(), lastTime = 0.0;
    for (std::size_t row = 0; row < values.size() && intervals.size() < mostIntervals; ++row) {
        const double value = values[row];
        if (std::isnan(value) || (changesOnly && value == last)) continue;
        if (!std::isnan(last) && time[row] > lastTime) intervals.push_back(time[row] - lastTime);
        last = value;
        lastTime = time[row];
    }
    if (intervals.empty()) return 0.0;
    const auto middle = intervals.begin() + static_cast<std::ptrdiff_t>(intervals.size() / 2);
    std::nth_element(intervals.begin(), middle, intervals.end());
    return *middle;
}

void hold(std::vector<double>& values, const std::vector<double>& time, const std::vector<RowMark>& marks,
          double longest) {
    std::size_t mark = 0;
    const std::size_t none = values.size();
    std::size_t last = none; // row of the last value of this session
    for (std::size_t row = 0; row <= values.size(); ++row) {
        const bool ends = row == values.size();
        while (mark < marks.size() && marks[mark].row < row)
            ++mark;
        const bool session = !ends && mark < marks.size() && marks[mark].row == row;
        if (!ends && !session && std::isnan(values[row])) continue;
        if (last != none && row > last + 1) {
            // To the next value, or to the session's last row.
            const double until = ends || session ? time[row - 1] : time[row];
            if (until - time[last] <= longest)
                std::fill(values.begin() + static_cast<std::ptrdiff_t>(last) + 1,
                          values.begin() + static_cast<std::ptrdiff_t>(row), values[last]);
        }
        if (ends) return;
        last = std::isnan(values[row]) ? none : row;
    }
}

} // namespace

void finishChannel(Channel& channel, const std::vector<double>& time, const std::vector<RowMark>& marks) {
    channel.step = quantisationStep(channel.values);
    channel.missing = countMissing(channel.values);
    const bool sparse = static_cast<double>(channel.missing) > mostlyEmpty * static_cast<double>(channel.values.size());
    channel.interval_s = ownInterval(channel.values, time, !sparse);
    const double rowStep = medianStep(time);
    channel.interval_s = std::max(channel.interval_s, rowStep);
    if (channel.missing == 0 || channel.missing == channel.values.size()) return;
    hold(channel.values, time, marks, std::max(heldIntervals * channel.interval_s, heldSeconds));
    channel.missing = countMissing(channel.values);
}

double quantisationStep(std::span<const double> values) {
    std::vector<double> sample = spreadSample(values, 20'000);
    std::ranges::sort(sample);
    double smallest = std::numeric_limits<double>::infinity();
    // Differences that only rounding of the conversion to SI makes are none.
    const double least = sample.empty() ? 0.0 : 1e-9 * std::max(std::abs(sample.front()), std::abs(sample.back()));
    for (std::size_t i = 1; i < sample.size(); ++i) {
        const double difference = sample[i] - sample[i - 1];
        if (difference > least) smallest = std::min(smallest, difference);
    }
    return std::isfinite(smallest) ? smallest : 0.0;
}

double percentile(std::span<const double> values, double share) {
    std::vector<double> sample = spreadSample(values, 100'000);
    if (sample.empty()) return std::numeric_limits<double>::quiet_NaN();
    const auto rank = static_cast<std::ptrdiff_t>(std::llround(share * static_cast<double>(sample.size() - 1)));
    std::nth_element(sample.begin(), sample.begin() + rank, sample.end());
    return sample[static_cast<std::size_t>(rank)];
}

} // namespace rw
