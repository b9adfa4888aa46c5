#include "app/desktop/review/review_data.h"

#include "core/error.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <limits>
#include <sstream>

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

void throwIfStopped(const std::stop_token& stop) {
    if (stop.stop_requested()) throw Stopped{};
}

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

std::vector<PlanLine> predictions(const ReviewData& data, const std::stop_token& stop) {
    std::vector<PlanLine> lines;
    if (!data.options.plan) return lines;
    for (const LaneSource& source : data.columns) {
        throwIfStopped(stop);
        PassTrace trace = planTrace(*data.options.plan, source.quantity);
        if (!trace.value.empty()) lines.push_back({source.quantity, std::move(trace)});
    }
    return lines;
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

std::string readBytes(const LogSource& source) {
    if (source.kept) {
        GarageOptions options;
        options.readOnly = true; // one Garage object a thread: the window's own is not touched
        return Garage::open(source.garage, options).logBytes(*source.kept);
    }
    std::ifstream file(source.path, std::ios::binary);
    if (!file) throw InputError(source.path, "cannot be opened; is it still there?");
    std::ostringstream bytes;
    bytes << file.rdbuf();
    return std::move(bytes).str();
}

ReviewData readReview(const LogSource& source, const ImportOptions& import, const ReviewOptions& options,
                      const std::vector<ColumnMap>& maps, std::stop_token stop,
                      const std::function<void(double)>& progress) {
    constexpr double importShare = 0.8; // of the whole work, for the progress that is shown
    const auto told = [&](double share) { progress(importShare * share); };
    ReviewData data;
    data.source = source;
    data.import = import;
    const std::string kept = source.kept ? readBytes(source) : std::string();
    const auto importWith = [&](const ImportOptions& how) {
        return source.kept ? importLog(kept, source.path, how, stop, told)
                           : importLogFile(source.path, how, stop, told);
    };
    auto log = std::make_shared<Log>(importWith(import));
    throwIfStopped(stop);
    if (!import.map) {
        const auto own =
            std::find_if(maps.begin(), maps.end(), [&](const ColumnMap& map) { return mapFits(map, log->report); });
        if (own != maps.end()) {
            data.import.map = *own;
            *log = importWith(data.import);
            throwIfStopped(stop);
        }
    }
    data.log = std::move(log);
    data.options = options;
    data.review = std::make_shared<const LogReview>(reviewLog(*data.log, options, stop));
    progress(0.9);
    finish(data, nullptr, stop);
    progress(1.0);
    return data;
}

ReviewData reviewAgain(const ReviewData& base, const ReviewOptions& options, std::stop_token stop) {
    ReviewData data;
    data.id = base.id;
    data.source = base.source;
    data.ownPlan = base.ownPlan;
    data.import = base.import;
    data.options = options;
    data.log = base.log;
    data.review = std::make_shared<const LogReview>(reviewLog(*data.log, options, stop));
    finish(data, &base, stop);
    return data;
}

} // namespace rw
