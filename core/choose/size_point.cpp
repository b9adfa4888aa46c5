#include "core/choose/size_point.h"

#include "core/error.h"
#include "core/plan/reach_binding.h"
#include "core/plan/scan.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

namespace rw {

namespace {

constexpr double none = -std::numeric_limits<double>::infinity();
constexpr std::size_t ratioPoints = 36;
constexpr double ratioStep = 1e-4;  // relative
constexpr double fading = 0.5;      // of the target
constexpr double level = 1e-6;      // margins nearer than this are one plateau
constexpr double worthALook = 0.85; // of the target: below it no hump between the scan's points reaches it

struct Place {
    double ratio = 0.0, mean = none, margin = none; // mean and margin of completed passes only
};

class RatioSearch {
public:
    explicit RatioSearch(const PlanInput& plan)
        : plan_(plan)
        , setup_(passSetup(plan))
        , target_(plan.drive.target_mps.value()) {}

    [[nodiscard]] std::optional<JudgedPass> judged(double ratio, const PassPrecision& precision) const {
        return judgedIfAny(plan_, gearedTo(setup_, ratio), precision);
    }
    [[nodiscard]] Place at(double ratio) const {
        const auto found = judged(ratio, sketchPrecision);
        if (!found || !found->completed) return {ratio, none, none};
        return {ratio, found->zoneMean.value_or(none), found->tightest.margin};
    }
    [[nodiscard]] bool makes(const Place& place) const { return place.mean >= target_; }

