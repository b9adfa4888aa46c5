// From logs and plans to unknowns with priors.
#include "core/error.h"
#include "core/learn/estimate.h"
#include "core/plan/uncertain.h"

#include <algorithm>
#include <cmath>

namespace rw::learning {

namespace {

void refuseContradictions(std::span<const LearnLog> logs, const std::vector<UnknownItem>& carried) {
    for (const LearnLog& log : logs)
        for (const UnknownItem& item : carried) {
            const std::string key = item.field->key();
            if (item.field->get(log.plan) != item.field->get(logs.front().plan) ||
                statedUncertainty(log.plan, key) != statedUncertainty(logs.front().plan, key))
                throw InputError("the plans", "differ in " + key +
                                                  ", which is carried from log to log; give it the same "
                                                  "value and uncertainty in all of them");
        }
}

// Of a value that cannot be below 0, so much says nothing but that it is not known; from there no fit finds its way.
void refuseIgnorance(const std::vector<UnknownItem>& items) {
    constexpr double most = 5.0; // of the value
    for (const UnknownItem& item : items)
        if (item.field->low >= 0.0 && item.mean > 0.0 && item.deviation > most * item.mean)
            throw InputError("uncertainty." + item.field->key(),
                             "is more than five times the value itself; expected a value that is known better, or none "
                             "of it");
}

// What wears or ages between the days: since it was learned it may have moved.
bool wears(const std::string& key) {
    return key == "tyre.radius_m" || key == "pack.cell_resistance_ohm" || key == "pack.lead_resistance_ohm" ||
           key == "pack.rc_resistance_ohm" || key == "pack.capacity_Ah";
}

UnknownItem nuisance(Unknown kind, double mean, double deviation, double step, std::size_t place = 0,
                     std::size_t log = 0) {
    UnknownItem out;
    out.kind = kind;
    out.log = log, out.place = place;
    out.mean = mean, out.deviation = deviation;
    out.step = step;
    return out;
}

void addSensors(const LearnLog& log, const Day& day, std::vector<UnknownItem>& out) {
    const LearnedInput known = log.plan.learned.value_or(LearnedInput{});
    const auto read = [&day](Sensor sensor) {
        for (const Piece& piece : day.pieces)
            for (const Reading& reading : piece.readings)
                if (reading.used && reading.sensor == sensor) return true;
        return false;
    };
    const auto add = [&out](Unknown kind, const Estimate& prior) {
        constexpr double sure = 1e-9; // an uncertainty of 0: fixed all but exactly
        out.push_back(nuisance(kind, prior.value, std::max(prior.uncertainty, sure), 0.0));
    };
    if (read(Sensor::Current)) {
        add(Unknown::CurrentGain, known.currentGain);
        add(Unknown::CurrentZero, known.currentZero_A);
    }
    if (read(Sensor::Voltage)) add(Unknown::VoltageGain, known.voltageGain);
    if (read(Sensor::MotorCurrent)) add(Unknown::MotorGain, {1.0, prior::currentGain});
    for (const Sensor sensor : {Sensor::Case, Sensor::Controller, Sensor::Pack})
        if (read(sensor))
            out.push_back(nuisance(Unknown::Lag, 0.0, prior::lag, 2e-3 * prior::lag, static_cast<std::size_t>(sensor)));
}

void addStart(const StartPrior& start, std::size_t place, std::size_t log, std::vector<UnknownItem>& out) {
    const auto add = [&](Unknown kind, double mean, double deviation, double step) -> UnknownItem& {
        return out.emplace_back(nuisance(kind, mean, deviation, step, place, log));
    };
    UnknownItem& charge =
        add(Unknown::Charge, start.charge, start.cell ? start.chargeErrorAlone : start.chargeError, 1e-4);
    constexpr double bend = 0.05; // of the deviation
    charge.low = 0.0, charge.high = 1.0, charge.soft = bend * charge.deviation;
    add(Unknown::Case, start.motorCase, start.caseError, 1e-2);
    add(Unknown::WindingOver, 0.0, prior::windingOverCase, 1e-2);
    add(Unknown::Controller, start.controller, start.controllerError, 1e-2);
    add(Unknown::Pack, start.pack, start.packError, 1e-2);
}

// Several: passes that may differ.
void addPass(const Piece& piece, const PlanInput& plan, std::size_t place, bool several,
             std::vector<UnknownItem>& out) {
    const Driven& d = piece.driven;
    const auto add = [&](Unknown kind, double mean, double deviation, double step, double low, double high) {
        out.push_back(nuisance(kind, mean, deviation, step, place, piece.ref.log));
        out.back().low = low, out.back().high = high;
    };
    constexpr double any = std::numeric_limits<double>::infinity();
    if (const auto wind = windUncertainty(plan))
        add(Unknown::Wind, headWindOf(plan, piece.reverse), *wind, 5e-3, -any, any);
    if (several) add(Unknown::Drag, 0.0, prior::drag, 1e-4, -any, any);
    constexpr double share = 5e-3; // of a row
    const double half = 0.5 * d.closeError / prior::uniform;
    add(Unknown::Open, d.open, d.openError, share * d.interval, 0.0, d.rows.front().time);
    add(Unknown::Close, d.close, d.closeError, share * d.interval, d.close - half, d.close + half);
    if (d.byPlan) return;
    add(Unknown::Shift, 0.0, prior::shift * d.interval, share * d.interval, -1.5 * d.interval, 1.5 * d.interval);
    if (!d.byThrottle && !d.saturated && d.outputStep > 0.0)
        add(Unknown::Offset, 0.0, d.outputStep * prior::uniform, 1e-2 * d.outputStep, -d.outputStep, d.outputStep);
}

} // namespace

Problem problemOf(std::span<const LearnLog> logs, const LearnOptions& options) {
    if (logs.empty()) throw InputError("the logs", "are missing; expected at least one");
    Problem out;
    LearnedKeys keys = learnedKeys(logs.front().plan);
    for (const LearnLog& log : logs.subspan(1))
        for (const UnknownItem& item : learnedKeys(log.plan).carried)
            if (std::none_of(keys.carried.begin(), keys.carried.end(),
                             [&item](const UnknownItem& known) { return known.field == item.field; }))
                throw InputError("the plans", "differ in " + item.field->key() +
                                                  ", which is carried from log to log; "
                                                  "give it the same value and uncertainty in all of them");
    refuseContradictions(logs, keys.carried);
    refuseIgnorance(keys.carried);
    refuseIgnorance(keys.ofTheDay);
    out.ignored = keys.ignored;
    out.unknowns = keys.carried;
    out.carried = keys.carried.size();
    std::vector<std::string> names;
    for (UnknownItem& item : out.unknowns) {
        names.push_back(item.field->key());
        if (logs.front().plan.learned && wears(names.back()))
            item.deviation = std::hypot(item.deviation, options.wear * std::abs(item.mean));
    }
    const auto factor = correlationFactor(logs.front().plan, names, "plan");
    const auto n = static_cast<Eigen::Index>(names.size());
    out.priorFactor = Eigen::MatrixXd::Zero(n, n);
    for (std::size_t i = 0; i < factor.size(); ++i)
        for (std::size_t j = 0; j < factor[i].size(); ++j)
            out.priorFactor(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) = factor[i][j];

    out.day = cutDay(logs, options);
    if (!options.trustSensors) addSensors(logs.front(), out.day, out.unknowns);
    for (std::size_t l = 0; l < logs.size(); ++l)
        for (UnknownItem item : learnedKeys(logs[l].plan).ofTheDay) {
            item.log = l;
            out.unknowns.push_back(item);
        }
    std::optional<std::size_t> gain;
    for (std::size_t j = 0; j < out.unknowns.size(); ++j)
        if (out.unknowns[j].kind == Unknown::VoltageGain) gain = j;
    std::size_t place = 0;
    for (const Piece& piece : out.day.pieces) {
        if (piece.first) {
            StartPrior& start = out.day.starts[piece.start];
            if (!gain) start.cell.reset();
            if (start.cell)
                out.ties.push_back(
                    {out.unknowns.size(), *gain, convertedSetup(logs[piece.ref.log].plan).pack.ocv, *start.cell});
            addStart(start, piece.start, piece.ref.log, out.unknowns);
        }
        addPass(piece, logs[piece.ref.log].plan, place++, out.day.pieces.size() > 1, out.unknowns);
    }
    return out;
}

} // namespace rw::learning
