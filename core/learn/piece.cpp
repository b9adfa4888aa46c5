#include "core/learn/piece.h"

#include "core/learn/drive_line.h"
#include "core/learn/predict.h"
#include "core/review/rows.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw::learning {

namespace {

using review::nan;

constexpr double closedSignal = 0.004;    // under it the throttle is closed: less than the last digit of a percentage
constexpr double drivesAbout = 0.05;      // throttle between passes that is more than a twitch
constexpr double longestTwitch = 1.0;     // s of it
constexpr double longestStanding = 900.0; // s

bool isTemperature(Quantity q) {
    return q == Quantity::MotorTemperature || q == Quantity::ControllerTemperature || q == Quantity::PackTemperature;
}

} // namespace

namespace {

// The first line, drawn back to 0.
void fitRamp(Driven& d, const DriveLine& line, double gap) {
    const double first = d.rows.front().time;
    const double meets = line.rows > 1 && line.slope > 0.0 ? first - d.rows.front().ask / line.slope : -1.0;
    // How much before the row ahead of it: what noise may shift it, and what reads as closed though it is not.
    constexpr double noise = 0.35; // of a row
    const double unseen = line.slope > 0.0 ? (closedSignal + 0.5 * d.outputStep) / line.slope : 0.0;
    if (meets < first - gap - noise * gap - unseen) {
        d.ramp = false; // it jumps
    } else if (meets <= first) {
        d.open = std::clamp(meets, 0.0, first);
        const double rounding =
            d.outputStep * prior::uniform / line.slope / std::sqrt(static_cast<double>(line.rows) / 4.0);
        d.openError = std::max(prior::rampOpens * gap, rounding);
    }
}

} // namespace

double medianInterval(std::span<const double> time, std::size_t first, std::size_t last) {
    std::vector<double> steps;
    for (std::size_t i = first; i < last; ++i)
        steps.push_back(time[i + 1] - time[i]);
    const double median = review::medianOf(steps);
    return median > 0.0 ? median : 0.02;
}

PieceCutter::PieceCutter(const LearnLog& log, const LearnOptions& options, Day& day)
    : log_(log)
    , options_(options)
    , day_(day)
    , time_(reviewTime(*log.log, *log.review)) {
    for (std::size_t q = 0; q < quantityCount; ++q)
        values_[q] = log.log->channels[q].values;
    if (!log.review->groundSpeed.empty()) values_[static_cast<std::size_t>(Quantity::Speed)] = log.review->groundSpeed;
    for (const FaultSpan& fault : log.review->faults)
        for (std::size_t i = fault.startRow; has(fault.quantity) && i <= fault.endRow; ++i)
            values_[static_cast<std::size_t>(fault.quantity)][i] = nan;
    for (std::vector<double>& column : values_)
        if (std::none_of(column.begin(), column.end(), [](double v) { return std::isfinite(v); })) column.clear();
    for (std::size_t s = 0; s < static_cast<std::size_t>(Sensor::Peak); ++s) {
        const Quantity quantity = quantityOf(static_cast<Sensor>(s));
        if (has(quantity)) day.step[s] = std::max(day.step[s], stepOf(quantity));
    }
}

// A thermometer that stood still all day shows no step: it reads as coarsely as those beside it, which moved.
double PieceCutter::stepOf(Quantity quantity) const {
    const double own = (*log_.log)[quantity].step;
    if (own > 0.0 || !isTemperature(quantity)) return own;
    double beside = 0.0;
    for (const Quantity other :
         {Quantity::MotorTemperature, Quantity::ControllerTemperature, Quantity::PackTemperature})
        beside = std::max(beside, (*log_.log)[other].step);
    constexpr double wholeDegree = 1.0; // K: what hardly any logger writes coarser than
    return beside > 0.0 ? beside : wholeDegree;
}

double PieceCutter::value(Quantity quantity, std::size_t row) const {
    const double v = values_[static_cast<std::size_t>(quantity)][row];
    return isTemperature(quantity) ? celsiusFromKelvin(v) : v;
}

double PieceCutter::signal(std::size_t row) const {
    if (has(Quantity::Output)) return value(Quantity::Output, row);
    if (has(Quantity::Throttle)) return value(Quantity::Throttle, row);
    if (!has(Quantity::PackCurrent)) return nan;
    const double zero = log_.review->sessions.empty() ? 0.0 : log_.review->sessions.front().currentZero.value_or(0.0);
    constexpr double fullCurrent = 100.0; // A: only tells open from closed
    return std::max(0.0, value(Quantity::PackCurrent, row) - zero - 1.0) / fullCurrent;
}

std::size_t PieceCutter::firstOpen(const ReviewPass& pass) const {
    const auto open = [this](std::size_t row) { return signal(row) > closedSignal; };
    std::size_t first = pass.startRow;
    while (first < pass.endRow && !open(first))
        ++first;
    while (first > log_.review->sessions[pass.session].startRow && open(first - 1))
        --first;
    return first;
}

// The row that a piece begins with: a few before the first open one, for a slow ramp opens unseen.
std::size_t PieceCutter::closedRow(const ReviewPass& pass) const {
    constexpr std::size_t before = 4;
    const std::size_t first = firstOpen(pass), start = log_.review->sessions[pass.session].startRow;
    return first > start + before ? first - before : start;
}

