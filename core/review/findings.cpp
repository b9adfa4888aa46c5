#include "core/review/findings.h"

#include "core/log/quantity.h"
#include "core/review/finding_kinds.h"
#include "core/units.h"

#include <cmath>
#include <cstdio>
#include <limits>
#include <tuple>

namespace rw::review {

std::string number(double value, int decimals) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    std::string result = text;
    if (result.starts_with('-') && result.find_first_not_of("-0.") == std::string::npos) result.erase(0, 1);
    // The decimal mark of a locale is none of ours.
    for (char& c : result)
        if (c == ',') c = '.';
    return result;
}

std::string percent(double share, int decimals) { return number(100.0 * share, decimals) + " %"; }

std::string celsius(double kelvin) { return number(celsiusFromKelvin(kelvin), 1) + " °C"; }

std::string assuming(const Context& context, std::size_t session) {
    const ReviewSession& s = context.out.sessions[session];
    return s.cells && !s.cellsSure ? " (assuming " + std::to_string(*s.cells) + " cells)" : "";
}

namespace {

Finding finding(std::string_view id, Severity severity, Words words, std::optional<Quantity> lane) {
    const FindingKind& kind = findingKind(id);
    Finding f;
    f.id = kind.id;
    f.severity = severity;
    f.seen = std::move(words.seen);
    f.threshold = std::move(words.threshold);
    f.meaning = kind.meaning;
    f.advice = kind.advice;
    f.quantity = lane;
    return f;
}

void place(const Context& context, Finding& f, std::size_t session, Evidence rows) {
    f.session = session;
    f.at = context.since(session, rows.at);
    f.from = context.since(session, rows.from);
    f.to = context.since(session, rows.to);
}

} // namespace

void reportPass(Context& context, std::string_view id, Severity severity, std::size_t pass, Evidence rows, Words words,
                std::optional<Quantity> lane) {
    Finding f = finding(id, severity, std::move(words), lane);
    place(context, f, context.out.passes[pass].session, rows);
    f.pass = pass;
    context.out.findings.push_back(std::move(f));
}

void reportSession(Context& context, std::string_view id, Severity severity, std::size_t session, Evidence rows,
                   Words words, std::optional<Quantity> lane) {
    Finding f = finding(id, severity, std::move(words), lane);
    place(context, f, session, rows);
    context.out.findings.push_back(std::move(f));
}

void cannotJudge(Context& context, std::string_view id, std::optional<std::size_t> session, std::string why) {
    for (const NotJudged& told : context.out.notJudged)
        if (told.id == id && told.session == session && told.why == why) return;
    context.out.notJudged.push_back({findingKind(id).id, session, std::move(why)});
}

bool needs(Context& context, std::string_view id, std::initializer_list<Quantity> quantities) {
    std::string missing;
    for (const Quantity q : quantities)
        if (!context.has(q)) missing += (missing.empty() ? "" : ", ") + std::string(quantityInfo(q).name);
    if (missing.empty()) return true;
    cannotJudge(context, id, {}, "the log has no " + missing);
    return false;
}

bool needsCells(Context& context, std::string_view id, std::size_t session) {
    if (context.cells(session)) return true;
    cannotJudge(context, id, session, "the number of cells is not known; tell it with --cells");
    return false;
}

void findAll(Context& context) {
    judgePower(context);
    judgeVoltage(context);
    judgeRatings(context);
    judgeHeat(context);
    judgeWheels(context);
    judgeSpeed(context);
    judgeSession(context);
    judgePlan(context);
    constexpr std::size_t last = std::numeric_limits<std::size_t>::max();
    std::stable_sort(context.out.findings.begin(), context.out.findings.end(), [=](const Finding& a, const Finding& b) {
        return std::tuple(a.session.value_or(last), a.pass.value_or(last), a.from) <
               std::tuple(b.session.value_or(last), b.pass.value_or(last), b.from);
    });
}

} // namespace rw::review