    // From where the unloaded motor would just make the target outwards, as far as there is speed.
    void scan() {
        const std::vector<double> ratios = logSpaced(lowestRatio, highestRatio, ratioPoints);
        const double volts = plan_.pack.series * plan_.pack.ocv.back().volts_perCell;
        const double wheelSpeed = target_ / plan_.tyre.radius_m;
        const double unloaded = plan_.motor.kv_rpm_per_V * volts / rpmPerRadps / wheelSpeed;
        const auto above = std::lower_bound(ratios.begin(), ratios.end() - 1, unloaded);
        const auto start = static_cast<std::size_t>(above - ratios.begin());
        for (std::size_t i = start; i < ratios.size() && !fadesAway(); ++i)
            places_.push_back(at(ratios[i]));
        std::ranges::reverse(places_);
        for (std::size_t i = start; i-- > 0 && !fadesAway();)
            places_.push_back(at(ratios[i]));
        std::ranges::reverse(places_);
    }
    // Where no point of the scan makes the target: between them the fastest may lie higher.
    void refineFastest() {
        if (std::ranges::any_of(places_, [&](const Place& p) { return makes(p); })) return;
        const std::size_t i = fastest();
        if (i == 0 || i + 1 == places_.size() || !(places_[i].mean >= worthALook * target_)) return;
        const Place top = climb(places_[i - 1], places_[i], places_[i + 1], &Place::mean);
        if (top.ratio == places_[i].ratio) return;
        places_.insert(places_.begin() + static_cast<std::ptrdiff_t>(top.ratio < places_[i].ratio ? i : i + 1), top);
    }
    // The ends of the ranges that make the target become places too.
    void addEdges() {
        std::vector<Place> out;
        for (std::size_t i = 0; i < places_.size(); ++i) {
            const bool before = i > 0 && makes(places_[i - 1]), here = makes(places_[i]);
            if (i > 0 && before != here)
                out.push_back(here ? edge(places_[i], places_[i - 1]) : edge(places_[i - 1], places_[i]));
            out.push_back(places_[i]);
        }
        places_ = std::move(out);
    }
    [[nodiscard]] std::size_t fastest() const {
        const auto slower = [](const Place& a, const Place& b) { return a.mean < b.mean; };
        return static_cast<std::size_t>(std::ranges::max_element(places_, slower) - places_.begin());
    }
    // Of those that make the target, the most left of the tightest limit; none makes it: none. A limit that is held
    // (a current) gives a plateau: both its ends are looked beyond.
    [[nodiscard]] std::optional<Place> roomiest() const {
        std::optional<std::size_t> first, last;
        for (std::size_t i = 0; i < places_.size(); ++i) {
            if (!makes(places_[i])) continue;
            if (!first || places_[i].margin > places_[*first].margin + level)
                first = last = i;
            else if (places_[i].margin > places_[*first].margin - level)
                last = i;
        }
        if (!first) return std::nullopt;
        const Place one = refined(*first);
        if (last == first) return one;
        const Place other = refined(*last);
        return other.margin > one.margin ? other : one;
    }
    [[nodiscard]] const Place& place(std::size_t i) const { return places_[i]; }
    // Of the places that make the target the one next to a ratio, itself left out where there is another.
    [[nodiscard]] double inwards(double ratio) const {
        double best = ratio;
        for (const Place& p : places_)
            if (makes(p) && p.ratio != ratio &&
                (best == ratio || std::abs(std::log(p.ratio / ratio)) < std::abs(std::log(best / ratio))))
                best = p.ratio;
        return best;
    }

private:
    // The last place is far from the target and slower than the one before: nothing more comes that way.
    [[nodiscard]] bool fadesAway() const {
        if (places_.size() < 2) return false;
        const double before = places_[places_.size() - 2].mean, last = places_.back().mean;
        return std::isfinite(before) && last < before && last < fading * target_;
    }
    // Up to the neighbours that make the target.
    [[nodiscard]] Place refined(std::size_t i) const {
        const Place& middle = places_[i];
        const Place& low = i > 0 && makes(places_[i - 1]) ? places_[i - 1] : middle;
        const Place& high = i + 1 < places_.size() && makes(places_[i + 1]) ? places_[i + 1] : middle;
        return climb(low, middle, high, &Place::margin);
    }
    // The last place towards `outside` that makes the target.
    [[nodiscard]] Place edge(Place inside, const Place& outside) const {
        const auto meanAt = [&](double logRatio) {
            const Place here = at(std::exp(logRatio));
            if (makes(here)) inside = here;
            return here.mean;
        };
        static_cast<void>(edgeOf(meanAt, target_, std::log(inside.ratio), std::log(outside.ratio), ratioStep));
        return inside;
    }
    // On the logarithm of the ratio; never worse than the three places given.
    [[nodiscard]] Place climb(const Place& low, const Place& middle, const Place& high, double Place::*figure) const {
        Place best = middle;
        const auto offer = [&](const Place& place) {
            if (place.*figure > best.*figure && (figure == &Place::mean || makes(place))) best = place;
            return place.*figure;
        };
        offer(low);
        offer(high);
        goldenSection(std::log(low.ratio), std::log(high.ratio), ratioStep,
                      [&](double logRatio) { return offer(at(std::exp(logRatio))); });
        return best;
    }

    const PlanInput& plan_;
    PassSetup setup_;
    double target_;
    std::vector<Place> places_;
};

// A sketch at the edge may make the target where the full pass just misses it: a little further in.
void settle(const RatioSearch& search, double ratio, double inside, SizePoint& point) {
    for (const double share : {0.0, 1e-3, 1e-2, 0.1, 1.0}) {
        const double x = ratio + share * (inside - ratio);
        const auto judged = search.judged(x, fullPrecision);
        if (!judged || !judged->makesTarget) continue;
        point.ratio = x;
        point.judged = *judged;
        return;
    }
}

} // namespace

SizePoint sizePoint(const PlanInput& plan) {
    SizePoint out;
    std::optional<RatioSearch> search;
    try {
        search.emplace(plan);
    } catch (const InputError&) {
        return out; // scaled out of what a plan allows
    }
    search->scan();
    search->refineFastest();
    const Place fastest = search->place(search->fastest());
    if (std::isfinite(fastest.mean)) out.bestMean = fastest.mean, out.bestMeanRatio = fastest.ratio;
    search->addEdges();
    if (const auto best = search->roomiest()) settle(*search, best->ratio, search->inwards(best->ratio), out);
    return out;
}

} // namespace rw
