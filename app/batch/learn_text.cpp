#include "app/batch/learn_request.h"

#include "app/batch/result_text.h"
#include "app/batch/text_output.h"
#include "core/log/quantity.h"
#include "core/plan/plan_fields.h"
#include "core/review/review.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace rw::batch {

namespace {

// As many digits as the error deserves: two of it.
std::string digits(double value, double error) {
    const int decimals = error > 0.0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(error))), 0, 9) : 4;
    return fixed(value, decimals);
}

std::string labelOf(const std::string& key) {
    const PlanField* field = findPlanField(key);
    return field == nullptr ? key : std::string(field->group) + ": " + std::string(field->label);
}

std::string unitOf(const std::string& key) {
    const PlanField* field = findPlanField(key);
    return field == nullptr ? "" : std::string(field->unit);
}

std::string passName(const PassRef& ref, std::size_t logs) {
    const std::string name = std::to_string(ref.session) + ":" + std::to_string(ref.pass);
    return logs > 1 ? "log " + std::to_string(ref.log) + " " + name : name;
}

std::string headText(const LearnReport& report, std::span<const LearnLog> logs, const Ink& ink) {
    std::string names;
    for (const LearnLog& log : logs)
        names += (names.empty() ? "" : ", ") + escapeControls(log.log->file);
    const auto determined =
        std::ranges::count_if(report.parameters, [](const LearnedParameter& p) { return p.determined; });
    std::string out = ink.heading("What " + names + " taught") + "\n";
    out += "  " + counted(report.passesUsed.size(), "pass") + " used, " + std::to_string(determined) + " of " +
           std::to_string(report.parameters.size()) + " uncertain inputs determined.\n";
    for (const LeftOutPass& left : report.passesLeftOut)
        out += "  Pass " + passName(left.pass, logs.size()) + " left out: " + left.why + ".\n";
    return out;
}

std::string parametersText(const LearnReport& report, const Ink& ink) {
    Table table{"<", "was", "±", "is", "±", "<", "of what was open"};
    for (const LearnedParameter& p : report.parameters)
        table.row({labelOf(p.key), digits(p.priorValue, p.priorUncertainty),
                   digits(p.priorUncertainty, p.priorUncertainty), digits(p.value, p.standardError),
                   digits(p.standardError, p.standardError), unitOf(p.key),
                   percentText(p.standardError / p.priorUncertainty) + (p.determined ? "" : " *")});
    std::string out = ink.heading("The vehicle, standard errors behind ±") + "\n" + table.text(ink);
    for (const LearnedParameter& p : report.parameters)
        if (p.whyNot) out += wrapped("* " + labelOf(p.key) + ": " + *p.whyNot + ".");
    for (const LearnedParameter& p : report.parameters)
        if (p.conflict) out += wrapped(ink.warn("Conflict") + ": " + labelOf(p.key) + ": " + *p.conflict + ".");
    return out;
}

std::string nuisancesText(const LearnReport& report, std::size_t logs, const Ink& ink) {
    Table table{"<", "pass", "", "±", "<"};
    for (const LearnedNuisance& n : report.nuisances) {
        if (n.name.rfind("throttle", 0) == 0) continue; // within a row: of no interest to a person
        const std::string pass = n.pass ? passName({n.log, n.session.value_or(0), *n.pass}, logs) : "";
        table.row({n.name, pass, digits(n.value, n.standardError), digits(n.standardError, n.standardError), n.unit});
    }
    if (table.empty()) return "";
    return "\n" + ink.heading("Of the day and of the sensors") + "\n" + table.text(ink);
}

std::string foretoldText(const LearnReport& report, std::size_t logs, const Ink& ink) {
    if (!report.foretold) return "";
    Table table{"<", "5 %", "expected", "95 %", "seen", "<", "<"};
    for (const ForetoldFigure& f : report.foretold->figures) {
        const PassFigure& known = *findPassFigure(f.name);
        const int decimals = known.decimals;
        table.row({std::string(known.brief()), fixed(f.low, decimals), fixed(f.mean, decimals), fixed(f.high, decimals),
                   fixed(f.seen, decimals), std::string(known.unit()),
                   !f.inside   ? ""
                   : *f.inside ? ink.good("inside")
                               : ink.warn("outside")});
    }
    return "\n" + ink.heading("What the others foretold of pass " + passName(report.foretold->pass, logs)) + "\n" +
           table.text(ink);
}

std::string residualsText(const LearnReport& report, std::size_t logs, const Ink& ink) {
    Table table{"<", "readings", "worth", "left over, rms", "worst", "<", "in pass"};
    for (const LearnedResidual& r : report.residuals) {
        const QuantityInfo& info = quantityInfo(r.quantity);
        const double scale = info.display.scale;
        table.row({std::string(info.name), std::to_string(r.count), fixed(r.effectiveCount, 0),
                   digits(scale * r.rms, scale * r.rms), digits(scale * r.worstResidual, scale * r.rms),
                   std::string(info.display.unit), passName(r.worstPass, logs)});
    }
    return "\n" + ink.heading("How closely the model follows") + "\n" + table.text(ink);
}

} // namespace

std::string learnText(const LearnReport& report, std::span<const LearnLog> logs, const Ink& ink) {
    std::string out = headText(report, logs, ink) + "\n" + parametersText(report, ink) +
                      nuisancesText(report, logs.size(), ink) + foretoldText(report, logs.size(), ink) +
                      residualsText(report, logs.size(), ink);
    if (!report.notes.empty()) out += "\n" + ink.heading("Notes") + "\n";
    for (const std::string& note : report.notes)
        out += wrapped(escapeControls(note));
    return out;
}

std::string nextText(const NextReport& report, const Ink& ink) {
    std::string out;
    if (!report.first.empty()) out += ink.heading("First") + "\n";
    for (const std::string& sentence : report.first)
        out += wrapped(escapeControls(sentence));
    if (!out.empty()) out += "\n";
    Table table{"<", "5 %", "zone speed", "95 %", "gain", "target", "breaks a limit", "<tightest"};
    for (const NextChange& c : report.changes) {
        const auto part = [&c](double NextChange::Band::*value) {
            return c.zoneMean ? std::optional(*c.zoneMean.*value) : std::nullopt;
        };
        table.row({c.change, fixed(part(&NextChange::Band::low), 2), fixed(part(&NextChange::Band::mean), 2),
                   fixed(part(&NextChange::Band::high), 2), fixed(c.gain, 2),
                   c.targetProbability ? percentText(*c.targetProbability) : "-", percentText(c.limitProbability),
                   c.tightestLimit});
    }
    return out + ink.heading("What to change next, m/s") + "\n" + table.text(ink) + "\n" + cautionText(ink);
}

} // namespace rw::batch
