// What belongs to an export, in the order in which it can be read: everything stands after what it refers to.
#include "core/error.h"
#include "core/system/clock.h"
#include "storage/codec.h"
#include "storage/exchange.h"
#include "storage/item_store.h"
#include "storage/log_store.h"
#include "storage/or_null.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

namespace rw::store {

namespace {

using Json = nlohmann::ordered_json;

class Export {
public:
    explicit Export(Connection& connection)
        : connection_(connection) {}

    void add(Id id) {
        if (!isPart(id.kind)) return addByKind(id);
        if (seen_.insert(id).second) push(exchangeJson(part(connection_, id)));
    }
    void add(const std::optional<Id>& id) {
        if (id) add(*id);
    }
    void addHistory(Id vehicle);
    [[nodiscard]] Json items() { return std::move(items_); }

private:
    void addByKind(Id id);
    void addSetup(Id id);
    void addOuting(Id id);
    void addLog(Id id);
    void addPlan(Id id);
    void addFit(Id id);
    void push(Json item);

    Connection& connection_;
    std::set<Id> seen_;
    Json items_ = Json::array();
    std::size_t size_ = 0;
};

void Export::push(Json item) {
    connection_.checkStop();
    if (const auto bytes = item.find("bytes"); bytes != item.end())
        size_ += bytes->get_ref<const std::string&>().size();
    if (size_ > largestExchange)
        throw GarageError(GarageError::Kind::Refused, "the logs that belong to this are over 256 MB; export its parts "
                                                      "or outings one by one, or copy the garage with a backup");
    items_.push_back(std::move(item));
}

void Export::addByKind(Id id) {
    switch (id.kind) {
    case ItemKind::Setup:
        return addSetup(id);
    case ItemKind::Outing:
        return addOuting(id);
    case ItemKind::Log:
        return addLog(id);
    case ItemKind::Plan:
        return addPlan(id);
    case ItemKind::Fit:
        return addFit(id);
    default:
        throw InputError("id", toString(id) + " cannot be exported by itself; export its log");
    }
}

void Export::addSetup(Id id) {
    std::vector<Setup> line; // the revision and those it came from, youngest first
    for (std::optional<Id> next = id; next && !seen_.contains(*next);) {
        line.push_back(setup(connection_, *next));
        seen_.insert(*next);
        next = line.back().parent;
    }
    for (auto one = line.rbegin(); one != line.rend(); ++one) {
        if (one->first != one->id) add(one->first);
        for (const Id part : {one->vehicle, one->motor, one->controller, one->pack, one->tyre, one->pinion, one->spur})
            add(part);
        push(exchangeJson(*one));
    }
}

void Export::addOuting(Id id) {
    if (!seen_.insert(id).second) return;
    const Outing one = outing(connection_, id);
    add(one.venue);
    for (const Id setup : one.setups)
        add(setup);
    push(exchangeJson(one));
}

Json figuresJson(const Figures& figures) { return Json(std::map<std::string, double>(figures.begin(), figures.end())); }

Json sessionJson(const SessionRecord& s) {
    return {{"start_row", s.startRow},   {"end_row", s.endRow},
            {"start_line", s.startLine}, {"end_line", s.endLine},
            {"start_s", s.start_s},      {"duration_s", s.duration_s},
            {"cells", orNull(s.cells)},  {"resting_V", orNull(s.resting_V)},
            {"setup", orNull(s.setup)},  {"pack", orNull(s.pack)}};
}

Json passJson(const PassRecord& p) {
    Json out{{"session", p.session},
             {"start_s", p.start_s},
             {"end_s", p.end_s},
             {"complete", p.complete},
             {"direction", directionName(p.direction)},
             {"notes", p.notes},
             {"figures", figuresJson(p.figures)}};
    for (const SpeedNote& noted : p.noted)
        out["noted"].push_back({{"kind", speedKindName(noted.kind)},
                                {"speed_mps", noted.mps},
                                {"uncertainty_mps", noted.uncertainty_mps}});
    return out;
}

void Export::addLog(Id id) {
    if (!seen_.insert(id).second) return;
    const StoredLog one = log(connection_, id);
    const std::vector<SessionRecord> sessions = ownSessions(connection_, id);
    add(one.setup), add(one.outing), add(one.columnMap);
    for (const SessionRecord& session : sessions)
        add(session.setup), add(session.pack);
    Json out{{"id", toString(id)},
             {"kind", "log"},
             {"name", one.name},
             {"notes", one.notes},
             {"retired", one.retired},
             {"created", one.created},
             {"setup", orNull(one.setup)},
             {"outing", orNull(one.outing)},
             {"column_map", orNull(one.columnMap)},
             {"started", one.started},
             {"rows", one.rows},
             {"dialect", one.dialect},
             {"review", logReview(connection_, id)},
             {"edits", one.edits}};
    if (!one.judging.empty()) out["judging"] = one.judging;
    if (one.hasTrack) out["track"] = logTrack(connection_, id);
    out["sessions"] = Json::array();
    for (const SessionRecord& session : sessions)
        out["sessions"].push_back(sessionJson(session));
    out["passes"] = Json::array();
    for (const PassRecord& pass : passRecords(connection_, id))
        out["passes"].push_back(passJson(pass));
    const PackedLog packed = packedLog(connection_, id);
    out["sha256"] = packed.sha256;
    out["size"] = packed.size;
    out["bytes"] = base64Encode(packed.zstd);
    push(std::move(out));
}

void Export::addPlan(Id id) {
    if (!seen_.insert(id).second) return;
    const StoredPlan one = plan(connection_, id);
    add(one.setup), add(one.venue);
    push(exchangeJson(one));
}

void Export::addFit(Id id) {
    if (!seen_.insert(id).second) return;
    const Fit one = fit(connection_, id);
    const auto places = placesOf(connection_, one.passes);
    add(one.setup);
    for (const auto& [log, index] : places)
        add(log);
    add(one.accepted);
    for (const FittedValue& value : one.taken)
        add(value.item);
    push(exchangeJson(one, places));
}

void Export::addHistory(Id vehicle) {
    std::vector<Setup> mine = setups(connection_, vehicle, true);
    std::ranges::reverse(mine); // oldest first
    for (const Setup& one : mine)
        add(one.id);
    double done = 0.0;
    for (const Setup& one : mine) {
        for (const Id id : referrers(connection_, one.id))
            add(id);
        if (const auto& told = connection_.options().progress) told(++done / static_cast<double>(mine.size()));
    }
}

} // namespace

std::string exportItem(Connection& connection, Id root) {
    Export all(connection);
    all.add(root);
    if (root.kind == ItemKind::Vehicle) all.addHistory(root);
    const Json document{{"runwright", exchangeName}, {"version", exchangeVersion}, {"program", programName()},
                        {"made", utcNow()},          {"root", toString(root)},     {"items", all.items()}};
    try {
        return document.dump(1) + "\n";
    } catch (const nlohmann::json::exception&) {
        throw GarageError(GarageError::Kind::Damaged, toString(root) + ": a text in it is no longer UTF-8");
    }
}

} // namespace rw::store
