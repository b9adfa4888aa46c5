// Least and largest values of any stretch of a long column in a time that does not grow with the stretch. No Qt here.
// Level 0 holds one pair per blockRows rows, each further level one per fanOut pairs below: about a seventh of the
// column. NaN is a missing sample: it never counts, and a stretch of nothing else comes back empty. Building reads
// every row once; a query touches at most 2 blockRows rows and 2 fanOut pairs a level.
#pragma once

#include <cstddef>
#include <limits>
#include <span>
#include <vector>

namespace rw {

struct Extent {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    [[nodiscard]] bool empty() const { return low > high; }
    void add(const Extent& other) {
        low = other.low < low ? other.low : low;
        high = other.high > high ? other.high : high;
    }
    [[nodiscard]] bool operator==(const Extent&) const = default;
};

class MinMaxPyramid {
public:
    static constexpr std::size_t blockRows = 16;
    static constexpr std::size_t fanOut = 8;

    MinMaxPyramid() = default;
    // The values must outlive the pyramid; they are not copied.
    explicit MinMaxPyramid(std::span<const double> values);

    // Rows [first, last), cut to the rows there are.
    [[nodiscard]] Extent extent(std::size_t first, std::size_t last) const;
    [[nodiscard]] std::size_t rows() const { return values_.size(); }
    [[nodiscard]] double operator[](std::size_t row) const { return values_[row]; }
    [[nodiscard]] std::span<const double> values() const { return values_; }

private:
    std::span<const double> values_;
    std::vector<std::vector<Extent>> levels_;
};

// Rows by time: finds the first row at or after a moment. Times must not fall; equal ones are fine.
// Every stride-th time is kept apart so that a search stays in a few cache lines until its end.
class TimeIndex {
public:
    TimeIndex() = default;
    explicit TimeIndex(std::span<const double> times); // not copied; must outlive the index

    [[nodiscard]] std::size_t lowerBound(double time) const;
    [[nodiscard]] std::size_t rows() const { return times_.size(); }
    [[nodiscard]] double operator[](std::size_t row) const { return times_[row]; }

private:
    static constexpr std::size_t stride = 512;
    std::span<const double> times_;
    std::vector<double> coarse_;
};

} // namespace rw
