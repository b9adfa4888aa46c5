#include "app/batch/plan_trace.h"

#include "core/plan/plan.h"
#include "core/shortest_text.h"
#include "core/units.h"

#include <cmath>

namespace rw::batch {

namespace {

constexpr std::string_view header =
    "time_s,distance_m,speed_mps,throttle,duty,pack_V,pack_A,motor_A,motor_rpm,wheel_radps,"
    "winding_C,case_C,controller_C,pack_C,front_load_N,rear_load_N,limit\n";

void append(std::string& out, double value) {
    if (std::isfinite(value)) out += shortestText(value);
    out += ',';
}

} // namespace

std::string traceCsv(const PlanInput& input) {
    std::string out(header);
    const InstantSink sink = [&out](const Instant& i) {
        for (const double value : {i.time, i.distance, i.speed, i.throttle, i.duty, i.packVoltage, i.packCurrent,
                                   i.motorCurrent, i.motorSpeed * rpmPerRadps, i.wheelSpeed, i.winding, i.motorCase,
                                   i.controller, i.pack, i.frontLoad, i.rearLoad})
            append(out, value);
        out += limitName(i.limit);
        out += '\n';
    };
    static_cast<void>(simulatePass(passSetup(input), startState(input), {}, sink));
    return out;
}

} // namespace rw::batch
