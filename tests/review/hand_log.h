// Small logs made by hand: a quantity is a function of time. Every review test starts from one that is in order.
#pragma once

#include "core/review/review.h"

#include <functional>
#include <set>
#include <string>

namespace rw::test {

using Course = std::function<double(double)>; // of time, s

class HandLog {
public:
    explicit HandLog(double seconds, double rate = 20.0)
        : seconds_(seconds)
        , rate_(rate) {}

    HandLog& put(Quantity q, Course course, double step = 0.0);
    HandLog& drop(Quantity q);
    // The quantity as it was, changed where the function says so.
    HandLog& change(Quantity q, std::function<double(double time, double before)> how);
    [[nodiscard]] const Course& of(Quantity q) const { return courses_.at(static_cast<std::size_t>(q)); }
    HandLog& lasts(double seconds) {
        seconds_ = seconds;
        return *this;
    }
    HandLog& sampled(double rate) {
        rate_ = rate;
        return *this;
    }
    // Rows between two times are not there.
    HandLog& gap(double from, double to) {
        gapFrom_ = from, gapTo_ = to;
        return *this;
    }
    // The clock begins anew at this time.
    HandLog& restartClock(double at) {
        restart_ = at;
        return *this;
    }

    [[nodiscard]] Log build() const;

private:
    double seconds_, rate_, gapFrom_ = 0.0, gapTo_ = 0.0, restart_ = 0.0;
    std::array<Course, quantityCount> courses_;
    std::array<double, quantityCount> steps_{};
};

// One pass from 20 s to 26 s with a four-cell pack, nothing wrong, standing for a minute after it. Throttle takes 0.5 s
// to open.
inline constexpr double opens = 20.0, closes = 26.0, opening = 0.5;
[[nodiscard]] HandLog goodPass();
// A small wobble that repeats after 97 rows: sensors are never quite still.
[[nodiscard]] double wobble(double time, double size);

// Plan with limits that the good pass keeps.
[[nodiscard]] PlanInput handPlan();

[[nodiscard]] std::multiset<std::string> idsOf(const LogReview& review);
[[nodiscard]] const Finding* findingOf(const LogReview& review, std::string_view id);
[[nodiscard]] bool notJudged(const LogReview& review, std::string_view id);
[[nodiscard]] std::optional<double> figure(const ReviewPass& pass, std::string_view key);

} // namespace rw::test
