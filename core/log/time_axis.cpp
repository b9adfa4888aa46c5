#include "core/log/time_axis.h"

#include "core/log/integrals.h"

#include <algorithm>
#include <cmath>

namespace rw {
namespace {

constexpr double refusedStepBack = 1.0; // s; more is a restart
constexpr double halfDay = 43200.0, wholeDay = 86400.0;
constexpr double counter16 = 65.536;       // s: 2^16 milliseconds
constexpr double counter32 = 4294967296.0; // 2^32 units
constexpr double rounding = 1e-6;          // s: stamps are written with at most microseconds

// Told as it was written: 0.05, not 0.049999999999999996.
double wholeMicroseconds(double seconds) { return std::round(seconds * 1e6) / 1e6; }

// The wrap that a step back is, within one median step; 0 if it is none.
double wrapOf(double step, double median, double unit_s) {
    for (const double period : {counter16, counter32 * unit_s, counter32 * 1e-3, counter32 * 1e-6})
        if (step + period >= -rounding && step + period <= 2.0 * median + rounding) return period;
    return 0.0;
}

class MarkWalk {
public:
    explicit MarkWalk(const std::vector<RowMark>& marks)
        : marks_(marks) {}
    // Asked for rising rows.
    bool at(std::size_t row) {
        while (next_ < marks_.size() && marks_[next_].row < row)
            ++next_;
        return next_ < marks_.size() && marks_[next_].row == row;
    }

private:
    const std::vector<RowMark>& marks_;
    std::size_t next_ = 0;
};

// 5th percentile of the positive steps near the start, middle and end: the step of a clock whose stamps jitter.
double shortStep(const std::vector<double>& time) {
    constexpr std::size_t block = 4096;
    std::vector<double> steps;
    for (const std::size_t part : {0U, 1U, 2U}) {
        const std::size_t from = time.size() > block ? (time.size() - block) * part / 2 : 0;
        for (std::size_t i = from + 1; i < std::min(time.size(), from + block); ++i)
            if (time[i] > time[i - 1]) steps.push_back(time[i] - time[i - 1]);
    }
    if (steps.empty()) return 0.0;
    const auto fifth = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 20);
    std::nth_element(steps.begin(), fifth, steps.end());
    return *fifth;
}

} // namespace

SettledTime settleTime(std::vector<double>& time, const std::vector<RowMark>& marks, TimeForm form, double unit_s) {
    SettledTime settled;
    MarkWalk header(marks);
    const double median = medianStep(time);
    const bool clock = form == TimeForm::Clock;
    double offset = 0.0, previous = 0.0;
    std::size_t wraps = 0, midnights = 0;
    std::vector<std::size_t> restarts;
    for (std::size_t row = 0; row < time.size(); ++row) {
        double now = time[row] + offset;
        double step = row == 0 ? 0.0 : now - previous;
        const bool below = header.at(row);
        if (step < 0.0 && clock && step < -halfDay) {
            offset += wholeDay;
            now += wholeDay;
            step += wholeDay;
            ++midnights;
        }
        if (step < 0.0 && !below) {
            if (const double period = clock ? 0.0 : wrapOf(step, median, unit_s); period > 0.0) {
                offset += period;
                now += period;
                ++wraps;
            } else if (step >= -refusedStepBack) {
                settled.removed.push_back(static_cast<std::uint32_t>(row));
                settled.stepsBack.push_back(-step);
                continue;
            } else {
                if (!clock) now = time[row];
                if (!clock) offset = 0.0;
                restarts.push_back(row);
            }
        } else if (below && !clock && offset != 0.0 && step < 0.0) {
            now = time[row];
            offset = 0.0;
        }
        time[row] = previous = now;
    }
    settled.marks = marks;
    for (const std::size_t row : restarts)
        settled.marks.push_back({RowMark::Kind::TimeSteppedBack, row});
    std::ranges::stable_sort(settled.marks, {}, &RowMark::row);
    if (wraps > 0)
        settled.notes.push_back("The time counter wrapped round " + std::to_string(wraps) +
                                (wraps == 1 ? " time" : " times") + "; this is undone.");
    if (midnights > 0) settled.notes.push_back("The clock passed midnight; the rows behind it belong to the next day.");
    return settled;
}

SpreadStamps spreadEqualStamps(std::vector<double>& time, const std::vector<RowMark>& marks) {
    SpreadStamps spread;
    for (std::size_t row = 1; row < time.size(); ++row)
        spread.equal += time[row] == time[row - 1];
    if (spread.equal == 0) {
        spread.clockStep = wholeMicroseconds(shortStep(time));
        return spread;
    }
    const double clockStep = medianStep(time);
    spread.clockStep = wholeMicroseconds(clockStep);
    MarkWalk mark(marks);
    std::size_t first = 0;
    while (first < time.size()) {
        const double stamp = time[first];
        std::size_t next = first + 1;
        bool session = false;
        while (next < time.size() && !(session = mark.at(next)) && time[next] == stamp)
            ++next;
        const bool near =
            next < time.size() && !session && time[next] > stamp && time[next] - stamp <= gapLimit(clockStep);
        const double step = (near ? time[next] - stamp : clockStep) / static_cast<double>(next - first);
        for (std::size_t row = first + 1; row < next; ++row)
            time[row] = stamp + step * static_cast<double>(row - first);
        first = next;
    }
    return spread;
}

} // namespace rw
