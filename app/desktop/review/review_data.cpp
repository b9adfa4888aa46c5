#include "app/desktop/review/review_data.h"

#include "core/error.h"
#include "core/review/compare.h"
#include "core/stopped.h"
#include "storage/own_limits.h"

#include <algorithm>
#include <array>
#include <limits>

namespace rw {

namespace {

// Lanes from top to bottom: what it did, what it was asked, what it took, what it cost.
constexpr std::array laneOrder{Quantity::Speed,
                               Quantity::MotorSpeed,
                               Quantity::Throttle,
                               Quantity::Output,
                               Quantity::PackVoltage,
                               Quantity::PackCurrent,
                               Quantity::MotorCurrent,
                               Quantity::Power,
                               Quantity::RippleVoltage,
                               Quantity::MotorTemperature,
                               Quantity::ControllerTemperature,
                               Quantity::PackTemperature,
                               Quantity::ReceiverVoltage,
                               Quantity::Charge,
                               Quantity::Brake,
                               Quantity::AccelerationX,
                               Quantity::AccelerationY,
                               Quantity::AccelerationZ,
                               Quantity::Elevation};

// How far each session moves to the left so that no gap before one is longer than a small share of what was logged.
std::vector<double> sessionShifts(const LogReview& review) {
    constexpr double gapShare = 0.04;
    constexpr double leastGap = 5.0; // s
    double logged = 0.0;
    for (const ReviewSession& session : review.sessions)
        logged += session.duration;
    const double longest = std::max(leastGap, gapShare * logged);
    std::vector<double> shifts;
    double shift = 0.0;
    for (std::size_t i = 0; i < review.sessions.size(); ++i) {
        if (i > 0) {
            const ReviewSession& before = review.sessions[i - 1];
            shift += std::max(0.0, review.sessions[i].logStart - before.logStart - before.duration - longest);
        }
        shifts.push_back(shift);
    }
    return shifts;
}

// Lanes need times that do not fall; should a log's stamps do so within a session, the later row is held back.
void makeAxis(ReviewData& data) {
    const std::span<const double> axis = reviewTime(*data.log, *data.review);
    const std::vector<ReviewSession>& sessions = data.review->sessions;
    const std::vector<double> shifts = sessionShifts(*data.review);
    data.sessionStart.clear();
    for (std::size_t i = 0; i < sessions.size(); ++i)
        data.sessionStart.push_back(sessions[i].logStart - shifts[i]);
    struct Owner {
        std::shared_ptr<const Log> log;
        std::shared_ptr<const LogReview> review;
        std::vector<double> own;
    };
    auto owner = std::make_shared<Owner>(Owner{data.log, data.review, {}});
    const bool shifted = !shifts.empty() && shifts.back() > 0.0;
    if (!shifted && std::is_sorted(axis.begin(), axis.end())) {
        data.time = std::make_shared<const LaneTime>(owner, axis);
        return;
    }
    owner->own.assign(axis.begin(), axis.end());
    std::size_t session = 0;
    double latest = -std::numeric_limits<double>::infinity();
    for (std::size_t row = 0; row < owner->own.size(); ++row) {
        while (session + 1 < sessions.size() && row >= sessions[session + 1].startRow)
            ++session;
        if (shifted) owner->own[row] -= shifts[session];
        latest = owner->own[row] = std::max(owner->own[row], latest);
    }
    data.time = std::make_shared<const LaneTime>(owner, owner->own);
}

std::vector<LaneSource> laneColumns(const ReviewData& data, const ReviewData* before, const std::stop_token& stop) {
    std::vector<LaneSource> columns;
    for (const Quantity quantity : laneOrder) {
        throwIfStopped(stop);
        const std::vector<double>& ground = data.review->groundSpeed;
        if (quantity == Quantity::Speed && ground.size() == data.log->rows() && !ground.empty()) {
            columns.push_back({quantity, std::make_shared<const LaneColumn>(data.review, ground)});
            continue;
        }
        const Channel& channel = (*data.log)[quantity];
        if (!channel.present()) continue;
        const auto same = [quantity](const LaneSource& source) { return source.quantity == quantity; };
        if (before != nullptr && quantity != Quantity::Speed) {
            const auto kept = std::find_if(before->columns.begin(), before->columns.end(), same);
            if (kept != before->columns.end()) {
                columns.push_back(*kept);
                continue;
            }
        }
        columns.push_back({quantity, std::make_shared<const LaneColumn>(data.log, channel.values)});
    }
    return columns;
}

// A season of dashed lines would tell nobody anything: that of as many passes as a day has is enough.
std::vector<PlanLine> predictions(const ReviewData& data, const std::stop_token& stop) {
    constexpr std::size_t mostPasses = 100;
    std::vector<PlanLine> lines;
    if (!data.options.plan) return lines;
    std::vector<Quantity> quantities;
    for (const LaneSource& source : data.columns)
        quantities.push_back(source.quantity);
    for (std::size_t pass = 0; pass < std::min(mostPasses, data.review->passes.size()); ++pass) {
        throwIfStopped(stop);
        const ReviewPass& driven = data.review->passes[pass];
        if (!data.review->sessions[driven.session].planFits) continue;
        std::vector<PassTrace> traces = planTraces(plannedPass(data.options.foretelling(), driven), quantities);
        for (std::size_t i = 0; i < traces.size(); ++i)
            if (!traces[i].value.empty()) lines.push_back({quantities[i], pass, std::move(traces[i])});
    }
    return lines;
}

// One Garage object a thread: the window's own is not touched.
Garage readingGarage(const std::string& path) {
    GarageOptions options;
    options.readOnly = true;
    return Garage::open(path, options);
}

// Without what the owner said of the log itself.
LogContext bare(LogContext context) {
    context.said = {};
    context.edits = {};
    context.track.reset();
    return context;
}

ReviewOptions optionsOf(ReviewOptions known, const LogContext& context) {
    if (known.plan) putLimits(context.said.limits, "own limits", *known.plan);
    putThresholds(context.said.limits, known.thresholds);
    known.cells = context.said.cells;
    if (context.said.cutoffCell) known.cutoffCell = context.said.cutoffCell;
    known.trackNudge = context.said.trackNudge;
    known.track = context.track;
    known.edits = context.edits;
    return known;
}

// What garage and bench know. The bench's plan may be edited: it wins over that of its setup.
LogJudging judgingOf(const Judging& judging) {
    LogJudging out;
    if (!judging.garage.empty()) {
        Garage garage = readingGarage(judging.garage);
        LogContext context = bare(judging.context);
        try {
            out = logJudging(garage, context);
        } catch (const GarageError& error) {
            if (error.kind() != GarageError::Kind::NotFound) throw;
            context.setup.reset(); // of a setup that is gone the garage knows nothing
            out = logJudging(garage, context);
        }
        if (judging.bench) judgeByPlan(garage, context, *judging.bench, out);
    } else if (judging.bench) {
        out.review.plan = judging.bench;
        out.import.polePairs = judging.bench->motor.poles / 2;
    }
    const LogSaid& said = judging.context.said;
    if (said.polePairs) out.import.polePairs = said.polePairs;
    if (said.rate_Hz) out.import.rate_Hz = said.rate_Hz;
    return out;
}

void finish(ReviewData& data, const ReviewData* before, const std::stop_token& stop) {
    makeAxis(data);
    data.columns = laneColumns(data, before, stop);
    data.predicted = predictions(data, stop);
}

} // namespace

double ReviewData::axisTime(std::optional<std::size_t> session, double secondsInSession) const {
    if (session && *session < sessionStart.size()) return sessionStart[*session] + secondsInSession;
    // A moment of the log-wide axis: counted from the session it lies in or after.
    double place = secondsInSession;
    for (std::size_t i = 0; i < sessionStart.size(); ++i) {
        const double start = review->sessions[i].logStart;
        if (secondsInSession >= start) place = sessionStart[i] + secondsInSession - start;
    }
    return place;
}

Range ReviewData::spanOfSession(std::size_t session) const {
    return {sessionStart[session], sessionStart[session] + review->sessions[session].duration};
}

Range ReviewData::spanOfPass(std::size_t pass) const {
    const ReviewPass& p = review->passes[pass];
    return {axisTime(p.session, p.start), axisTime(p.session, p.end)};
}

Range ReviewData::spanOfFinding(const Finding& finding) const {
    return {axisTime(finding.session, finding.from), axisTime(finding.session, finding.to)};
}

Range ReviewData::span() const {
    const std::size_t rows = time->index.rows();
    return rows == 0 ? Range{0.0, 1.0} : Range{time->index[0], time->index[rows - 1]};
}

std::uint32_t ReviewData::lineAt(double axisMoment) const {
    const std::size_t rows = log->rows();
    if (rows == 0) return 0;
    return log->line[std::min(time->index.lowerBound(axisMoment), rows - 1)];
}

ReviewOptions knownOf(Garage& garage, const LogContext& context) { return logJudging(garage, bare(context)).review; }

LogBytes::LogBytes(const LogSource& source, Garage* garage) {
    if (source.kept)
        kept_ =
            garage != nullptr ? garage->logBytes(*source.kept) : readingGarage(source.garage).logBytes(*source.kept);
    else
        file_ = std::make_unique<InputFile>(source.path, static_cast<std::size_t>(largestLog));
}

void takeNotes(ReviewData& data, Garage& garage) {
    data.digest = garage.log(*data.source.kept).sha256;
    data.noted.assign(data.review->passes.size(), {});
    PassFilter own;
    own.log = *data.source.kept;
    for (const StoredPass& pass : garage.passes(own))
        if (const auto at = static_cast<std::size_t>(pass.index); at < data.noted.size())
            data.noted[at] = {pass.id, pass.noted, pass.direction, pass.notes};
}

ReviewData reviewOf(const LogSource& source, std::shared_ptr<const JudgedLog> judged, const LogContext& context,
                    const ReviewOptions& known, std::stop_token stop) {
    ReviewData data;
    data.source = source;
    data.context = context;
    data.known = known;
    data.import = judged->import;
    data.columnMap = judged->columnMap;
    data.options = optionsOf(known, context);
    data.log = {judged, &judged->log};
    data.review = {judged, &judged->review};
    finish(data, nullptr, stop);
    return data;
}

ReviewData readReview(const LogSource& source, const Judging& asked, std::stop_token stop,
                      const std::function<void(double)>& progress) {
    constexpr double readingShare = 0.95; // of the whole work, for the progress that is shown
    Judging judging = asked;
    LogJudging how;
    ReviewOptions known;
    std::optional<Garage> garage; // that the log is kept in
    if (source.kept) {
        garage.emplace(readingGarage(source.garage));
        judging.context = logContext(*garage, *source.kept);
        how = logJudging(*garage, judging.context);
        known = knownOf(*garage, judging.context);
    } else {
        how = judgingOf(judging);
        known = how.review;
        how.review = optionsOf(known, judging.context);
    }
    if (judging.import) { // what the owner overruled just now; pole pairs that he did not name stay the setup's
        const std::optional<int> polePairs = how.import.polePairs;
        how.import = *judging.import;
        if (!how.import.polePairs) how.import.polePairs = polePairs;
        how.maps.clear();
        how.mapId.reset();
        judging.context.said = asked.context.said;
    }
    const LogBytes bytes(source, garage ? &*garage : nullptr);
    auto judged = std::make_shared<const JudgedLog>(
        readAndJudge(bytes.view(), source.path, how, stop, [&](double share) { progress(readingShare * share); }));
    ReviewData data = reviewOf(source, std::move(judged), judging.context, known, stop);
    if (garage) takeNotes(data, *garage);
    progress(1.0);
    return data;
}

ReviewData reviewAgain(const ReviewData& base, const Judging& judging, std::stop_token stop) {
    ReviewData data;
    data.id = base.id;
    data.source = base.source;
    data.context = judging.context;
    data.import = base.import;
    data.columnMap = base.columnMap;
    data.digest = base.digest;
    data.noted = base.noted;
    const bool sameParts = judging.context.setup == base.context.setup &&
                           judging.context.outing == base.context.outing && judging.context.packs == base.context.packs;
    const bool samePlan = data.source.kept || !judging.bench || judging.bench == base.known.plan;
    data.known = sameParts && samePlan ? base.known
                                       : judgingOf({judging.garage, bare(judging.context), judging.bench, {}}).review;
    if (!data.source.kept && !judging.bench) data.known.plan.reset(), data.known.learned.reset();
    data.options = optionsOf(data.known, data.context);
    data.log = base.log;
    data.review = std::make_shared<const LogReview>(reviewLog(*data.log, data.options, stop));
    if (!data.noted.empty()) data.noted.resize(data.review->passes.size());
    finish(data, &base, stop);
    return data;
}

} // namespace rw
