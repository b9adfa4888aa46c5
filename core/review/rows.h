// Rows, spans of rows and order statistics that every part of a review uses.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace rw::review {

inline constexpr double nan = std::numeric_limits<double>::quiet_NaN();
inline constexpr double timeEpsilon = 1e-6; // s: stamps in decimals are no exact sums

struct Rows {
    std::size_t first = 0, last = 0; // both inclusive
    [[nodiscard]] std::size_t count() const { return last - first + 1; }
    [[nodiscard]] bool holds(std::size_t row) const { return first <= row && row <= last; }
    [[nodiscard]] bool meets(Rows other) const { return first <= other.last && other.first <= last; }
    bool operator==(const Rows&) const = default;
};

// Median of the values (reordered), NaN if there are none. Even counts: mean of the middle two.
[[nodiscard]] double medianOf(std::vector<double>& values);
// Standard deviation of the noise that neighbouring values show: their second differences', by the median. NaN are
// passed over; 0 where nothing is left.
[[nodiscard]] double noiseOfChanges(const std::vector<double>& values);
// How many values lie outside and on the ends of an interval that a median may lie in.
struct AroundMedian {
    std::size_t below = 0, atLow = 0, atHigh = 0, above = 0;
    double low = 0.0, high = 0.0;
};
// Median of all of them and of the values strictly between; NaN if it does not lie within the interval.
[[nodiscard]] double medianBetween(std::vector<double>& between, const AroundMedian& around);
// Median of the finite values of rows that the predicate takes. Many rows: a sample tells between which two values it
// lies, and only those between them are ordered.
template<class Take>
[[nodiscard]] double medianWhere(std::span<const double> values, Rows rows, Take take) {
    constexpr std::size_t many = 20'000, sampled = 1'000;
    std::vector<double> scratch;
    const auto gather = [&](std::size_t stride, double low, double high) {
        scratch.clear();
        for (std::size_t i = rows.first; i <= rows.last; i += stride)
            if (values[i] >= low && values[i] <= high && take(i)) scratch.push_back(values[i]);
    };
    constexpr double all = std::numeric_limits<double>::infinity();
    if (rows.count() > many) {
        gather(rows.count() / sampled, -all, all);
        std::ranges::sort(scratch);
        if (scratch.size() > 100) {
            const double low = scratch[scratch.size() * 2 / 5], high = scratch[scratch.size() * 3 / 5];
            scratch.clear();
            std::size_t below = 0, atLow = 0, atHigh = 0, above = 0;
            for (std::size_t i = rows.first; i <= rows.last; ++i) {
                const double v = values[i];
                if (std::isnan(v) || !take(i)) continue;
                if (v < low)
                    ++below;
                else if (v > high)
                    ++above;
                else if (v == low)
                    ++atLow;
                else if (v == high)
                    ++atHigh;
                else
                    scratch.push_back(v);
            }
            if (const double median = medianBetween(scratch, {below, atLow, atHigh, above, low, high});
                !std::isnan(median))
                return median;
        }
    }
    gather(1, -all, all);
    return medianOf(scratch);
}
[[nodiscard]] inline double medianOver(std::span<const double> values, Rows rows) {
    return medianWhere(values, rows, [](std::size_t) { return true; });
}

// Smallest and largest value over rows, NaN passed over; low over high where there is none.
struct Range {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    [[nodiscard]] double span() const { return high - low; }
};
[[nodiscard]] inline Range rangeOver(std::span<const double> values, Rows rows) {
    Range range;
    for (const double value : values.subspan(rows.first, rows.count()))
        range = {value < range.low ? value : range.low, value > range.high ? value : range.high};
    return range;
}

// Quantile near the top over a stream of values, linear between order statistics ((n−1)q as rank); NaN are passed over.
// Holds only the values above the quantile: linear time, little memory.
class TopQuantile {
public:
    TopQuantile(std::size_t most, double quantile);
    void add(double value) {
        if (value > floor_) {
            kept_.push_back(value);
            if (kept_.size() >= 2 * keep_) shrink();
        }
        seen_ += value == value ? 1 : 0;
    }
    [[nodiscard]] double value(); // NaN without values

private:
    void shrink();
    std::size_t keep_, seen_ = 0;
    double quantile_, floor_ = -std::numeric_limits<double>::infinity();
    std::vector<double> kept_;
};

