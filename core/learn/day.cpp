#include "core/learn/day.h"

#include "core/error.h"
#include "core/learn/piece.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace rw::learning {

namespace {

bool holds(const std::vector<PassRef>& list, const PassRef& ref) {
    return std::find(list.begin(), list.end(), ref) != list.end();
}

void refuseUnknownPasses(std::span<const LearnLog> logs, const LearnOptions& options) {
    const auto check = [&](const PassRef& ref, const char* option) {
        const bool known = ref.log < logs.size() && ref.pass < logs[ref.log].review->passes.size() &&
                           logs[ref.log].review->passes[ref.pass].session == ref.session;
        if (!known)
            throw InputError(option,
                             "names pass " + std::to_string(ref.session) + ":" + std::to_string(ref.pass) +
                                 ", which the log does not have; expected SESSION:PASS as the review counts them");
    };
    for (const PassRef& ref : options.passes.value_or(std::vector<PassRef>{}))
        check(ref, "--passes");
    for (const PassRef& ref : options.reverse)
        check(ref, "--reverse");
    for (const NotedSpeed& noted : options.noted)
        check(noted.pass, "--noted");
}

std::string whyLeftOut(const LearnLog& log, const PassRef& ref, const LearnOptions& options) {
    const ReviewPass& pass = log.review->passes[ref.pass];
    const ReviewSession& session = log.review->sessions[pass.session];
    if (options.passes && !holds(*options.passes, ref)) return "not asked for";
    if (!pass.complete || pass.cutAtStart) return "the log does not hold all of it";
    const int planned = log.plan.pack.series;
    if (session.cells && *session.cells != planned)
        return std::to_string(*session.cells) + " cells in the pack, " + std::to_string(planned) + " in the plan";
    constexpr double shortest = 1.0; // s
    if (pass.end - pass.start < shortest) return "shorter than a second";
    return "";
}

// Uncertainties have done their work; the copies made for every simulation are then cheap.
PlanInput bare(PlanInput plan) {
    plan.uncertainty.clear();
    plan.correlation.clear();
    plan.learned.reset();
    return plan;
}

void addNoted(Day& day, const LearnOptions& options) {
    for (const NotedSpeed& noted : options.noted)
        for (Piece& piece : day.pieces) {
            if (!(piece.ref == noted.pass)) continue;
            Reading reading;
            reading.sensor = noted.zone ? Sensor::Zone : Sensor::Peak;
            reading.value = noted.speed;
            reading.noise = noted.uncertainty;
            piece.readings.push_back(reading);
        }
}

// Work and memory grow with their square: a season is 40.
void refuseTooMany(std::span<const LearnLog> logs, const LearnOptions& options) {
    constexpr std::size_t most = 60;
    std::size_t count = 0;
    for (std::size_t l = 0; l < logs.size(); ++l)
        for (std::size_t p = 0; p < logs[l].review->passes.size(); ++p)
            count += whyLeftOut(logs[l], {l, logs[l].review->passes[p].session, p}, options).empty() ? 1 : 0;
    if (count > most)
        throw InputError("the logs", "hold " + std::to_string(count) + " passes to learn from; at most " +
                                         std::to_string(most) +
                                         " can be at once: name some with --passes SESSION:PASS");
}

void refuseSilence(const Day& day) {
    std::array<std::size_t, sensorCount> count{};
    for (const Piece& piece : day.pieces)
        for (const Reading& reading : piece.readings)
            if (reading.used) ++count[static_cast<std::size_t>(reading.sensor)];
    const auto has = [&count](Sensor sensor) { return count[static_cast<std::size_t>(sensor)] > 0; };
    if (!has(Sensor::Voltage) && !has(Sensor::Current) && !has(Sensor::MotorSpeed) && !has(Sensor::Speed) &&
        !has(Sensor::Peak) && !has(Sensor::Zone))
        throw InputError("the logs", "hold neither voltage, nor current, nor any speed of the passes; nothing of the "
                                     "vehicle can be learned from them");
}

} // namespace

const SensorInfo& sensorInfo(Sensor sensor) {
    static constexpr std::array<SensorInfo, sensorCount> table{
        SensorInfo{Quantity::PackVoltage, &DrivenSample::packVoltage, 1e-3},
        SensorInfo{Quantity::PackCurrent, &DrivenSample::packCurrent, 1e-2},
        SensorInfo{Quantity::MotorCurrent, &DrivenSample::motorCurrent, 1e-2},
        SensorInfo{Quantity::MotorSpeed, &DrivenSample::motorSpeed, 0.1},
        SensorInfo{Quantity::Speed, &DrivenSample::speed, 0.01},
        SensorInfo{Quantity::Output, &DrivenSample::duty, 5e-4},
        SensorInfo{Quantity::MotorTemperature, &DrivenSample::motorCase, 3e-3},
        SensorInfo{Quantity::ControllerTemperature, &DrivenSample::controller, 3e-3},
        SensorInfo{Quantity::PackTemperature, &DrivenSample::pack, 3e-3},
        SensorInfo{Quantity::Speed},
        SensorInfo{Quantity::Speed}};
    return table[static_cast<std::size_t>(sensor)];
}

double restingPolarisation(const PlanInput& plan, double switchedOn) {
    const double resistance = plan.pack.rc_resistance_ohm;
    const double time = resistance * plan.pack.rc_capacitance_F.value_or(0.0);
    return time > 0.0 ? plan.controller.aux_current_A * resistance * -std::expm1(-switchedOn / time) : 0.0;
}

Day cutDay(std::span<const LearnLog> logs, const LearnOptions& options) {
    refuseUnknownPasses(logs, options);
    refuseTooMany(logs, options);
    Day day;
    for (std::size_t l = 0; l < logs.size(); ++l) {
        const LearnLog& log = logs[l];
        day.plans.push_back(bare(log.plan));
        PieceCutter cutter(log, options, day);
        for (std::size_t p = 0; p < log.review->passes.size(); ++p) {
            const PassRef ref{l, log.review->passes[p].session, p};
            std::string why = whyLeftOut(log, ref, options);
            if (why.empty()) why = cutter.cut(ref, holds(options.reverse, ref));
            if (!why.empty()) day.leftOut.push_back({ref, why});
        }
    }
    if (day.pieces.empty()) {
        const std::string why = day.leftOut.empty() ? "no pass was found in them" : day.leftOut.front().why;
        throw InputError("the logs", "hold no pass to learn from: " + why);
    }
    addNoted(day, options);
    refuseSilence(day);
    return day;
}

} // namespace rw::learning
