#include "core/learn/report.h"

#include "core/log/quantity.h"
#include "core/units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace rw::learning {

namespace {

struct Where {
    const Piece* piece = nullptr;
    const Reading* reading = nullptr;
    double time = 0.0; // s, from the session's first row
};

std::vector<Where> placesOf(const Problem& problem, std::span<const LearnLog> logs) {
    std::vector<Where> out;
    for (const Piece& piece : problem.day.pieces) {
        const LearnLog& log = logs[piece.ref.log];
        const auto time = reviewTime(*log.log, *log.review);
        const double first = time[log.review->sessions[piece.ref.session].startRow];
        for (const Reading& reading : piece.readings) {
            const double at = isNoted(reading.sensor) ? piece.driven.close : piece.middle(reading);
            out.push_back({&piece, &reading, piece.from - first + at});
        }
    }
    return out;
}

std::string passName(const PassRef& ref, std::size_t logs) {
    const std::string name = std::to_string(ref.session) + ":" + std::to_string(ref.pass);
    return logs > 1 ? name + " of log " + std::to_string(ref.log) : name;
}

void noteMisfits(const Problem& problem, const Estimated& found, std::size_t logs, LearnReport& out) {
    constexpr double clear = 3.0; // noises
    for (const Group& group : found.groups) {
        if (isNoted(group.sensor) || group.readings.size() < 10) continue;
        if (!(group.rms > clear * group.changes)) continue;
        out.notes.push_back(fmt::format(
            "The model does not follow the {} of pass {}{}: what is left is {:.1f} times the noise. The standard "
            "errors are widened accordingly.",
            quantityInfo(quantityOf(group.sensor)).name, passName(problem.day.pieces[group.piece].ref, logs),
            group.driven ? "" : " while it stands", group.rms / group.changes));
    }
}

// Forces that are missed by far in most passes, or a value that can only follow by leaving what was entered far behind:
// the log is another car's, or the plan is entered wrong.
void noteStranger(const Problem& problem, const Estimated& found, LearnReport& out) {
    constexpr double far = 10.0, tooFar = 6.0; // noises, standard uncertainties
    constexpr double farInAll = 5.0;           // noises, root mean square over channels and passes
    std::size_t all = 0, missed = 0;
    double squares = 0.0;
    for (const Group& group : found.groups) {
        if (isHeat(group.sensor) || !group.driven || group.readings.size() < 10) continue;
        ++all;
        squares += std::pow(group.rms / group.changes, 2);
        if (group.rms > far * group.changes) ++missed;
    }
    std::size_t farthest = 0;
    const auto away = [&](std::size_t j) {
        return std::abs(found.x[j] - problem.unknowns[j].mean) / problem.unknowns[j].deviation;
    };
    for (std::size_t j = 1; j < problem.carried; ++j)
        if (away(j) > away(farthest)) farthest = j;
    const bool missedInAll = squares > farInAll * farInAll * static_cast<double>(all) && away(farthest) > 3.0;
    const bool strange = away(farthest) > tooFar;
    if (!strange && !missedInAll && (all == 0 || 2 * missed < all || (missed < all && away(farthest) < 3.0))) return;
    const double share = shareOfSpeedConstant(problem);
    std::string cause = "a gearing or stage entered wrong, another pack, or another vehicle";
    if (share > 0.0 && (share < 0.65 || share > mostOfSpeedConstant))
        cause = "the motor turns at other speeds a volt than motor.kv_rpm_per_V allows: another motor, pole count or "
                "timing";
    else if (strange)
        cause = usualCause(problem.unknowns[farthest].field->key());
    out.belongs = false;
    out.notes.insert(out.notes.begin(),
                     "These logs do not belong to this plan, by how far it misses them; likely " + cause + ".");
}

} // namespace

void reportResiduals(const Problem& problem, const Estimated& found, std::span<const LearnLog> logs, LearnReport& out) {
    const std::vector<Where> places = placesOf(problem, logs);
    std::map<Quantity, LearnedResidual> rows;
    std::map<Quantity, double> squares, noises, effective;
    for (const Group& group : found.groups) {
        const Quantity quantity = quantityOf(group.sensor);
        effective[quantity] += group.effective;
        noises[quantity] += group.noise * group.noise * static_cast<double>(group.readings.size());
    }
    std::map<std::pair<const Piece*, Sensor>, LearnTrace> traces;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto& [piece, reading, time] = places[i];
        const Quantity quantity = quantityOf(reading->sensor);
        const double toSi = isHeat(reading->sensor) ? zeroCelsius_K : 0.0;
        const double left = reading->value - found.prediction.values[i];
        LearnTrace& trace = traces[{piece, reading->sensor}];
        trace.pass = piece->ref;
        trace.quantity = quantity;
        trace.time.push_back(time);
        trace.measured.push_back(reading->value + toSi);
        trace.model.push_back(found.prediction.values[i] + toSi);
        trace.used.push_back(reading->used ? 1 : 0);
        if (!reading->used) continue;
        LearnedResidual& row = rows[quantity];
        row.quantity = quantity;
        ++row.count;
        squares[quantity] += left * left;
        if (row.count == 1 || std::abs(left) > std::abs(row.worstResidual))
            row.worstPass = piece->ref, row.worstAt = time, row.worstResidual = left;
    }
    for (auto& [quantity, row] : rows) {
        const auto n = static_cast<double>(row.count);
        row.rms = std::sqrt(squares[quantity] / n);
        row.noise = std::sqrt(noises[quantity] / n);
        row.effectiveCount = effective[quantity];
        out.residuals.push_back(row);
    }
    for (auto& [key, trace] : traces)
        if (!isNoted(key.second)) out.traces.push_back(std::move(trace));
    noteMisfits(problem, found, logs.size(), out);
    noteStranger(problem, found, out);
}

} // namespace rw::learning
