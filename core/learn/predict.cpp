#include "core/learn/predict.h"

#include "core/error.h"
#include "core/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::learning {

namespace {

constexpr double unusable = 1e6; // a prediction where the model cannot be computed: no estimate stays there

// Steps of the start state as a vector, in its units (1, V, K).
constexpr std::array<double, stateCount> stateStep{1e-5, 5e-4, 1e-2, 1e-2, 1e-2, 1e-2};

std::array<double, stateCount> packed(const StartState& s) {
    return {s.charge, s.polarisation, s.winding, s.motorCase, s.controller, s.pack};
}
StartState unpacked(const std::array<double, stateCount>& v) { return {v[0], v[1], v[2], v[3], v[4], v[5]}; }

// Where an unknown of a start or of a pass stands among a piece's inputs.
struct Place {
    Unknown kind;
    double StartState::*start = nullptr;
    double PassNuisances::*pass = nullptr;
};
constexpr std::array places{
    Place{Unknown::Charge, &StartState::charge},
    Place{Unknown::Case, &StartState::motorCase},
    Place{Unknown::WindingOver, &StartState::winding}, // over the case, until all are known
    Place{Unknown::Controller, &StartState::controller},
    Place{Unknown::Pack, &StartState::pack},
    Place{Unknown::Wind, nullptr, &PassNuisances::headWind},
    Place{Unknown::Drag, nullptr, &PassNuisances::drag},
    Place{Unknown::Open, nullptr, &PassNuisances::open},
    Place{Unknown::Close, nullptr, &PassNuisances::close},
    Place{Unknown::Shift, nullptr, &PassNuisances::shift},
    Place{Unknown::Offset, nullptr, &PassNuisances::offset},
};

// The next knot of what is asked for; duty follows no faster than its rate (0: at once).
void addHeld(std::vector<DutyKnot>& knots, double& wanted, DutyKnot next, double rate) {
    const DutyKnot from = knots.back();
    const double length = next.time - from.time;
    constexpr double noise = 1.02; // a slope that only seems faster, by its steps, is not held
    const bool behind = from.duty < wanted - 1e-9;
    if (rate > 0.0 && (behind || next.duty - from.duty > noise * rate * length)) {
        const double slope = length > 0.0 ? (next.duty - wanted) / length : 0.0;
        const double meets = rate > slope ? (wanted - from.duty) / (rate - slope) : length;
        if (meets < length) {
            knots.push_back({from.time + meets, wanted + slope * meets});
        } else {
            wanted = next.duty;
            knots.push_back({next.time, from.duty + rate * length});
            return;
        }
    }
    wanted = next.duty;
    knots.push_back(next);
}

// Duty asked for over time, from rows, shifted and offset as the nuisances say.
void fillDuty(const Driven& d, const PassSetup& setup, const PassNuisances& n, DriveRecord& drive) {
    const double endpoint = setup.controller.endpoint;
    const double shift = d.byPlan ? 0.0 : n.shift; // the opening is drawn back from the shifted ramp
    drive.close = std::max(n.close, n.open + 1e-3);
    const double open = std::clamp(n.open + shift, 0.0, drive.close - 1e-3);
    std::vector<DutyKnot>& knots = drive.duty;
    if (d.byPlan) {
        double full = setup.driving.throttleRamp;
        if (setup.controller.dutyRate) full = std::max(full, 1.0 / *setup.controller.dutyRate);
        knots = {{open, full > 0.0 ? 0.0 : endpoint}, {open + std::max(full, 1e-6), endpoint}};
        if (knots.back().time < drive.close) knots.push_back({drive.close, endpoint});
        return;
    }
    const auto dutyOf = [&](double ask) {
        return d.byThrottle ? std::clamp(ask * endpoint, 0.0, 1.0) : std::clamp(ask + n.offset, 0.0, 1.0);
    };
    const double rate = d.byThrottle && setup.controller.dutyRate ? *setup.controller.dutyRate * endpoint : 0.0;
    knots.push_back({open, 0.0});
    double wanted = 0.0; // where the throttle stands at the last knot
    if (!d.ramp) {
        wanted = dutyOf(d.rows.front().ask);
        if (!(rate > 0.0)) knots.push_back({open, wanted});
    }
    for (const DriveRow& row : d.rows) {
        const double t = row.time + shift;
        if (t <= open + 1e-6) continue;
        if (t >= drive.close) break;
        addHeld(knots, wanted, {t, dutyOf(row.ask)}, rate);
    }
    if (drive.close > knots.back().time) addHeld(knots, wanted, {drive.close, wanted}, rate);
}

void fillRolling(const Driven& d, const PassSetup& setup, DriveRecord& drive) {
    if (d.rolling.empty() || d.coasted) return;
    const auto surface = [&](double motor) {
        const double wheel = motor / setup.gearing.ratio;
        return wheel * setup.tyre.radiusAt(wheel);
    };
    const DriveRow first = d.rolling[0], second = d.rolling[1];
    const double slope =
        second.time > first.time ? std::min(0.0, (second.ask - first.ask) / (second.time - first.time)) : 0.0;
    for (const DriveRow& row : d.rolling)
        if (row.time > drive.close) {
            if (drive.rolling.empty())
                drive.rolling.push_back({drive.close, surface(row.ask - slope * (row.time - drive.close))});
            drive.rolling.push_back({row.time, surface(row.ask)});
        }
}

} // namespace

