// How findings are put down, and the families of them. Internal to core/review.
#pragma once

#include "core/review/context.h"
#include "core/units.h"

#include <string>

namespace rw::review {

// Numbers of sentences, by what they are.
[[nodiscard]] inline SaidNumber plain(double value, int decimals = 0) { return {value, Dimension::Number, decimals}; }
[[nodiscard]] inline SaidNumber percent(double share, int decimals = 0) { return {share, Dimension::Share, decimals}; }
[[nodiscard]] inline SaidNumber seconds(double s, int decimals = 2) { return {s, Dimension::Time, decimals}; }
[[nodiscard]] inline SaidNumber volts(double v, int decimals = 2) { return {v, Dimension::Voltage, decimals}; }
[[nodiscard]] inline SaidNumber amperes(double a, int decimals = 1) { return {a, Dimension::Current, decimals}; }
[[nodiscard]] inline SaidNumber metres(double m, int decimals = 1) { return {m, Dimension::Distance, decimals}; }
[[nodiscard]] inline SaidNumber speedOf(double mps, int decimals = 1) { return {mps, Dimension::Speed, decimals}; }
[[nodiscard]] inline SaidNumber degrees(double kelvin, int decimals = 1) {
    return {celsiusFromKelvin(kelvin), Dimension::Temperature, decimals};
}
[[nodiscard]] inline SaidNumber warming(double kelvin, int decimals = 0) {
    return {kelvin, Dimension::Warming, decimals};
}
[[nodiscard]] inline SaidNumber turning(double radps) { return {radps * rpmPerRadps, Dimension::Rpm, 0}; }
// A reading of a channel.
[[nodiscard]] SaidNumber reading(Quantity quantity, double value);

[[nodiscard]] std::string number(double value, int decimals); // "12.3", never "-0.0": for notes and reasons
// "" or " (assuming 6 cells)" where the session's count is not sure.
[[nodiscard]] std::string assuming(const Context& context, std::size_t session);
// Whether the cutoff acts somewhere in rows of a pass.
[[nodiscard]] inline bool meetsCut(const Context& context, std::size_t pass, Rows rows) {
    return std::ranges::any_of(context.cut[pass], [&](const CutSpan& span) { return span.rows.meets(rows); });
}
// "1 pair", "2 pairs".
[[nodiscard]] std::string counted(long count, std::string_view one, std::string_view many);

// A finding under way: about a pass, a session or the log; times come from rows.
struct Evidence {
    std::size_t at = 0, from = 0, to = 0; // rows
};
struct Words {
    Sentence seen, threshold;
    std::string advice = {}; // "": what is usual for its kind
};
void reportPass(Context& context, std::string_view id, Severity severity, std::size_t pass, Evidence rows, Words words,
                std::optional<Quantity> lane = {});
void reportSession(Context& context, std::string_view id, Severity severity, std::size_t session, Evidence rows,
                   Words words, std::optional<Quantity> lane = {});
// session: none for the whole log. The same reason is told once.
void cannotJudge(Context& context, std::string_view id, std::optional<std::size_t> session, std::string why);
// True if the log has all of them; else tells which is missing.
[[nodiscard]] bool needs(Context& context, std::string_view id, std::initializer_list<Quantity> quantities);
// True if the session's cells are known; else tells.
[[nodiscard]] bool needsCells(Context& context, std::string_view id, std::size_t session);
// True if a plan counts for the session; else tells that what it would say is not known: "the gearing".
[[nodiscard]] bool needsPlan(Context& context, std::string_view id, std::size_t session, std::string_view what);

// What the low-voltage cutoff took by the plan, m/s through its zone.
struct CutoffCost {
    std::optional<double> with, without; // m/s; none: it does not get through the zone
    bool foreseen = false;               // the planned pass has it act
};
// None without a plan.
[[nodiscard]] std::optional<CutoffCost> costOfCutoff(const Context& context, std::size_t pass); // findings_plan.cpp

// Whether the pass as planned from this one's own start has the same slow rise of output: findings_plan.cpp.
struct PlannedRise {
    bool alike = false;   // 10 to 90 % of the step in about the same time
    bool byTyres = false; // because the tyres carry no more, and no limit of current acts
};
[[nodiscard]] PlannedRise plannedRise(const Context& context, std::size_t pass);

// Whether peaks and sag of a session are lower bounds: findings_session.cpp.
[[nodiscard]] bool sampledTooSlowly(const Context& context, std::size_t session);

// Output that leaves a steady throttle slowly, with voltage to spare, while something heats up: heat_falls.cpp.
struct HeatFall {
    Rows rows; // from where it still stood
    double stood = 0.0, low = 0.0;
};
[[nodiscard]] std::vector<HeatFall> heatFalls(const Context& context, std::size_t pass);

void judgeCutoff(Context& context);  // findings_cutoff.cpp
void judgePower(Context& context);   // findings_power.cpp: output, throttle, limits of current and heat
void judgeVoltage(Context& context); // findings_voltage.cpp: sag, ripple, receiver, charge
void judgeRatings(Context& context); // findings_ratings.cpp: pack, controller, speeds over their limits
void judgeHeat(Context& context);    // findings_heat.cpp
void judgeWheels(Context& context);  // findings_wheels.cpp: unloaded, spinning
void judgeSpeed(Context& context);   // findings_speed.cpp: speed constant, lifted early
void judgeRatio(Context& context);   // findings_ratio.cpp
void judgeSession(Context& context); // findings_session.cpp: restarts, faults, sampling, ageing
void judgePlan(Context& context);    // findings_plan.cpp

} // namespace rw::review
