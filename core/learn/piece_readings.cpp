// What is compared: rows while driven, means over blocks for heat and while standing; and what is left out.
#include "core/learn/piece.h"
#include "core/learn/predict.h"
#include "core/plan/uncertain.h"
#include "core/review/rows.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>

namespace rw::learning {

namespace {

constexpr double leastRow = 0.048;     // s: more rows a second say no more of the vehicle
constexpr double leastInstant = 0.018; // s: between instants at which the model is looked at
constexpr double lively = 1.5;         // s after the close
constexpr double launch = 0.15;        // s: all bends as it opens: rows count one by one, speeds not yet
constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double heatBlock = 0.5, heatBlockStanding = 2.0;                  // s
constexpr double afterClose = 1.0;                                          // s: from then on it counts as standing
constexpr double longestRest = 15.0, shortestLine = 3.0, restVoltage = 2.0; // s before a start that are read

struct Block {
    double from = 0.0, to = 0.0; // s
};

double blockLength(double sinceClose) {
    if (sinceClose < 5.0) return 0.25;
    if (sinceClose < 60.0) return 1.0;
    return 5.0;
}

bool ofForces(Sensor s) { return !isHeat(s); }

// Instants so far apart that more of them say no more.
std::vector<double> thinned(const std::vector<double>& rows) {
    std::vector<double> out;
    for (std::size_t i = 0; i < rows.size();) {
        double sum = 0.0, count = 0.0;
        const double from = rows[i];
        for (; i < rows.size() && rows[i] < from + leastInstant; ++i)
            sum += rows[i], count += 1.0;
        if (count == 0.0) sum = rows[i++], count = 1.0;
        out.push_back(sum / count);
    }
    return out;
}

struct Collected {
    Reading reading;
    std::vector<double> times; // s
};

void settle(std::vector<Collected>& all, Piece& piece) {
    std::stable_sort(all.begin(), all.end(),
                     [](const Collected& a, const Collected& b) { return a.times.front() < b.times.front(); });
    piece.times.push_back(0.0); // how temperatures move before it all begins
    for (const Collected& one : all)
        piece.times.insert(piece.times.end(), one.times.begin(), one.times.end());
    std::sort(piece.times.begin(), piece.times.end());
    piece.times.erase(std::unique(piece.times.begin(), piece.times.end()), piece.times.end());
    for (Collected& one : all) {
        one.reading.at = piece.instants.size();
        one.reading.instants = one.times.size();
        for (const double time : one.times)
            piece.instants.push_back(static_cast<std::size_t>(
                std::lower_bound(piece.times.begin(), piece.times.end(), time) - piece.times.begin()));
        piece.readings.push_back(one.reading);
    }
}

} // namespace

void PieceCutter::fillReadings(Piece& piece, const Span& span) const {
    const double close = piece.driven.close, from = piece.from;
    std::vector<Collected> all;
    double noiseDriven = 0.0, noiseStanding = 0.0; // of the rows of what is read
    const auto mean = [&](Sensor sensor, Quantity q, std::size_t first, std::size_t last, bool held) {
        double sum = 0.0, low = infinite, high = -infinite;
        std::size_t count = 0;
        std::vector<double> rows;
        for (std::size_t i = first; i <= last; ++i) {
            const double v = value(q, i);
            if (!std::isfinite(v) || (held && i > 0 && v == value(q, i - 1))) continue;
            sum += v, ++count;
            rows.push_back(time_[i] - from);
            low = std::min(low, v), high = std::max(high, v);
        }
        if (count == 0) return;
        const double at = std::accumulate(rows.begin(), rows.end(), 0.0) / static_cast<double>(count);
        Reading reading{sensor, 0, 1, sum / static_cast<double>(count), first, at < close + afterClose, true, 0.0};
        reading.rows = count, reading.lowest = low, reading.highest = high;
        reading.rowNoise = reading.driven ? noiseDriven : noiseStanding;
        // A vehicle at rest under throttle, or too slow for the sensor, reads 0.
        const bool speed = sensor == Sensor::MotorSpeed || sensor == Sensor::Speed;
        reading.used = !(sensor == Sensor::MotorSpeed && low <= 0.0) && !(speed && at < piece.driven.open + launch);
        if (rows.front() > close + lively) rows = {at}; // nothing bends any more
        all.push_back({reading, thinned(rows)});
    };
    for (std::size_t s = 0; s < static_cast<std::size_t>(Sensor::Peak); ++s) {
        const auto sensor = static_cast<Sensor>(s);
        const Quantity q = quantityOf(sensor);
        if (!has(q) || (sensor == Sensor::Output && !(piece.driven.byThrottle && has(Quantity::Throttle)))) continue;
        const bool force = ofForces(sensor);
        const bool held = isHeld(q, span);
        noiseDriven = rowNoise(q, span.open, span.last, held);
        noiseStanding = rowNoise(q, span.last + 1, span.end, held);
        for (std::size_t i = span.open; i <= span.end;) {
            const double t = time_[i] - from;
            double block = force ? (t > close ? blockLength(t - close) : leastRow) : heatBlock;
            if (force && t < piece.driven.open + launch) block = 0.0;
            if (!force && t > close + 20.0) block = heatBlockStanding;
            std::size_t last = i;
            while (last < span.end && time_[last + 1] - from < t + block &&
                   (t > close || last + 1 <= span.last || !force))
                ++last;
            const bool moves = sensor == Sensor::MotorSpeed || sensor == Sensor::Speed ||
                               sensor == Sensor::MotorCurrent || sensor == Sensor::Output;
            if (!(moves && t > close && !(piece.driven.coasted && sensor != Sensor::Output)))
                mean(sensor, q, i, last, held);
            i = last + 1;
        }
    }
    settle(all, piece);
}

// Of rows that are there, fresh ones only where the channel holds its values between.
double PieceCutter::rowNoise(Quantity quantity, std::size_t first, std::size_t last, bool held) const {
    std::vector<double> values;
    for (std::size_t i = first; i <= last; ++i) {
        const double v = value(quantity, i);
        if (std::isfinite(v) && !(held && i > 0 && v == value(quantity, i - 1))) values.push_back(v);
    }
    return review::noiseOfChanges(values);
}

// Whether the channel is read less often than rows are written and its values stand still between: then only fresh ones
// count. Coarse steps stand still too, but go on by one step at a time.
bool PieceCutter::isHeld(Quantity quantity, const Span& span) const {
    const Channel& channel = (*log_.log)[quantity];
    constexpr double slower = 1.5, steps = 3.0; // row intervals
    if (!(channel.interval_s > slower * medianInterval(time_, span.open, span.last))) return false;
    std::vector<double> changes;
    for (std::size_t i = span.open + 1; i <= span.last; ++i) {
        const double change = std::abs(value(quantity, i) - value(quantity, i - 1));
        if (change > 0.0) changes.push_back(change);
    }
    return review::medianOf(changes) >= steps * channel.step;
}

void PieceCutter::leaveOut(Piece& piece, const Span& span) const {
    const double from = piece.from;
    const auto hide = [&](double first, double last, const std::function<bool(Sensor)>& which) {
        for (Reading& reading : piece.readings) {
            const double begins = piece.times[piece.instants[reading.at]];
            const double ends = piece.times[piece.instants[reading.at + reading.instants - 1]];
            if (ends >= first && begins <= last && which(reading.sensor)) reading.used = false;
        }
    };
    const double interval = piece.driven.interval;
    hide(piece.driven.close - 1.1 * interval, piece.driven.close + 1.1 * interval, ofForces);
    if (!piece.driven.ramp) hide(0.0, piece.driven.rows.front().time + 1.1 * interval, ofForces);
    constexpr double beside = 0.1, gap = 3.5; // s; of the interval
    for (std::size_t i = span.closed; i < span.end; ++i)
        if (time_[i + 1] - time_[i] > gap * interval)
            hide(time_[i] - from - beside, time_[i + 1] - from + beside, ofForces);
    const double session = time_[log_.review->sessions[piece.ref.session].startRow];
    const PlanInput& plan = log_.plan;
    for (const Finding& finding : log_.review->findings) {
        if (finding.pass != piece.ref.pass) continue;
        const double first = finding.from + session - from - beside, last = finding.to + session - from + beside;
        if (finding.id == "wheels-unloaded") hide(first, last, ofForces);
        if (finding.id == "cutoff-acted" && plan.controller.cutoff.mode == CutoffMode::Hard)
            hide(first, piece.end, ofForces);
    }
    // Sliding beyond the slip at which the model's tyre lets go is not in the model.
    if (!has(Quantity::MotorSpeed) || !has(Quantity::Speed)) return;
    const PassSetup setup = convertedSetup(plan);
    const double edge = 1.2 * setup.tyre.edgeSlip(setup.strip.friction) + 0.05;
    for (std::size_t i = span.open; i <= span.last; ++i) {
        const double wheel = value(Quantity::MotorSpeed, i) / setup.gearing.ratio;
        const double ground = value(Quantity::Speed, i);
        constexpr double slow = 3.0; // m/s: below, slip is a division by little
        if (ground > slow && wheel * setup.tyre.radiusAt(wheel) / ground - 1.0 > edge)
            hide(time_[i] - from - beside, time_[i] - from + beside, ofForces);
    }
}

StartPrior PieceCutter::startBefore(const ReviewPass& pass, std::size_t row) const {
    const PlanInput& plan = log_.plan;
    StartPrior out;
    const StartState start = startState(plan);
    out.motorCase = start.motorCase, out.controller = start.controller, out.pack = start.pack;
    const std::size_t first = log_.review->sessions[pass.session].startRow;
    out.switchedOn = time_[row] - time_[first];
    const auto resting = [&](std::size_t i) { return !(signal(i) > 0.004); };
    std::size_t rest = row;
    while (rest > first && resting(rest - 1) && time_[row] - time_[rest - 1] <= longestRest)
        --rest;
    const auto read = [&](Quantity q, double& value_C, double& error) {
        if (!has(q)) return;
        std::vector<double> t, v;
        for (std::size_t i = rest; i <= row; ++i)
            if (std::isfinite(value(q, i))) t.push_back(time_[i] - time_[row]), v.push_back(value(q, i));
        if (v.empty()) return;
        const auto n = static_cast<double>(v.size());
        double meanT = 0.0, meanV = 0.0, tt = 0.0, tv = 0.0, rest2 = 0.0;
        for (std::size_t i = 0; i < v.size(); ++i)
            meanT += t[i] / n, meanV += v[i] / n;
        for (std::size_t i = 0; i < v.size(); ++i)
            tt += (t[i] - meanT) * (t[i] - meanT), tv += (t[i] - meanT) * (v[i] - meanV);
        const bool line = v.size() > 5 && t.back() - t.front() > shortestLine && tt > 0.0;
        const double slope = line ? tv / tt : 0.0;
        value_C = meanV - slope * meanT;
        for (std::size_t i = 0; i < v.size(); ++i)
            rest2 += std::pow(v[i] - value_C - slope * t[i], 2);
        const double scatter =
            v.size() > 2 ? std::sqrt(rest2 / (n - 2.0) * (1.0 / n + (line ? meanT * meanT / tt : 0.0))) : 0.0;
        error = std::max({stepOf(q) * prior::uniform, prior::leastTemperature, scatter});
    };
    read(Quantity::MotorTemperature, out.motorCase, out.caseError);
    read(Quantity::ControllerTemperature, out.controller, out.controllerError);
    read(Quantity::PackTemperature, out.pack, out.packError);
    out.charge = plan.pack.charge;
    const auto stated = plan.uncertainty.find("pack.charge");
    if (stated != plan.uncertainty.end()) out.chargeError = std::max(stated->second, prior::charge);
    if (!has(Quantity::PackVoltage)) return out;
    double volts = 0.0, count = 0.0;
    for (std::size_t i = rest; i <= row; ++i)
        if (time_[row] - time_[i] <= restVoltage && std::isfinite(value(Quantity::PackVoltage, i)))
            volts += value(Quantity::PackVoltage, i), count += 1.0;
    if (count == 0.0) return out;
    const Pack pack = convertedSetup(plan).pack;
    const double drop =
        plan.controller.aux_current_A * pack.resistance(out.pack) + restingPolarisation(plan, out.switchedOn);
    const double cell = (volts / count + drop) / pack.series;
    out.charge = restingCharge(pack.ocv, cell);
    out.cell = cell;
    constexpr double near = 0.01;
    const double z0 = std::max(out.charge - near, 0.0), z1 = std::min(out.charge + near, 1.0);
    const double slope = (pack.ocv.at(z1) - pack.ocv.at(z0)) / (z1 - z0);
    // A load that has just ended still shows: about 10 mV per cell.
    const double recovering = pass.restingRecovering ? 0.01 : 0.0;
    const auto errorOf = [slope](double open) {
        constexpr double widest = 0.3;
        return std::clamp(slope > 0.0 ? open / slope : widest, prior::charge, widest);
    };
    out.chargeError = errorOf(prior::voltageShare * cell + recovering);
    out.chargeErrorAlone = errorOf(recovering);
    return out;
}

// Where the output stays under what the throttle asks for, a limit of the model may explain it: then the model is
// driven by the throttle, and its output is compared.
void PieceCutter::chooseDrive(Piece& piece, const Span& span) const {
    Driven& d = piece.driven;
    if (!has(Quantity::Output) || !has(Quantity::Throttle)) return;
    const double endpoint = log_.plan.controller.endpoint;
    Driven asked = d;
    asked.rows.clear();
    asked.byThrottle = true;
    asked.outputStep = std::max(d.outputStep, (*log_.log)[Quantity::Throttle].step);
    std::vector<double> times, output, wished;
    const double least = std::max(1.5 * d.outputStep, 0.004);
    for (std::size_t i = span.open; i <= span.last; ++i) {
        const double throttle = value(Quantity::Throttle, i), out = value(Quantity::Output, i);
        if (!std::isfinite(throttle) || !std::isfinite(out)) continue;
        asked.rows.push_back({time_[i] - piece.from, std::clamp(throttle, 0.0, 1.0)});
        if (endpoint * throttle - out < least) continue;
        times.push_back(time_[i] - piece.from);
        output.push_back(out);
        wished.push_back(endpoint * throttle);
    }
    constexpr std::size_t few = 3;
    if (times.size() < few || asked.rows.size() < few) return;
    fillOpening(asked, span);
    Piece trial = piece;
    trial.driven = asked;
    trial.times = times;
    const StartPrior& start = day_.starts.back();
    const StartState state{start.charge, 0.0, start.motorCase, start.motorCase, start.controller, start.pack};
    const double spread = statedUncertainty(log_.plan, "venue.friction");
    double unexplained = 0.0;
    for (std::size_t i = 0; i < times.size(); ++i)
        unexplained += std::pow(wished[i] - output[i], 2);
    for (const double deviations : {0.0, -1.0, -2.0}) {
        PlanInput plan = day_.plans.back();
        plan.venue.friction = std::max(0.05, plan.venue.friction + deviations * spread);
        PassNuisances nuisances{headWindOf(plan, piece.reverse), asked.open, asked.close, 0.0, 0.0};
        const DrivenResult result = simulatePiece(trial, plan, state, nuisances);
        double left = 0.0;
        for (std::size_t i = 0; i < times.size(); ++i)
            left += std::pow(result.samples[i].duty - output[i], 2);
        constexpr double enough = 0.5;
        if (left > enough * unexplained) continue;
        piece.driven = asked;
        return;
    }
}

// Where the logged speed falls as the plan's reaction and braking say, the model brakes so: speeds from a log bring
// their noise along, as heat.
void PieceCutter::chooseBraking(Piece& piece) const {
    const std::vector<DriveRow>& rolling = piece.driven.rolling;
    if (rolling.empty()) return;
    Piece trial = piece;
    trial.driven.rolling.clear();
    trial.times.clear();
    for (const DriveRow& row : rolling)
        trial.times.push_back(std::min(row.time, piece.end));
    const StartPrior& start = day_.starts.back();
    const PlanInput& plan = day_.plans.back();
    const DrivenResult result =
        simulatePiece(trial, plan, {start.charge, 0.0, start.motorCase, start.motorCase, start.controller, start.pack},
                      {headWindOf(plan, piece.reverse), piece.driven.open, piece.driven.close, 0.0, 0.0});
    const double most = result.samples.front().motorSpeed, logged = rolling.front().ask;
    if (!(most > 0.0 && logged > 0.0)) return;
    constexpr double close = 0.06; // of the speed at the throttle's close
    for (std::size_t i = 0; i < rolling.size(); ++i)
        if (std::abs(result.samples[i].motorSpeed / most - rolling[i].ask / logged) > close) return;
    piece.driven.rolling.clear();
}

} // namespace rw::learning
