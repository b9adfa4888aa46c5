#include "core/choose/choose_power.h"

#include "core/choose/changed_plan.h"
#include "core/error.h"
#include "core/plan/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

namespace rw {

namespace {

constexpr double none = -std::numeric_limits<double>::infinity();

// What of a pass decides between the pairs of a combination.
struct Trial {
    bool computed = false, exact = false, completed = false, within = false, makes = false;
    double mean = none, margin = none; // m/s, share
};

struct Combination {
    std::size_t motor = 0, controller = 0, pack = 0;
    PlanInput plan;
    PassSetup setup;
    std::vector<std::string> notes;
    std::vector<Trial> trials; // a pair each
};

// The difference to the vehicle where both masses are known; else a note.
template<class Values>
void fitPart(PlanInput& plan, Values PlanInput::*member, const ChoosePart<Values>& part, std::string_view group,
             std::vector<std::string>& notes) {
    Values& fitted = plan.*member;
    if (part.values == fitted) return;
    const auto was = fitted.mass_kg, is = part.values.mass_kg;
    if (was && is)
        plan.vehicle.mass_kg += *is - *was;
    else
        notes.push_back("The vehicle's mass is left as it is: " + std::string(group) +
                        (is ? ".mass_kg of the one fitted now" : ".mass_kg of " + part.id) + " is not known.");
    fitted = part.values;
    replaceUncertainty(plan, group, part.uncertainty);
    plan.learned.reset(); // what logs taught was taught by other parts
}

ChooseLeftOut leftOut(const ChooseSet& set, const Combination& c, std::string why) {
    return {set.motors[c.motor].id, set.controllers[c.controller].id, set.packs[c.pack].id, std::move(why)};
}

std::optional<std::string> whyImpossible(const PlanInput& plan) {
    const auto most = plan.controller.max_cells;
    if (!most || plan.pack.series <= *most) return std::nullopt;
    return std::to_string(plan.pack.series) + " cells in series, and the controller is rated for " +
           std::to_string(*most);
}

std::vector<Combination> combinations(const ChooseSet& set, std::vector<ChooseLeftOut>& without) {
    std::vector<Combination> out;
    for (std::size_t m = 0; m < set.motors.size(); ++m)
        for (std::size_t c = 0; c < set.controllers.size(); ++c)
            for (std::size_t p = 0; p < set.packs.size(); ++p) {
                Combination one{m, c, p, set.base, {}, {}, {}};
                fitPart(one.plan, &PlanInput::motor, set.motors[m], "motor", one.notes);
                fitPart(one.plan, &PlanInput::controller, set.controllers[c], "controller", one.notes);
                fitPart(one.plan, &PlanInput::pack, set.packs[p], "pack", one.notes);
                if (auto why = whyImpossible(one.plan)) {
                    without.push_back(leftOut(set, one, *why));
                    continue;
                }
                try {
                    one.setup = passSetup(one.plan);
                    out.push_back(std::move(one));
                } catch (const InputError& error) {
                    without.push_back(leftOut(set, one, error.what()));
                }
            }
    return out;
}

Trial tried(const Combination& c, const GearPair& pair, const PassPrecision& precision, bool exact) {
    Trial out;
    out.exact = exact;
    const auto judged = judgedIfAny(c.plan, gearedTo(c.setup, pair.overallRatio), precision);
    if (!judged) return out;
    out.computed = true;
    out.completed = judged->completed;
    out.within = judged->withinLimits;
    out.makes = judged->makesTarget;
    out.mean = judged->zoneMean.value_or(none);
    out.margin = judged->tightest.margin;
    return out;
}

// Larger is better; the class first, then the figure that counts within it.
std::pair<int, double> merit(const Trial& t) {
    if (t.within && t.makes) return {3, t.margin};
    if (t.within) return {2, t.mean};
    return {t.completed ? 1 : 0, t.margin};
}

bool doubtful(const Trial& t, std::optional<double> target) {
    return !t.exact && t.computed &&
           (std::abs(t.margin) < doubtOfSketches || (target && std::abs(t.mean - *target) < doubtOfSketches * *target));
}

// In full: whatever might be of another class, then whatever might be the best.
std::optional<std::size_t> bestPair(Combination& c, const std::vector<GearPair>& pairs) {
    const auto exactly = [&](std::size_t i) { c.trials[i] = tried(c, pairs[i], fullPrecision, true); };
    for (std::size_t i = 0; i < pairs.size(); ++i)
        if (doubtful(c.trials[i], c.plan.drive.target_mps)) exactly(i);
    std::pair<int, double> highest{-1, none};
    for (const Trial& t : c.trials)
        if (t.computed) highest = std::max(highest, merit(t));
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        if (!c.trials[i].computed) continue;
        const auto [kind, figure] = merit(c.trials[i]);
        const double near = doubtOfSketches * std::max(1.0, std::abs(highest.second));
        if (kind != highest.first || figure < highest.second - near) continue;
        if (!c.trials[i].exact) exactly(i);
        const auto key = [&](std::size_t k) {
            return std::tuple(merit(c.trials[k]), -pairs[k].pinion, -pairs[k].spur);
        };
        if (!best || key(i) > key(*best)) best = i;
    }
    return best;
}

ChooseRow rowOf(Combination& c, const GearPair& pair) {
    const PlanInput plan = geared(c.plan, pair);
    ChooseRow row{pair, judgedPass(plan, passSetup(plan)), c.motor, c.controller, c.pack, {}, {}, std::move(c.notes),
                  plan};
    const bool target = row.plan.drive.target_mps.has_value();
    if (target && !(row.withinLimits && row.makesTarget))
        row.notes.push_back("No pair of the gears at hand makes the target within limits.");
    else if (!target && !row.withinLimits)
        row.notes.push_back("No pair of the gears at hand is within limits.");
    return row;
}

// Smaller is better; rows alike stay in the order of the parts.
std::tuple<bool, double> rankKey(const ChooseRow& row, ChooseRank rank) {
    const bool makes = row.withinLimits && row.makesTarget;
    switch (rank) {
    case ChooseRank::Margin:
        return {!makes, -row.tightest.margin};
    case ChooseRank::Fastest:
        return {!row.withinLimits, -row.zoneMean.value_or(none)};
    case ChooseRank::LeastCurrent:
        return {!makes, row.peakPackCurrent};
    case ChooseRank::Chance:
        return {!row.targetProbability, -row.targetProbability.value_or(0.0)};
    }
    return {};
}

void addChances(ChooseResult& result, const ChooseOptions& options) {
    const std::size_t count = std::min(rowsWithChances, result.rows.size());
    for (std::size_t i = 0; i < count; ++i) {
        ChooseRow& row = result.rows[i];
        const SpreadResult spread = spreadPlan(row.plan, {options.runs, 1, quiet(options.work)});
        row.targetProbability = spread.targetProbability;
        row.limitProbability = spread.anyLimitProbability;
        if (options.work.progress)
            options.work.progress(0.7 + 0.3 * static_cast<double>(i + 1) / static_cast<double>(count));
    }
}

void checkSet(const ChooseSet& set, const std::vector<GearPair>& pairs) {
    const auto needed = [](const char* kind, std::size_t count) {
        if (count == 0)
            throw InputError(kind, "there is none to choose from; expected at least one with all its values and not "
                                   "retired");
    };
    needed("motors", set.motors.size());
    needed("controllers", set.controllers.size());
    needed("packs", set.packs.size());
    if (pairs.empty())
        throw InputError("gears", "no pinion and spur at hand fit the mount; expected a pair whose centre distance "
                                  "lies between vehicle.mesh_min_m and mesh_max_m");
}

} // namespace

