#include "app/batch/result_text.h"

#include "app/batch/text_output.h"
#include "core/log/column_map.h"
#include "core/log/time_text.h"
#include "core/review/finding_kinds.h"
#include "core/review/review.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace rw::batch {

namespace {

std::string separatorName(const std::string& separator) {
    if (separator == ",") return "commas";
    if (separator == ";") return "semicolons";
    if (separator == "\t") return "tabs";
    return "spaces";
}

std::string importText(const Log& log) {
    const ImportReport& report = log.report;
    std::string text = counted(report.rows, "row") + ", parted by " + separatorName(report.separator) + ", decimal " +
                       (report.decimal == "," ? "comma" : "point") + ", " + report.encoding + ", time in " +
                       report.timeForm + ".";
    if (report.refusedCount > 0) {
        text += " " + counted(report.refusedCount, "row") + " refused";
        if (!report.refused.empty())
            text += ", the first on line " + std::to_string(report.refused.front().line) + ": " +
                    report.refused.front().why;
        text += ".";
    }
    std::string unused;
    for (const ImportColumn& column : report.columns)
        if (!column.quantity) unused += (unused.empty() ? "" : ", ") + column.name;
    if (!unused.empty()) text += " Columns not used: " + unused + ".";
    return text;
}

std::string summaryText(const LogReview& review, const Ink& ink) {
    const auto count = [&](Severity s) {
        return static_cast<std::size_t>(std::ranges::count(review.findings, s, &Finding::severity));
    };
    std::string text = counted(review.sessions.size(), "session") + ", " + counted(review.passes.size(), "pass") + ". ";
    const std::size_t act = count(Severity::Act), watch = count(Severity::Watch), note = count(Severity::Note);
    if (act + watch + note == 0) return text + ink.good("Nothing to complain about.");
    if (act > 0)
        text += ink.bad(std::to_string(act) + " to act on before the next pass") + (watch + note > 0 ? ", " : ".");
    if (watch > 0) text += ink.warn(std::to_string(watch) + " to watch") + (note > 0 ? ", " : ".");
    if (note > 0) text += counted(note, "remark") + ".";
    return text;
}

std::string sessionHeading(const Log& log, const LogReview& review, std::size_t s, const Ink& ink) {
    const ReviewSession& session = review.sessions[s];
    std::string text = ink.heading("Session " + std::to_string(s + 1)) + "  lines " +
                       std::to_string(session.startLine) + " to " + std::to_string(session.endLine) + ", from " +
                       clockText(log, log.time[session.startRow]).value_or(fixed(session.logStart, 1) + " s") +
                       " for " + fixed(session.duration, 1) + " s";
    if (session.cells) {
        text +=
            ", " + counted(static_cast<std::size_t>(*session.cells), "cell") + (session.cellsSure ? "" : " (assumed)");
    } else {
        text += ", cells unknown";
        for (std::size_t k = 0; k < session.cellCandidates.size(); ++k)
            text += (k == 0 ? ": " : " or ") + std::to_string(session.cellCandidates[k]);
    }
    if (session.restingVoltage) {
        text += ", rests at " + fixed(session.restingVoltage, 2) + " V";
        if (session.cells) text += ", " + fixed(*session.restingVoltage / *session.cells, 2) + " V per cell";
    }
    if (session.currentZero && std::abs(*session.currentZero) >= 0.05)
        text += ", current reads " + fixed(session.currentZero, 2) + " A at rest";
    return text + "\n";
}

template<class To>
std::optional<double> converted(std::optional<double> value, To to) {
    return value ? std::optional(to(*value)) : std::nullopt;
}

std::string degrees(std::optional<double> kelvin) { return fixed(converted(kelvin, celsiusFromKelvin), 0); }

// Start → largest → soak; what lies beyond the log in brackets: heatLegend.
constexpr const char* heatLegend =
    "°C: at the start > largest in the pass > largest after it (peak foretold, where the log ends before it)";
std::string heatText(const ReviewPass::Temperature& t) {
    if (!t.start && !t.max) return "-";
    std::string text = degrees(t.start) + " > " + degrees(t.max);
    if (t.soak) text += " > " + degrees(t.soak);
    if (t.soakPredicted) text += " (" + degrees(t.soakPredicted) + ")";
    return text;
}

// One letter for what cut a pass, explained under the table.
struct CutMark {
    ReviewPass::Cut cut;
    const char* mark;
    const char* legend;
};
constexpr CutMark cutMarks[] = {
    {ReviewPass::Cut::LogEnd, "*", "* cut by the end of the log"},
    {ReviewPass::Cut::SessionEnd, "^", "^ cut by the end of its session"},
    {ReviewPass::Cut::SessionStart, "<", "< was under way when its session began"},
    {ReviewPass::Cut::Restart, "!", "! cut by a restart of the controller"},
};

std::string cutMark(const ReviewPass& p) {
    for (const CutMark& m : cutMarks)
        if (m.cut == p.cutBy) return m.mark;
    return "";
}

std::string speedText(std::optional<double> speed, const ShownUnit& unit) {
    return fixed(converted(speed, [&](double value) { return unit.shown(value); }), 1);
}

std::string peakText(const ReviewPass& p, const ShownUnit& unit) {
    const char* const mark = p.speedPeak ? (p.speedPeakLowerBound ? "+" : "") : p.wheelPeak ? "w" : "";
    return speedText(p.speedPeak ? p.speedPeak : p.wheelPeak, unit) + mark;
}

using Pass = ReviewPass;
using Unit = ShownUnit;
struct PassColumn {
    std::string title; // of a speed: without its unit
    std::string (*cell)(const Pass&, const Unit& speed);
    bool isSpeed = false;
};
const PassColumn passColumns[] = {
    {"at s", [](const Pass& p, const Unit&) { return fixed(p.start, 1); }},
    {"lasts s", [](const Pass& p, const Unit&) { return fixed(p.end - p.start, 1) + cutMark(p); }},
    {"peak", peakText, true},
    {"zone", [](const Pass& p, const Unit& unit) { return speedText(p.zoneSpeed, unit); }, true},
    {"rpm",
     [](const Pass& p, const Unit&) {
         return fixed(converted(p.motorPeakSpeed, [](double radps) { return radps * rpmPerRadps; }), 0);
     }},
    {"least V/cell", [](const Pass& p, const Unit&) { return fixed(p.minCellVoltage, 2); }},
    {"sag V", [](const Pass& p, const Unit&) { return fixed(p.sag, 2) + (p.restingRecovering ? "r" : ""); }},
    {"peak A", [](const Pass& p, const Unit&) { return fixed(p.peakCurrent, 0); }},
    {"peak W", [](const Pass& p, const Unit&) { return fixed(p.peakPower, 0); }},
    {"mAh",
     [](const Pass& p, const Unit&) { return fixed(converted(p.charge, [](double As) { return As / 3.6; }), 0); }},
    {"mohm",
     [](const Pass& p, const Unit&) {
         return fixed(converted(p.packResistance, [](double ohm) { return ohm * 1000.0; }), 1);
     }},
    {"motor °C", [](const Pass& p, const Unit&) { return heatText(p.motor); }},
    {"controller °C", [](const Pass& p, const Unit&) { return heatText(p.controller); }},
    {"pack °C", [](const Pass& p, const Unit&) { return heatText(p.pack); }},
};

// Without a number there is nothing to tell: "-", and marks besides.
bool tells(const std::string& cell) { return cell.find_first_of("0123456789") != std::string::npos; }

std::string passTable(const Log& log, const LogReview& review, std::size_t s, const Ink& ink, const UnitChoice& units) {
    const ShownUnit speed = shownUnit(Dimension::Speed, units);
    std::vector<const PassColumn*> columns;
    const auto mine = [&](const ReviewPass& p) { return p.session == s; };
    if (std::ranges::none_of(review.passes, mine)) return "  No pass.\n";
    for (const PassColumn& column : passColumns)
        if (std::ranges::any_of(review.passes,
                                [&](const ReviewPass& p) { return mine(p) && tells(column.cell(p, speed)); }))
            columns.push_back(&column);
    Table table{"pass"};
    const bool clock = clockText(log, 0.0).has_value();
    if (clock) table.column("clock");
    for (const PassColumn* column : columns)
        table.column(column->isSpeed ? column->title + " " + std::string(speed.symbol) : column->title);
    bool wheels = false, bound = false, recovering = false, heat = false;
    for (std::size_t p = 0; p < review.passes.size(); ++p) {
        const ReviewPass& pass = review.passes[p];
        if (!mine(pass)) continue;
        std::vector<std::string> cells{std::to_string(p + 1)};
        if (clock) cells.push_back(clockText(log, log.time[pass.startRow]).value_or(""));
        for (const PassColumn* column : columns)
            cells.push_back(column->cell(pass, speed));
        table.row(cells);
        wheels |= !pass.speedPeak && pass.wheelPeak;
        bound |= pass.speedPeakLowerBound;
        recovering |= pass.restingRecovering && pass.sag;
        for (const auto* part : {&pass.motor, &pass.controller, &pass.pack})
            heat |= part->start || part->max;
    }
    std::string legend;
    const auto explain = [&](bool shownOne, const char* text) {
        legend += shownOne ? (legend.empty() ? "  " : "   ") + std::string(text) : "";
    };
    for (const CutMark& m : cutMarks)
        explain(std::ranges::any_of(review.passes, [&](const ReviewPass& p) { return mine(p) && p.cutBy == m.cut; }),
                m.legend);
    explain(wheels, "w by the wheels and the plan's gearing");
    explain(bound, "+ at least: too few fixes a second");
    explain(recovering, "r the pack was still recovering");
    if (!legend.empty()) legend += "\n";
    if (heat) legend += "  " + std::string(heatLegend) + "\n";
    return table.text(ink) + (legend.empty() ? "" : ink.faint(legend));
}

std::string severityWord(Severity severity, const Ink& ink) {
    if (severity == Severity::Act) return ink.bad("ACT");
    if (severity == Severity::Watch) return ink.warn("WATCH");
    return ink.faint("note");
}

std::string placeText(const Log& log, const LogReview& review, const Finding& f) {
    std::string text = f.pass ? "pass " + std::to_string(*f.pass + 1) : f.session ? "session" : "log";
    if (!f.pass && f.to - f.from >= 60.0) return text;
    text += ", " + fixed(f.at, 2) + " s";
    if (f.session)
        if (const auto clock = clockText(log, log.time[review.sessions[*f.session].startRow] + f.at))
            text += ", " + *clock;
    return text;
}

// One paragraph a finding; what it means and what to try with the first of its kind.
std::string findingsText(const Log& log, const LogReview& review, std::optional<std::size_t> session,
                         std::set<std::string>& explained, const Ink& ink, const UnitChoice& units) {
    std::vector<const Finding*> mine;
    for (const Finding& f : review.findings)
        if (f.session == session) mine.push_back(&f);
    std::ranges::stable_sort(mine, [](const Finding* a, const Finding* b) { return a->severity > b->severity; });
    std::string text;
    for (const Finding* f : mine) {
        text += "  " + severityWord(f->severity, ink) + "  " + ink.heading(findingKind(f->id).title) + " (" +
                placeText(log, review, *f) + ")\n";
        text += wrapped(escapeControls(textOf(f->seen, units)) +
                            (f->threshold.empty() ? "" : " [" + textOf(f->threshold, units) + "]"),
                        "      ");
        if (!explained.insert(f->advice).second) continue; // it was said above
        text += wrapped(f->meaning, "      ");
        text += wrapped("Try: " + f->advice, "      ");
    }
    return text;
}

std::string notJudgedText(const LogReview& review, const Ink& ink) {
    // One sentence a reason, with all that it keeps from being judged.
    std::map<std::string, std::set<std::string>> byReason;
    for (const NotJudged& n : review.notJudged)
        byReason[n.why.substr(0, n.why.find(", so "))].insert(std::string(findingKind(n.id).whether));
    if (byReason.empty()) return "";
    std::string text = ink.heading("Not judged") + "\n";
    for (const auto& [why, questions] : byReason) {
        std::string line = why + ": cannot judge ";
        line[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(line[0])));
        std::size_t k = 0;
        for (const std::string& question : questions) {
            line += k == 0 ? "" : k + 1 == questions.size() ? " or " : ", ";
            line += question;
            ++k;
        }
        text += wrapped(escapeControls(line + "."));
    }
    return text;
}

} // namespace