// First row in rows with time ≥ at; rows.last + 1 if none. Times rise within rows.
[[nodiscard]] inline std::size_t rowAt(std::span<const double> time, Rows rows, double at) {
    const auto begin = time.begin() + static_cast<std::ptrdiff_t>(rows.first);
    const auto end = time.begin() + static_cast<std::ptrdiff_t>(rows.last + 1);
    return static_cast<std::size_t>(std::lower_bound(begin, end, at) - time.begin());
}

// Smallest and largest value of a window that slides over rows; NaN are passed over.
class SlidingRange {
public:
    explicit SlidingRange(std::span<const double> values)
        : values_(values) {}
    void push(std::size_t row);
    void dropBefore(std::size_t row);
    void clear() { lows_.clear(), highs_.clear(), lowHead_ = highHead_ = 0; }
    [[nodiscard]] bool empty() const { return lowHead_ == lows_.size(); }
    [[nodiscard]] double low() const { return values_[lows_[lowHead_]]; }
    [[nodiscard]] double high() const { return values_[highs_[highHead_]]; }
    [[nodiscard]] double range() const { return empty() ? 0.0 : high() - low(); }

private:
    std::span<const double> values_;
    std::vector<std::size_t> lows_, highs_; // rows of rising lows, falling highs, from the heads on
    std::size_t lowHead_ = 0, highHead_ = 0;
};

// The longest stretch within rows that the predicate takes and over which values are not uneven, or stay within
// tolerance (largest − smallest).
struct Stretch {
    Rows rows;
    double seconds = -1.0; // below 0: none
};
template<class Take, class Uneven>
[[nodiscard]] Stretch longestEven(std::span<const double> time, std::span<const double> values, Rows rows, Take take,
                                  Uneven uneven) {
    Stretch best;
    SlidingRange range(values);
    std::size_t from = rows.first;
    for (std::size_t i = rows.first; i <= rows.last; ++i) {
        if (!take(i)) {
            range.clear();
            from = i + 1;
            continue;
        }
        range.push(i);
        while (uneven(range))
            range.dropBefore(++from);
        if (time[i] - time[from] > best.seconds) best = {{from, i}, time[i] - time[from]};
    }
    return best;
}
template<class Take>
[[nodiscard]] Stretch longestSteady(std::span<const double> time, std::span<const double> values, Rows rows,
                                    double tolerance, Take take) {
    return longestEven(time, values, rows, take, [&](const SlidingRange& range) { return range.range() > tolerance; });
}

// Calls found(Rows) for each run of rows that the predicate takes.
template<class Take, class Found>
void forEachRun(Rows rows, Take take, Found found) {
    for (std::size_t i = rows.first; i <= rows.last; ++i) {
        if (!take(i)) continue;
        std::size_t last = i;
        while (last < rows.last && take(last + 1))
            ++last;
        found(Rows{i, last});
        i = last;
    }
}
// The run of at least so many rows that takes longest.
template<class Take>
[[nodiscard]] std::optional<Rows> longestRun(std::span<const double> time, Rows rows, std::size_t least, Take take) {
    std::optional<Rows> best;
    forEachRun(rows, take, [&](Rows run) {
        if (run.count() < least) return;
        if (!best || time[run.last] - time[run.first] > time[best->last] - time[best->first]) best = run;
    });
    return best;
}

// Straight line through points that are added one by one: means, and sums of squares about them.
struct Line {
    double count = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;
    void add(double atX, double atY) {
        const double dx = atX - x, dy = atY - y;
        count += 1.0;
        x += dx / count;
        y += dy / count;
        xx += dx * (atX - x);
        yy += dy * (atY - y);
        xy += dx * (atY - y);
    }
};

} // namespace rw::review