ChooseResult choosePower(const ChooseSet& set, const ChooseOptions& options) {
    static_cast<void>(passSetup(set.base)); // refuses an invalid one
    const std::vector<GearPair> pairs = fittingPairs(set.base);
    checkSet(set, pairs);
    ChooseResult out;
    out.leftOut = set.leftOut;
    std::vector<Combination> all = combinations(set, out.leftOut);
    for (Combination& c : all)
        c.trials.resize(pairs.size());
    out.passes = all.size() * pairs.size();
    parallelFor(out.passes, partOf(options.work, 0.0, 0.7), [&](std::size_t i) {
        Combination& c = all[i / pairs.size()];
        const std::size_t pair = i % pairs.size();
        c.trials[pair] = tried(c, pairs[pair], sketchPrecision, false);
    });
    std::vector<std::optional<ChooseRow>> rows(all.size());
    parallelFor(all.size(), quiet(options.work), [&](std::size_t i) {
        if (const auto best = bestPair(all[i], pairs)) rows[i] = rowOf(all[i], pairs[*best]);
    });
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (rows[i])
            out.rows.push_back(std::move(*rows[i]));
        else
            out.leftOut.push_back(leftOut(set, all[i], "no pass can be computed with any pair of gears"));
    }
    const ChooseRank usual = set.base.drive.target_mps ? ChooseRank::Margin : ChooseRank::Fastest;
    const ChooseRank rank = options.rank.value_or(usual);
    rankChoice(out, rank == ChooseRank::Chance ? usual : rank);
    addChances(out, options);
    if (rank == ChooseRank::Chance) rankChoice(out, rank);
    return out;
}

void rankChoice(ChooseResult& result, ChooseRank rank) {
    auto& rows = result.rows;
    std::ranges::stable_sort(
        rows, [&](const ChooseRow& a, const ChooseRow& b) { return rankKey(a, rank) < rankKey(b, rank); });
    result.efficient =
        efficientRows(rows, [](const ChooseRow& row) { return std::pair(*row.zoneMean, row.tightest.margin); });
}

} // namespace rw
