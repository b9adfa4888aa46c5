#include "core/learn/predict.h"

#include "core/error.h"
#include "core/parallel.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw::learning {

namespace {

constexpr double unusable = 1e6; // a prediction where the model cannot be computed: no estimate stays there

// The start state as a vector, for derivatives from piece to piece; steps in its units (1, V, K).
constexpr std::size_t stateCount = 6;
constexpr std::array<double, stateCount> stateStep{1e-4, 0.005, 0.1, 0.1, 0.1, 0.1};

std::array<double, stateCount> packed(const StartState& s) {
    return {s.charge, s.polarisation, s.winding, s.motorCase, s.controller, s.pack};
}
StartState unpacked(const std::array<double, stateCount>& v) { return {v[0], v[1], v[2], v[3], v[4], v[5]}; }

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
    const Driven& d = piece.driven;
    if (!d.byThrottle && !d.byPlan) { // the recorded output holds what the limits left
        setup.controller.motorCurrentLimit.reset();
        setup.controller.packCurrentLimit.reset();
        setup.controller.cutoff = VoltageCutoff::Off;
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
    out.start = {start.charge, 0.0, start.motorCase, start.motorCase, start.controller, start.pack};
    double over = 0.0;
    std::optional<double> wind;
    out.nuisances.open = piece.driven.open;
    out.nuisances.close = piece.driven.close;
    const auto index = static_cast<std::size_t>(&piece - day_.pieces.data());
    for (const std::size_t j : moving_[index]) {
        const UnknownItem& u = unknowns_[j];
        switch (u.kind) {
        case Unknown::Carried:
        case Unknown::OfTheDay:
            u.field->set(out.plan, x[j]);
            break;
        case Unknown::Charge:
            out.start.charge = x[j];
            break;
        case Unknown::Case:
            out.start.motorCase = x[j];
            break;
        case Unknown::WindingOver:
            over = x[j];
            break;
        case Unknown::Controller:
            out.start.controller = x[j];
            break;
        case Unknown::Pack:
            out.start.pack = x[j];
            break;
        case Unknown::Wind:
            wind = x[j];
            break;
        case Unknown::Open:
            out.nuisances.open = x[j];
            break;
        case Unknown::Close:
            out.nuisances.close = x[j];
            break;
        case Unknown::Shift:
            out.nuisances.shift = x[j];
            break;
        case Unknown::Offset:
            out.nuisances.offset = x[j];
            break;
        default:
            break;
        }
    }
    out.start.winding = out.start.motorCase + over;
    out.nuisances.headWind = wind.value_or(headWindOf(out.plan, piece.reverse));
    return out;
}

Prediction Predictor::predict(const std::vector<double>& x, Derivatives derivatives, std::size_t end) const {
    const Sensors sensors = sensorsOf(x);
    const std::size_t pieces = day_.pieces.size();
    Prediction out;
    out.values.assign(readings_, unusable);
    out.steep.assign(readings_, 0);
    std::vector<Case> cases(pieces);
    std::vector<DrivenResult> results(pieces);
    std::vector<std::uint8_t> broken(pieces, 0);
    for (std::size_t p = 0; p < pieces; ++p) {
        const Piece& piece = day_.pieces[p];
        cases[p] = caseOf(piece, x);
        if (!piece.first) cases[p].start = results[p - 1].end;
        try {
            results[p] = simulatePiece(piece, cases[p].plan, cases[p].start, cases[p].nuisances);
            read(piece, results[p], sensors, out.values.data() + firstReading_[p]);
            markSteep(piece, results[p], out.steep.data() + firstReading_[p]);
        } catch (const InputError&) {
            broken[p] = 1;
            results[p].end = cases[p].start;
        }
    }
    if (derivatives == Derivatives::None) return out;

    const auto rows = static_cast<Eigen::Index>(readings_), columns = static_cast<Eigen::Index>(unknowns_.size());
    out.jacobian = Eigen::MatrixXd::Zero(rows, columns);
    // One job a piece and input: a directly moving unknown, or a component of the state handed on.
    struct Job {
        std::size_t piece = 0, input = 0;
        bool state = false;
    };
    std::vector<Job> jobs;
    const std::size_t told = std::min(pieces, end);
    for (std::size_t p = 0; p < told; ++p) {
        if (broken[p] != 0) continue;
        for (const std::size_t j : moving_[p])
            jobs.push_back({p, j, false});
        for (std::size_t k = 0; k < stateCount && !day_.pieces[p].first; ++k)
            jobs.push_back({p, k, true});
    }
    struct Slopes {
        std::vector<double> readings;
        std::array<double, stateCount> end{};
    };
    std::vector<Slopes> slopes(jobs.size());
    parallelFor(threadCount(work_.threads), jobs.size(), [&](std::size_t n, bool) {
        const Job& job = jobs[n];
        const Piece& piece = day_.pieces[job.piece];
        const std::size_t count = piece.readings.size();
        std::array<std::vector<double>, 2> at;
        std::array<std::array<double, stateCount>, 2> ends{};
        double length = 0.0;
        for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
            const double sign = side == 0 ? -1.0 : 1.0;
            const bool room = job.state || x[job.input] + unknowns_[job.input].step <= unknowns_[job.input].high;
            if (derivatives == Derivatives::Forward && (side == 0) == room) { // the one side: where we stand
                at[side].assign(out.values.begin() + static_cast<std::ptrdiff_t>(firstReading_[job.piece]),
                                out.values.begin() + static_cast<std::ptrdiff_t>(firstReading_[job.piece] + count));
                ends[side] = packed(results[job.piece].end);
                continue;
            }
            Case moved = cases[job.piece];
            if (job.state) {
                auto v = packed(moved.start);
                v[job.input] += sign * stateStep[job.input];
                moved.start = unpacked(v);
                length += stateStep[job.input];
            } else {
                const UnknownItem& u = unknowns_[job.input];
                std::vector<double> y = x;
                y[job.input] = std::clamp(x[job.input] + sign * u.step, u.low, u.high);
                length += std::abs(y[job.input] - x[job.input]);
                moved = caseOf(piece, y);
                if (!piece.first) moved.start = cases[job.piece].start;
            }
            at[side].assign(count, 0.0);
            try {
                const DrivenResult result = simulatePiece(piece, moved.plan, moved.start, moved.nuisances);
                read(piece, result, sensors, at[side].data());
                ends[side] = packed(result.end);
            } catch (const InputError&) {
                std::copy_n(out.values.begin() + static_cast<std::ptrdiff_t>(firstReading_[job.piece]), count,
                            at[side].begin());
                ends[side] = packed(results[job.piece].end);
            }
        }
        Slopes& s = slopes[n];
        s.readings.resize(count);
        for (std::size_t i = 0; i < count; ++i)
            s.readings[i] = length > 0.0 ? (at[1][i] - at[0][i]) / length : 0.0;
        for (std::size_t k = 0; k < stateCount; ++k)
            s.end[k] = length > 0.0 ? (ends[1][k] - ends[0][k]) / length : 0.0;
    });

