#include "storage/log_judging.h"

#include "core/error.h"
#include "core/log/import_refusal.h"
#include "core/stopped.h"
#include "core/units.h"
#include "storage/evidence.h"
#include "storage/log_record.h"
#include "storage/own_limits.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <set>

namespace rw {

namespace {

std::optional<double> kelvin(std::optional<double> celsius) {
    return celsius ? std::optional(kelvinFromCelsius(*celsius)) : std::nullopt;
}

// What lies before a log: everything of other logs that is not later. Times are told to the day or to the second; on
// the same day the log that was added first is the earlier one.
class Before {
public:
    Before(Garage& garage, const LogContext& context)
        : log_(context.log) {
        if (context.outing) when_ = garage.outing(*context.outing).date;
        if (when_.empty()) when_ = context.when;
    }
    [[nodiscard]] bool operator()(Id log, std::string_view when) const {
        if (log == log_) return false;
        const std::size_t known = std::min(when.size(), when_.size());
        const int order = when.substr(0, known).compare(std::string_view(when_).substr(0, known));
        return order != 0 ? order < 0 : !log_ || log < *log_;
    }

private:
    std::optional<Id> log_;
    std::string when_;
};

std::vector<HistoryValue> packHistory(Garage& garage, Id pack, const Before& before) {
    PassFilter carried;
    carried.pack = pack;
    carried.order = PassFilter::Order::Oldest;
    std::vector<HistoryValue> out;
    for (const StoredPass& pass : garage.passes(carried))
        if (pass.pack_ohm && before(pass.log, pass.when)) out.push_back({*pass.pack_ohm, kelvin(pass.packStart_C), {}});
    return out;
}

// Readings compare where the motor is the same and what else turns rpm per volt at like load is too.
bool turnsAlike(const Setup& a, const Setup& b) {
    return a.motor == b.motor &&
           std::ranges::all_of(std::array{"motor.timing_deg", "controller.endpoint"},
                               [&](const char* key) { return numberOf(a.values, key) == numberOf(b.values, key); });
}

std::vector<HistoryValue> motorHistory(Garage& garage, const Setup& setup, const Before& before) {
    std::set<Id> alike;
    for (const Setup& other : garage.setups({}, true))
        if (turnsAlike(setup, other)) alike.insert(other.id);
    std::vector<HistoryValue> out;
    for (const MotorPoint& point : garage.motorHistory(setup.motor))
        if (point.rpmPerVolt && point.setup && alike.contains(*point.setup) && before(point.log, point.when))
            out.push_back({*point.rpmPerVolt, kelvin(point.start_C), point.fullOutput_A});
    return out;
}

void addHistory(Garage& garage, const Setup& setup, const LogContext& context, ReviewOptions& options) {
    const Before before(garage, context);
    options.packHistory = packHistory(garage, setup.pack, before);
    options.rpmPerVoltHistory = motorHistory(garage, setup, before);
    for (const std::optional<Id>& pack : context.packs)
        options.sessionPackHistory.push_back(pack && *pack != setup.pack ? packHistory(garage, *pack, before)
                                                                         : options.packHistory);
}

std::optional<Id> venueOf(Garage& garage, const LogContext& context) {
    if (context.venue) return context.venue;
    if (context.outing)
        if (const auto venue = garage.outing(*context.outing).venue) return venue;
    for (const Outing& outing : garage.outings())
        if (outing.venue && std::ranges::find(outing.setups, *context.setup) != outing.setups.end())
            return outing.venue;
    return std::nullopt;
}

std::optional<double> cutoffOf(const Setup& setup) {
    const Value* const mode = valueOf(setup.values, "controller.cutoff.mode");
    const bool on = mode != nullptr && !mode->text.empty() && mode->text != "off";
    return on ? numberOf(setup.values, "controller.cutoff.cell_V") : std::nullopt;
}

// Whether all that a fit rests on lies before the log: none of its own passes, nothing of later days.
bool restsOnEarlier(Garage& garage, const Fit& fit, const Before& before) {
    return !fit.passes.empty() && std::ranges::all_of(fit.passes, [&](Id id) {
        const StoredPass pass = garage.pass(id);
        return before(pass.log, pass.when);
    });
}

// The newest fit of the setup's line of revisions that still speaks of the plan's values.
void addLearned(Garage& garage, const Setup& setup, const LogContext& context, ReviewOptions& options) {
    const Before before(garage, context);
    std::set<Id> line;
    for (const Setup& revision : garage.revisions(setup.id))
        line.insert(revision.id);
    std::vector<Fit> fits = garage.fits();
    std::ranges::sort(fits, std::greater{}, &Fit::id);
    options.learned.reset();
    options.learnedFrom.clear();
    for (const Fit& fit : fits) {
        if (!fit.setup || !line.contains(*fit.setup) || !restsOnEarlier(garage, fit, before)) continue;
        options.learned = learnedFrom(fit, *options.plan);
        if (!options.learned) continue;
        options.learnedFrom = toString(fit.id) + ", " + std::to_string(fit.passes.size()) +
                              (fit.passes.size() == 1 ? " pass" : " passes");
        return;
    }
}

void addSetup(Garage& garage, const LogContext& context, LogJudging& out) {
    const Setup setup = garage.setup(*context.setup);
    if (const auto poles = numberOf(setup.values, "motor.poles"))
        out.import.polePairs = static_cast<int>(std::lround(*poles / 2.0));
    addHistory(garage, setup, context, out.review);
    if (const auto venue = venueOf(garage, context))
        out.review.plan = garage.planInput(setup.id, *venue, context.outing);
    else
        out.review.cutoffCell = cutoffOf(setup);
    if (!out.review.plan) return;
    putLimits(context.said.limits, "own limits", *out.review.plan);
    addLearned(garage, setup, context, out.review);
}

} // namespace

std::vector<OwnMap> ownMaps(Garage& garage) {
    std::vector<OwnMap> out;
    for (const Part& part : garage.parts(ItemKind::ColumnMap)) {
        try {
            out.push_back({part.id, readColumnMap(part.document, toString(part.id))});
        } catch (const InputError&) {
            continue; // not a map of today's form: columns are matched as without it
        }
    }
    return out;
}

void judgeByPlan(Garage& garage, const LogContext& context, const PlanInput& plan, LogJudging& out) {
    out.review.plan = plan;
    putLimits(context.said.limits, "own limits", *out.review.plan);
    out.review.cutoffCell.reset();
    out.import.polePairs = plan.motor.poles / 2;
    if (context.setup) addLearned(garage, garage.setup(*context.setup), context, out.review);
}

LogContext logContext(Garage& garage, Id id) {
    const StoredLog stored = garage.log(id);
    LogContext out;
    out.setup = stored.setup, out.outing = stored.outing, out.columnMap = stored.columnMap;
    for (const StoredSession& session : garage.sessions(id))
        out.packs.push_back(session.record.pack);
    out.said = readLogSaid(stored.judging);
    out.edits = readReviewEdits(stored.edits);
    if (const std::string track = garage.logTrack(id); !track.empty()) out.track = readTrack(track);
    out.when = stored.started.empty() ? stored.created : stored.started;
    out.log = id;
    return out;
}

LogJudging logJudging(Garage& garage, const LogContext& context) {
    LogJudging out;
    if (context.setup) addSetup(garage, context, out);
    if (context.columnMap) {
        out.mapId = context.columnMap;
        out.import.map = readColumnMap(garage.part(*context.columnMap).document, toString(*context.columnMap));
    } else {
        out.maps = ownMaps(garage);
    }
    const LogSaid& said = context.said;
    if (said.polePairs) out.import.polePairs = said.polePairs;
    out.import.rate_Hz = said.rate_Hz;
    if (said.cutoffCell) out.review.cutoffCell = said.cutoffCell;
    out.review.cells = said.cells;
    putThresholds(said.limits, out.review.thresholds);
    out.review.trackNudge = said.trackNudge;
    out.review.track = context.track;
    out.review.edits = context.edits;
    return out;
}

LogJudging logJudging(Garage& garage, Id log) { return logJudging(garage, logContext(garage, log)); }

JudgedLog readAndJudge(std::string_view bytes, const std::string& fileName, const LogJudging& judging,
                       std::stop_token stop, const std::function<void(double)>& progress) {
    constexpr double importShare = 0.8; // of the whole work, for the progress that is told
    const auto told = [&](double share) {
        if (progress) progress(importShare * share);
    };
    JudgedLog out;
    out.import = judging.import;
    out.columnMap = judging.mapId;
    const auto readWithOwnMap = [&](const ImportReport& report) {
        if (out.import.map) return false;
        const auto own =
            std::ranges::find_if(judging.maps, [&](const OwnMap& known) { return mapFits(known.map, report); });
        if (own == judging.maps.end()) return false;
        out.columnMap = own->id;
        out.import.map = own->map;
        out.log = importLog(bytes, fileName, out.import, stop, told);
        return true;
    };
    try {
        out.log = importLog(bytes, fileName, out.import, stop, told);
        readWithOwnMap(out.log.report);
    } catch (const ImportRefusal& unmapped) { // its time, say, has a name that only the owner's map knows
        if (!readWithOwnMap(unmapped.survey().report)) throw;
    }
    throwIfStopped(stop);
    out.review = reviewLog(out.log, judging.review, stop);
    if (progress) progress(1.0);
    return out;
}

LogRecord logRecord(PackedLog packed, const JudgedLog& judged, const LogContext& context) {
    LogRecord out = logRecord(std::move(packed), judged.log, judged.review, context.edits);
    out.judging = writeLogSaid(context.said);
    if (context.track) out.track = writeTrack(*context.track);
    out.setup = context.setup, out.outing = context.outing, out.columnMap = judged.columnMap;
    for (std::size_t i = 0; i < std::min(context.packs.size(), out.sessions.size()); ++i)
        out.sessions[i].pack = context.packs[i];
    return out;
}

} // namespace rw