double headWindOf(const PlanInput& plan, bool reverse) {
    const double wind = headWind(plan.wind.speed_mps, plan.wind.from_deg, plan.venue.heading_deg);
    return reverse ? -wind : wind;
}

DrivenResult simulatePiece(const Piece& piece, const PlanInput& plan, const StartState& start,
                           const PassNuisances& nuisances) {
    PassSetup setup = convertedSetup(plan);
    if (piece.reverse) setup.strip.grade = -setup.strip.grade;
    setup.strip.headWind = nuisances.headWind;
    setup.chassis.dragArea *= std::max(0.0, 1.0 + nuisances.drag);
    const Driven& d = piece.driven;
    if (!d.byThrottle && !d.byPlan) { // the recorded output holds what the limits left
        setup.controller.motorCurrentLimit.reset();
        setup.controller.packCurrentLimit.reset();
        setup.controller.cutoff = CutoffMode::Off;
    }
    DriveRecord drive;
    drive.end = piece.end;
    fillDuty(d, setup, nuisances, drive);
    fillRolling(d, setup, drive);
    if (!d.coasted) drive.brakeAfter = setup.driving.reaction;
    return driveThrough(setup, start, drive, piece.times);
}

Predictor::Predictor(const Day& day, const std::vector<UnknownItem>& unknowns, const WorkOptions& work)
    : day_(day)
    , unknowns_(unknowns)
    , work_(work) {
    for (const Piece& piece : day.pieces) {
        firstReading_.push_back(readings_);
        readings_ += piece.readings.size();
        std::vector<std::size_t> moving;
        const std::size_t index = firstReading_.size() - 1;
        for (std::size_t j = 0; j < unknowns.size(); ++j) {
            const UnknownItem& u = unknowns[j];
            const bool start = u.kind >= Unknown::Charge && u.kind <= Unknown::Pack;
            if (u.kind == Unknown::Carried || (u.kind == Unknown::OfTheDay && u.log == piece.ref.log) ||
                (start && piece.first && u.place == piece.start) || (u.kind >= Unknown::Wind && u.place == index))
                moving.push_back(j);
        }
        moving_.push_back(std::move(moving));
    }
}

Predictor::Sensors Predictor::sensorsOf(const std::vector<double>& x) const {
    Sensors out;
    for (std::size_t j = 0; j < unknowns_.size(); ++j) {
        if (unknowns_[j].kind == Unknown::CurrentGain) out.currentGain = x[j];
        if (unknowns_[j].kind == Unknown::VoltageGain) out.voltageGain = x[j];
        if (unknowns_[j].kind == Unknown::CurrentZero) out.currentZero = x[j];
        if (unknowns_[j].kind == Unknown::MotorGain) out.motorGain = x[j];
        if (unknowns_[j].kind == Unknown::Lag) out.lag[unknowns_[j].place] = x[j];
    }
    return out;
}

