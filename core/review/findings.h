// How findings are put down, and the families of them. core/review/README.md. Internal to core/review.
#pragma once

#include "core/review/context.h"

#include <string>

namespace rw::review {

[[nodiscard]] std::string number(double value, int decimals);      // "12.3", never "-0.0"
[[nodiscard]] std::string percent(double share, int decimals = 0); // "95 %"
[[nodiscard]] std::string celsius(double kelvin);                  // "83.4 °C"
// "" or " (assuming 6 cells)" where the session's count is not sure.
[[nodiscard]] std::string assuming(const Context& context, std::size_t session);

// A finding under way: about a pass, a session or the log; times come from rows.
struct Evidence {
    std::size_t at = 0, from = 0, to = 0; // rows
};
struct Words {
    std::string seen, threshold;
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

void judgePower(Context& context);   // findings_power.cpp: output, throttle, limits of current and heat
void judgeVoltage(Context& context); // findings_voltage.cpp: cutoff, sag, ripple, receiver, charge
void judgeRatings(Context& context); // findings_ratings.cpp: pack, controller, speeds over their limits
void judgeHeat(Context& context);    // findings_heat.cpp
void judgeWheels(Context& context);  // findings_wheels.cpp: unloaded, spinning
void judgeSpeed(Context& context);   // findings_speed.cpp: speed constant, ratio, lifted early
void judgeSession(Context& context); // findings_session.cpp: restarts, faults, sampling, ageing
void judgePlan(Context& context);    // findings_plan.cpp

} // namespace rw::review