std::string PieceCutter::findSpan(const PassRef& ref, Span& span, bool& drivenOn) const {
    const ReviewPass& pass = log_.review->passes[ref.pass];
    const ReviewSession& session = log_.review->sessions[pass.session];
    const auto open = [this](std::size_t row) { return signal(row) > closedSignal; };
    const std::size_t first = firstOpen(pass);
    if (first == session.startRow) return "the log begins with the throttle open";
    std::size_t last = pass.endRow;
    while (last > first && !open(last))
        --last;
    while (last < session.endRow && open(last + 1))
        ++last;
    if (last == session.endRow) return "the log ends with the throttle open";
    span = {closedRow(pass), first, last, session.endRow};
    for (const std::size_t restart : session.restarts)
        if (restart > last) span.end = std::min(span.end, restart - 1);
    // On to the next pass, or to where the vehicle is driven about, or for so long.
    const auto& passes = log_.review->passes;
    if (ref.pass + 1 < passes.size() && passes[ref.pass + 1].session == pass.session)
        span.end = std::min(span.end, std::max(closedRow(passes[ref.pass + 1]), last + 1));
    double about = 0.0;
    for (std::size_t i = last + 1; i <= span.end; ++i) {
        if (time_[i] - time_[last] > longestStanding) {
            span.end = i;
            drivenOn = true;
            break;
        }
        if (!(signal(i) > drivesAbout)) continue;
        about += time_[i] - time_[i - 1];
        if (about < longestTwitch) continue;
        while (i > last + 1 && signal(i) > closedSignal)
            --i;
        span.end = i;
        drivenOn = true;
        break;
    }
    return "";
}

void PieceCutter::fillOpening(Driven& d, const Span& span) const {
    const double from = time_[span.closed];
    const double first = time_[span.open] - from, gap = time_[span.open] - time_[span.open - 1];
    d.interval = medianInterval(time_, span.open, span.last);
    d.ramp = true;
    d.open = first - 0.5 * gap;
    d.openError = prior::uniform * gap;
    constexpr double share = 0.6, least = 1e-4; // of the step: rounding, and a hair; of full output
    const DriveLine line = drawnThrough(d.rows, std::max(share * d.outputStep, least));
    d.rows = line.knots;
    fitRamp(d, line, gap);
    const double last = time_[span.last] - from, closed = time_[span.last + 1] - from;
    d.close = 0.5 * (last + closed);
    d.closeError = prior::uniform * (closed - last);
}

void PieceCutter::fillRolling(Piece& piece, const Span& span) const {
    Driven& d = piece.driven;
    const bool braked = has(Quantity::Brake) && (*log_.log)[Quantity::Brake].column >= 0;
    d.coasted = options_.coast || braked;
    const double peak = has(Quantity::MotorSpeed) ? value(Quantity::MotorSpeed, span.last) : nan;
    for (std::size_t i = span.last + 1; i <= span.end; ++i) {
        const double speed = has(Quantity::MotorSpeed) ? value(Quantity::MotorSpeed, i) : nan;
        if (braked && value(Quantity::Brake, i) > closedSignal) d.coasted = options_.coast;
        constexpr double slow = 0.02; // of the speed at the close
        if (std::isnan(speed)) continue;
        d.rolling.push_back({time_[i] - piece.from, speed < slow * peak ? 0.0 : speed});
        if (speed < slow * peak) break;
    }
    if (!(peak > 0.0) || d.rolling.size() < 3 || d.rolling.back().ask > 0.0) {
        d.rolling.clear();
        return;
    }
    // Braking is what speeds lose from row to row: noise there would brake, and heat, where nothing does.
    const DriveRow rest = d.rolling.back();
    d.rolling.pop_back();
    std::vector<double> speeds;
    for (const DriveRow& row : d.rolling)
        speeds.push_back(row.ask);
    constexpr double noises = 3.0, least = 1e-4; // the latter of the speed
    d.rolling = drawnThrough(d.rolling, std::max(noises * review::noiseOfChanges(speeds), least * peak)).knots;
    d.rolling.push_back(rest);
}

bool PieceCutter::fillDriven(Piece& piece, const Span& span) const {
    Driven& d = piece.driven;
    d.byPlan = !has(Quantity::Output) && !has(Quantity::Throttle);
    d.byThrottle = !d.byPlan && !has(Quantity::Output);
    for (std::size_t i = span.open; i <= span.last; ++i) {
        const double ask = d.byPlan ? 1.0 : signal(i);
        if (std::isfinite(ask)) d.rows.push_back({time_[i] - piece.from, std::clamp(ask, 0.0, 1.0)});
    }
    constexpr std::size_t few = 3;
    if (d.rows.size() < few) return false;
    d.outputStep = (*log_.log)[has(Quantity::Output) ? Quantity::Output : Quantity::Throttle].step;
    const double most = std::max_element(d.rows.begin(), d.rows.end(), [](const DriveRow& a, const DriveRow& b) {
                            return a.ask < b.ask;
                        })->ask;
    d.saturated = most >= 1.0 - 1e-9;
    fillOpening(d, span);
    fillRolling(piece, span);
    return true;
}

std::string PieceCutter::cut(const PassRef& ref, bool reverse) {
    Span span;
    bool drivenOn = false;
    if (std::string why = findSpan(ref, span, drivenOn); !why.empty()) return why;
    Piece piece;
    piece.ref = ref;
    piece.reverse = reverse;
    piece.from = time_[span.closed];
    piece.end = time_[span.end] - piece.from;
    const bool follows = before_ && *before_ == span.closed && !day_.pieces.empty();
    piece.first = !follows;
    if (piece.first) day_.starts.push_back(startBefore(log_.review->passes[ref.pass], span.closed));
    piece.start = day_.starts.size() - 1;
    if (!fillDriven(piece, span)) return "fewer than three rows with open throttle";
    chooseDrive(piece, span);
    chooseBraking(piece);
    fillReadings(piece, span);
    leaveOut(piece, span);
    before_.reset();
    if (!drivenOn) before_ = span.end;
    day_.pieces.push_back(std::move(piece));
    return "";
}

} // namespace rw::learning
