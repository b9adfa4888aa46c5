#include "storage/fit_record.h"

#include "core/error.h"

#include <algorithm>

namespace rw {

namespace {

void addPass(LearnPasses& out, std::size_t log, const StoredPass& pass) {
    const PassRef place{log, static_cast<std::size_t>(pass.sessionIndex), static_cast<std::size_t>(pass.index)};
    out.ids[log].push_back(pass.id);
    if (pass.direction == Direction::Back) out.reverse.push_back(place);
    for (const SpeedNote& note : pass.noted)
        out.noted.push_back({place, note.kind == SpeedKind::ZoneMean, note.mps, note.uncertainty_mps});
}

FittedParameter fittedFrom(const LearnedParameter& p) {
    FittedParameter out;
    out.key = p.key, out.value = p.value, out.standardError = p.standardError, out.determined = p.determined;
    out.low = p.low, out.high = p.high, out.before = p.priorValue, out.beforeDeviation = p.priorUncertainty;
    out.whyNot = p.whyNot.value_or(""), out.conflict = p.conflict.value_or("");
    return out;
}

std::string nameFor(const LearnReport& report) {
    std::string passes;
    for (const PassRef& pass : report.passesUsed)
        passes += (passes.empty() ? "" : ", ") + std::to_string(pass.pass + 1);
    const bool many = report.passesUsed.size() != 1;
    return std::string("learned from pass") + (many ? "es " : " ") +
           (passes.size() <= 100 ? passes : std::to_string(report.passesUsed.size()) + " in all");
}

} // namespace

LearnPasses learnPasses(Garage& garage, std::span<const Id> logs) {
    LearnPasses out;
    out.ids.resize(logs.size());
    for (std::size_t log = 0; log < logs.size(); ++log) {
        PassFilter filter;
        filter.log = logs[log];
        std::vector<StoredPass> passes = garage.passes(filter);
        std::ranges::sort(passes, {}, &StoredPass::index);
        for (const StoredPass& pass : passes)
            addPass(out, log, pass);
    }
    return out;
}

Fit fitRecord(const LearnReport& report, std::string document, Id setup, const LearnPasses& passes) {
    if (!report.converged) throw InputError("fit", "did not come to an end, so there is nothing to keep");
    Fit out;
    out.name = nameFor(report);
    out.setup = setup;
    out.report = std::move(document);
    out.learned = report.learned;
    for (const PassRef& pass : report.passesUsed) {
        if (pass.log >= passes.ids.size() || pass.pass >= passes.ids[pass.log].size())
            throw InputError("fit", "rests on pass " + std::to_string(pass.pass + 1) + " of log " +
                                        std::to_string(pass.log + 1) + ", which is not in the garage");
        out.passes.push_back(passes.ids[pass.log][pass.pass]);
    }
    const std::size_t n = report.parameters.size();
    for (const LearnedParameter& p : report.parameters)
        out.parameters.push_back(fittedFrom(p));
    if (report.correlation.matrix.size() == n)
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t k = 0; k < n; ++k)
                out.covariance.push_back(report.correlation.matrix[i][k] * report.parameters[i].standardError *
                                         report.parameters[k].standardError);
    return out;
}

} // namespace rw
