#include "core/learn/learn.h"

#include "core/json/json_write.h"
#include "core/log/quantity.h"
#include "core/plan/plan_json.h"

namespace rw {

namespace {

Json refJson(const PassRef& ref) { return {{"log", ref.log}, {"session", ref.session}, {"pass", ref.pass}}; }

Json parameterJson(const LearnedParameter& p) {
    return {{"key", p.key},
            {"value", p.value},
            {"standard_error", p.standardError},
            {"low", p.low},
            {"high", p.high},
            {"prior", {{"value", p.priorValue}, {"uncertainty", p.priorUncertainty}}},
            {"determined", p.determined},
            {"why_not", jsonOrNull(p.whyNot)},
            {"conflict", jsonOrNull(p.conflict)}};
}

Json nuisanceJson(const LearnedNuisance& n) {
    return {{"name", n.name},
            {"unit", n.unit},
            {"log", n.log},
            {"session", jsonOrNull(n.session)},
            {"pass", jsonOrNull(n.pass)},
            {"value", n.value},
            {"standard_error", n.standardError}};
}

Json residualJson(const LearnedResidual& r) {
    Json worst = refJson(r.worstPass);
    worst.update({{"at_s", r.worstAt}, {"residual", r.worstResidual}});
    return {{"quantity", quantityKey(r.quantity)},
            {"unit", quantityInfo(r.quantity).siUnit},
            {"count", r.count},
            {"effective_count", r.effectiveCount},
            {"rms", r.rms},
            {"noise", r.noise},
            {"worst", std::move(worst)}};
}

Json foretoldJson(const Foretold& foretold) {
    Json figures = Json::object();
    for (const ForetoldFigure& f : foretold.figures)
        figures[f.name] = {{"low", f.low},
                           {"mean", f.mean},
                           {"high", f.high},
                           {"seen", jsonOrNull(f.seen)},
                           {"inside", jsonOrNull(f.inside)}};
    return {{"pass", refJson(foretold.pass)}, {"figures", std::move(figures)}};
}

Json estimateJson(const Estimate& estimate) {
    return {{"value", estimate.value}, {"uncertainty", estimate.uncertainty}};
}

// "motor.kv_rpm_per_V" into the object "motor".
void setValue(Json& root, const std::string& key, double value) {
    Json* place = &root;
    std::size_t from = 0;
    for (std::size_t dot = key.find('.'); dot != std::string::npos; dot = key.find('.', from)) {
        place = &(*place)[key.substr(from, dot - from)];
        from = dot + 1;
    }
    (*place)[key.substr(from)] = value;
}

} // namespace

std::string learnJson(const LearnReport& report) {
    Json out;
    out["converged"] = report.converged;
    out["parameters"] = listJson(report.parameters, parameterJson);
    out["correlation"] = {{"keys", report.correlation.keys}, {"matrix", report.correlation.matrix}};
    out["nuisances"] = listJson(report.nuisances, nuisanceJson);
    out["residuals"] = listJson(report.residuals, residualJson);
    out["foretold"] = report.foretold ? foretoldJson(*report.foretold) : Json(nullptr);
    out["passes_used"] = listJson(report.passesUsed, refJson);
    out["passes_left_out"] = listJson(report.passesLeftOut, [](const LeftOutPass& left) {
        Json row = refJson(left.pass);
        row["why"] = left.why;
        return row;
    });
    out["notes"] = report.notes;
    return out.dump(2) + "\n";
}

std::string learnedDocument(std::string_view document, const PlanInput& plan, const LearnReport& report) {
    constexpr std::string_view mark = "\xEF\xBB\xBF"; // UTF-8's byte order mark
    if (document.starts_with(mark)) document.remove_prefix(mark.size());
    Json root = Json::parse(document, nullptr, false);
    if (root.is_discarded()) return writePlanInput(plan);
    for (const LearnedParameter& parameter : report.parameters) {
        setValue(root, parameter.key, parameter.value);
        root["uncertainty"][parameter.key] = parameter.standardError;
    }
    Json pairs = listJson(plan.correlation, [](const KeyCorrelation& pair) {
        return Json{pair.first, pair.second, pair.coefficient};
    });
    if (!pairs.empty() || root.contains("correlation")) root["correlation"] = std::move(pairs);
    if (plan.learned)
        root["learned"] = {{"gains",
                            {{"current", estimateJson(plan.learned->currentGain)},
                             {"voltage", estimateJson(plan.learned->voltageGain)},
                             {"current_zero_A", estimateJson(plan.learned->currentZero_A)}}},
                           {"logs", plan.learned->logs}};
    return root.dump(2) + "\n";
}

} // namespace rw