std::string reviewText(const Log& log, const LogReview& review, const Ink& ink, const UnitChoice& units) {
    std::string text = ink.heading(escapeControls(log.file)) + "\n" + wrapped(escapeControls(importText(log))) + "  " +
                       summaryText(review, ink) + "\n";
    std::set<std::string> explained;
    for (std::size_t s = 0; s < review.sessions.size(); ++s)
        text += "\n" + sessionHeading(log, review, s, ink) + passTable(log, review, s, ink, units) +
                findingsText(log, review, s, explained, ink, units);
    text += findingsText(log, review, std::nullopt, explained, ink, units);
    if (review.track)
        text += "\n" + wrapped("Measured speed from " + escapeControls(review.track->file) + ": " +
                                   counted(review.track->fixes, "fix") + ", " + std::to_string(review.track->refused) +
                                   " refused, offset " + fixed(review.track->offset, 2) + " s, correlation " +
                                   fixed(review.track->correlation, 3) + (review.track->used ? "." : "; not used."),
                               "");
    std::string notes;
    for (const auto* list : {&log.notes, &review.notes})
        for (const std::string& note : *list)
            notes += wrapped(escapeControls(note));
    if (!notes.empty()) text += "\n" + ink.heading("Notes") + "\n" + notes;
    if (const std::string open = notJudgedText(review, ink); !open.empty()) text += "\n" + open;
    return text;
}

} // namespace rw::batch