Predictor::Case Predictor::caseOf(const Piece& piece, const std::vector<double>& x) const {
    Case out;
    out.plan = day_.plans[piece.ref.log];
    const StartPrior& start = day_.starts[piece.start];
    out.start = {start.charge, 0.0, 0.0, start.motorCase, start.controller, start.pack};
    out.nuisances.open = piece.driven.open;
    out.nuisances.close = piece.driven.close;
    const std::vector<std::size_t>& moving = moving_[static_cast<std::size_t>(&piece - day_.pieces.data())];
    for (const std::size_t j : moving)
        if (unknowns_[j].field != nullptr) unknowns_[j].field->set(out.plan, x[j]);
    out.nuisances.headWind = headWindOf(out.plan, piece.reverse);
    for (const std::size_t j : moving)
        for (const Place& place : places) {
            if (place.kind != unknowns_[j].kind) continue;
            (place.start != nullptr ? out.start.*place.start : out.nuisances.*place.pass) = x[j];
        }
    out.start.winding += out.start.motorCase;
    out.start.polarisation = restingPolarisation(out.plan, start.switchedOn);
    return out;
}

Predictor::Standing Predictor::standAt(const std::vector<double>& x, Prediction& out) const {
    const std::size_t pieces = day_.pieces.size();
    Standing at{x, sensorsOf(x), std::vector<Case>(pieces), std::vector<DrivenResult>(pieces),
                std::vector<std::uint8_t>(pieces, 0)};
    for (std::size_t p = 0; p < pieces; ++p) {
        const Piece& piece = day_.pieces[p];
        at.cases[p] = caseOf(piece, x);
        if (!piece.first) at.cases[p].start = at.results[p - 1].end;
        try {
            at.results[p] = simulatePiece(piece, at.cases[p].plan, at.cases[p].start, at.cases[p].nuisances);
            read(piece, at.results[p], at.sensors, out.values.data() + firstReading_[p]);
            markSteep(piece, at.results[p], out.steep.data() + firstReading_[p]);
        } catch (const InputError&) {
            at.broken[p] = 1;
            at.results[p].end = at.cases[p].start;
        }
    }
    return at;
}

std::vector<Predictor::Job> Predictor::jobsBefore(std::size_t end, const Standing& at) const {
    std::vector<Job> jobs;
    for (std::size_t p = 0; p < end; ++p) {
        if (at.broken[p] != 0) continue;
        for (const std::size_t j : moving_[p])
            jobs.push_back({p, j, false});
        for (std::size_t k = 0; k < stateCount && !day_.pieces[p].first; ++k)
            jobs.push_back({p, k, true});
    }
    return jobs;
}

// The input one step to a side; how far it went.
double Predictor::move(const Job& job, double sign, const Standing& at, Case& moved) const {
    moved = at.cases[job.piece];
    if (job.state) {
        auto v = packed(moved.start);
        v[job.input] += sign * stateStep[job.input];
        moved.start = unpacked(v);
        return stateStep[job.input];
    }
    const UnknownItem& u = unknowns_[job.input];
    const Piece& piece = day_.pieces[job.piece];
    std::vector<double> y = at.x;
    y[job.input] = std::clamp(at.x[job.input] + sign * u.step, u.low, u.high);
    moved = caseOf(piece, y);
    if (!piece.first) moved.start = at.cases[job.piece].start;
    return std::abs(y[job.input] - at.x[job.input]);
}

