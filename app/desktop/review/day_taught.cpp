#include "app/desktop/review/day_taught.h"

#include "core/plan/plan_fields.h"
#include "core/plan/spread.h"
#include "core/stopped.h"

#include <QCoreApplication>

#include <algorithm>

namespace rw {

namespace {

constexpr std::size_t bandRuns = 400;                // for a band that is looked at
constexpr double learnShare = 0.7, nextShare = 0.95; // of the whole work, for the progress that is shown

QString say(const char* text) { return QCoreApplication::translate("DayTaught", text); }

std::optional<ZoneBand> zoneOf(const PlanInput& plan, const WorkOptions& work) {
    const SpreadResult spread = spreadPlan(plan, {.runs = bandRuns, .seed = 1, .work = work});
    for (const SpreadFigure& figure : spread.figures)
        if (figure.name == "zone_mean_mps" && figure.mean && figure.p05 && figure.p95)
            return ZoneBand{*figure.p05, *figure.mean, *figure.p95};
    return std::nullopt;
}

// What the garage knows of the passes: speeds that were read off, which way they ran.
LearnPasses passesOf(const ReviewData& data) {
    if (!data.source.kept) return {};
    GarageOptions options;
    options.readOnly = true;
    Garage garage = Garage::open(data.source.garage, options);
    return learnPasses(garage, std::span(&*data.source.kept, 1));
}

} // namespace

QString whyNothingToLearn(const ReviewData& data) {
    if (!data.options.plan)
        return say(
            "Learning compares the log with a plan: put the setup that ran on the bench, or keep the log with it.");
    if (data.review->passes.empty()) return say("There is no pass in this log to learn from.");
    const auto& uncertain = data.options.plan->uncertainty;
    const bool any = std::any_of(uncertain.begin(), uncertain.end(),
                                 [](const auto& one) { return one.second > 0.0 && carriedKey(one.first); });
    if (!any)
        return say("Every value of this plan is taken as known, so there is nothing to learn. In Plan, give the values "
                   "that you are not sure of their ±.");
    return {};
}

PlanInput withChange(PlanInput input, const NextChange& change) {
    for (const NextSetting& setting : change.set) {
        const PlanField* const field = findPlanField(setting.key);
        if (field == nullptr || field->set == nullptr) continue;
        const auto choice = std::ranges::find(field->choices, setting.choice);
        if (choice != field->choices.end())
            field->set(input, static_cast<double>(choice - field->choices.begin()));
        else
            field->set(input, setting.number);
    }
    return input;
}

DayTaught learnFrom(const std::shared_ptr<const ReviewData>& data, const LearnWish& wish, const WorkOptions& work) {
    DayTaught day;
    day.data = data;
    day.plan = *data->options.plan;
    const LearnLog log{data->log.get(), data->review.get(), day.plan, data->digest};
    const std::span<const LearnLog> logs(&log, 1);
    day.passes = passesOf(*data);
    LearnOptions options;
    options.coast = wish.coast;
    options.trustSensors = wish.trustSensors;
    options.reverse = day.passes.reverse;
    options.noted = day.passes.noted;
    options.work = partOf(work, 0.0, learnShare);
    day.report = learn(logs, options);
    if (!day.report.converged) return day;
    day.learned = learnedPlan(day.plan, day.report);
    NextOptions next;
    next.work = partOf(work, learnShare, nextShare);
    day.next = nextChanges(*day.learned, logs, next);
    day.before = zoneOf(day.plan, partOf(work, nextShare, 0.975));
    day.after = zoneOf(*day.learned, partOf(work, 0.975, 1.0));
    throwIfStopped(work.stop);
    return day;
}

} // namespace rw