    // Chain rule from piece to piece.
    using StateSlopes = Eigen::Matrix<double, static_cast<int>(stateCount), Eigen::Dynamic>;
    StateSlopes carried = StateSlopes::Zero(static_cast<Eigen::Index>(stateCount), columns);
    std::size_t n = 0;
    for (std::size_t p = 0; p < told; ++p) {
        const Piece& piece = day_.pieces[p];
        if (piece.first) carried.setZero();
        if (broken[p] != 0) continue;
        StateSlopes next = StateSlopes::Zero(static_cast<Eigen::Index>(stateCount), columns);
        const auto first = static_cast<Eigen::Index>(firstReading_[p]);
        const auto count = static_cast<Eigen::Index>(piece.readings.size());
        for (; n < jobs.size() && jobs[n].piece == p; ++n) {
            const Eigen::Map<const Eigen::VectorXd> readings(slopes[n].readings.data(), count);
            const Eigen::Map<const Eigen::Matrix<double, static_cast<int>(stateCount), 1>> left(slopes[n].end.data());
            const auto input = static_cast<Eigen::Index>(jobs[n].input);
            if (jobs[n].state) {
                out.jacobian.middleRows(first, count).noalias() += readings * carried.row(input);
                next.noalias() += left * carried.row(input);
            } else {
                out.jacobian.col(input).segment(first, count) += readings;
                next.col(input) += left;
            }
        }
        sensorColumns(piece, results[p], sensors, firstReading_[p], out.jacobian);
        carried = next;
    }
    return out;
}

} // namespace rw::learning