Predictor::Slopes Predictor::slopesOf(const Job& job, Derivatives derivatives, const Standing& at,
                                      const std::vector<double>& values) const {
    const Piece& piece = day_.pieces[job.piece];
    const std::size_t count = piece.readings.size();
    const auto here = values.begin() + static_cast<std::ptrdiff_t>(firstReading_[job.piece]);
    std::array<std::vector<double>, 2> readings;
    std::array<std::array<double, stateCount>, 2> ends{};
    double length = 0.0;
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
        readings[side].assign(here, here + static_cast<std::ptrdiff_t>(count));
        ends[side] = packed(at.results[job.piece].end);
        const bool room = job.state || at.x[job.input] + unknowns_[job.input].step <= unknowns_[job.input].high;
        if (derivatives == Derivatives::Forward && (side == 0) == room) continue; // the one side: where we stand
        Case moved;
        length += move(job, side == 0 ? -1.0 : 1.0, at, moved);
        try {
            const DrivenResult result = simulatePiece(piece, moved.plan, moved.start, moved.nuisances);
            read(piece, result, at.sensors, readings[side].data());
            ends[side] = packed(result.end);
        } catch (const InputError&) { // as where we stand
            continue;
        }
    }
    Slopes out;
    out.readings.resize(count);
    for (std::size_t i = 0; i < count; ++i)
        out.readings[i] = length > 0.0 ? (readings[1][i] - readings[0][i]) / length : 0.0;
    for (std::size_t k = 0; k < stateCount; ++k)
        out.end[k] = length > 0.0 ? (ends[1][k] - ends[0][k]) / length : 0.0;
    return out;
}

// Chain rule from piece to piece, through the state handed on. Jobs stand in the order of their pieces.
Eigen::MatrixXd Predictor::chained(const std::vector<Job>& jobs, const std::vector<Slopes>& slopes,
                                   const Standing& at) const {
    const auto rows = static_cast<Eigen::Index>(readings_), columns = static_cast<Eigen::Index>(unknowns_.size());
    constexpr int states = static_cast<int>(stateCount);
    using StateSlopes = Eigen::Matrix<double, states, Eigen::Dynamic>;
    Eigen::MatrixXd jacobian = Eigen::MatrixXd::Zero(rows, columns);
    StateSlopes carried = StateSlopes::Zero(states, columns);
    for (std::size_t p = 0, n = 0; n < jobs.size(); ++p) {
        const Piece& piece = day_.pieces[p];
        if (piece.first) carried.setZero();
        if (jobs[n].piece != p) continue; // broken
        StateSlopes next = StateSlopes::Zero(states, columns);
        const auto first = static_cast<Eigen::Index>(firstReading_[p]);
        const auto count = static_cast<Eigen::Index>(piece.readings.size());
        for (; n < jobs.size() && jobs[n].piece == p; ++n) {
            const Eigen::Map<const Eigen::VectorXd> readings(slopes[n].readings.data(), count);
            const Eigen::Map<const Eigen::Matrix<double, states, 1>> left(slopes[n].end.data());
            const auto input = static_cast<Eigen::Index>(jobs[n].input);
            if (jobs[n].state) {
                jacobian.middleRows(first, count).noalias() += readings * carried.row(input);
                next.noalias() += left * carried.row(input);
            } else {
                jacobian.col(input).segment(first, count) += readings;
                next.col(input) += left;
            }
        }
        sensorColumns(piece, at.results[p], at.sensors, firstReading_[p], jacobian);
        carried = next;
    }
    return jacobian;
}

Prediction Predictor::predict(const std::vector<double>& x, Derivatives derivatives, std::size_t end) const {
    Prediction out;
    out.values.assign(readings_, unusable);
    out.steep.assign(readings_, 0);
    const Standing at = standAt(x, out);
    if (derivatives == Derivatives::None) return out;
    const std::vector<Job> jobs = jobsBefore(std::min(day_.pieces.size(), end), at);
    std::vector<Slopes> slopes(jobs.size());
    parallelFor(threadCount(work_.threads), jobs.size(),
                [&](std::size_t n, bool) { slopes[n] = slopesOf(jobs[n], derivatives, at, out.values); });
    out.jacobian = chained(jobs, slopes, at);
    return out;
}

} // namespace rw::learning
