#include "core/learn/learn.h"

#include "core/error.h"
#include "core/learn/report.h"
#include "core/plan/plan_fields.h"

#include <algorithm>
#include <cmath>

namespace rw {

LearnReport learn(std::span<const LearnLog> logs, const LearnOptions& options) {
    using namespace learning;
    const Problem problem = problemOf(logs, options);
    EstimateOptions how;
    how.work = options.work;
    const Estimated found = estimate(problem, how);
    LearnReport out = reportOf(problem, found, logs);
    if (options.foretell && out.belongs && problem.day.pieces.size() > 1)
        out.foretold = foretellLast(problem, found, options);
    return out;
}

PlanInput learnedPlan(const PlanInput& plan, const LearnReport& report) {
    if (!report.converged) throw InputError("the fit", "did not converge; there is nothing to take over");
    PlanInput out = plan;
    for (const LearnedParameter& parameter : report.parameters) {
        findPlanField(parameter.key)->set(out, parameter.value);
        out.uncertainty[parameter.key] = parameter.standardError;
    }
    const auto learned = [&report](const std::string& key) {
        return std::any_of(report.parameters.begin(), report.parameters.end(),
                           [&key](const LearnedParameter& p) { return p.key == key; });
    };
    std::erase_if(out.correlation,
                  [&](const KeyCorrelation& pair) { return learned(pair.first) && learned(pair.second); });
    const auto& keys = report.correlation.keys;
    for (std::size_t i = 0; i < keys.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            const double r = report.correlation.matrix[i][j];
            if (r != 0.0) out.correlation.push_back({keys[j], keys[i], r});
        }
    out.learned = report.learned;
    return out;
}

} // namespace rw
