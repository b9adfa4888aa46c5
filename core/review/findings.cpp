#include "core/review/findings.h"

#include "core/log/quantity.h"
#include "core/review/finding_kinds.h"

#include <algorithm>
#include <limits>
#include <tuple>

namespace rw::review {

std::string number(double value, int decimals) { return textOf(plain(value, decimals)); }

SaidNumber reading(Quantity quantity, double value) {
    const int decimals = quantityInfo(quantity).decimals;
    switch (quantity) {
    case Quantity::PackVoltage:
    case Quantity::RippleVoltage:
    case Quantity::ReceiverVoltage:
        return volts(value, decimals);
    case Quantity::PackCurrent:
    case Quantity::MotorCurrent:
        return amperes(value, decimals);
    case Quantity::Throttle:
    case Quantity::Brake:
    case Quantity::Output:
        return percent(value, decimals);
    case Quantity::MotorSpeed:
        return turning(value);
    case Quantity::ControllerTemperature:
    case Quantity::MotorTemperature:
    case Quantity::PackTemperature:
        return degrees(value, decimals);
    case Quantity::Speed:
        return speedOf(value, decimals);
    case Quantity::Power:
        return {value, Dimension::Power, decimals};
    default:
        return plain(value, decimals);
    }
}

std::string counted(long count, std::string_view one, std::string_view many) {
    return std::to_string(count) + " " + std::string(count == 1 ? one : many);
}

std::string assuming(const Context& context, std::size_t session) {
    const ReviewSession& s = context.out.sessions[session];
    return s.cells && !s.cellsSure ? " (assuming " + counted(*s.cells, "cell", "cells") + ")" : "";
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
    f.advice = words.advice.empty() ? std::string(kind.advice) : std::move(words.advice);
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

bool needsPlan(Context& context, std::string_view id, std::size_t session, std::string_view what) {
    if (context.planCounts(session)) return true;
    if (context.hasPlan)
        cannotJudge(context, id, session,
                    "the plan does not fit this session, so " + std::string(what) + " is not known");
    else
        cannotJudge(context, id, {},
                    (context.options.plan ? "the plan does not fit this log, so " : "no plan was given, so ") +
                        std::string(what) + " is not known");
    return false;
}

void findAll(Context& context) {
    judgeCutoff(context);
    judgePower(context);
    judgeVoltage(context);
    judgeRatings(context);
    judgeHeat(context);
    judgeWheels(context);
    judgeSpeed(context);
    judgeSession(context);
    judgePlan(context);
    constexpr std::size_t last = std::numeric_limits<std::size_t>::max();
    std::ranges::stable_sort(context.out.findings, [=](const Finding& a, const Finding& b) {
        // What took power stands first in its pass.
        const auto place = [=](const Finding& f) {
            return std::tuple(f.session.value_or(last), f.pass.value_or(last), f.id != "cutoff-acted", f.from);
        };
        return place(a) < place(b);
    });
}

} // namespace rw::review
