#include "core/error.h"
#include "core/json/json_tree.h"
#include "storage/allowed.h"
#include "storage/log_store.h"

#include <algorithm>
#include <numeric>
#include <unordered_map>

namespace rw::store {

namespace {

using NotedByPass = std::unordered_map<std::int64_t, std::vector<SpeedNote>>;

NotedByPass notedByPass(Connection& connection) {
    Query all(connection, "SELECT pass, kind, speed_mps, uncertainty_mps FROM pass_noted ORDER BY pass, kind");
    NotedByPass out;
    while (all.step())
        out[all.whole(0)].push_back(
            {all.whole(1) == 0 ? SpeedKind::ZoneMean : SpeedKind::Peak, all.real(2), all.real(3)});
    return out;
}

// What passes belong to, read once for a whole list: joining it to every one of ten thousand rows costs several times
// as much.
struct Surroundings {
    struct OfSetup {
        Id id{ItemKind::Setup, 0}, vehicle{ItemKind::Vehicle, 0}, pack{ItemKind::Pack, 0}, motor{ItemKind::Motor, 0};
        int revision = 0;
    };
    struct OfLog {
        Id id{ItemKind::Log, 0};
        std::optional<Row> setup;
        std::optional<Id> outing, venue;
        std::string when;
        bool retired = false;
    };
    std::unordered_map<Row, OfSetup> setups;
    std::unordered_map<Row, OfLog> logs;
    std::unordered_map<Row, Id> packs;
    NotedByPass noted;

    explicit Surroundings(Connection& connection) {
        Query everySetup(connection,
                         R"(SELECT u.item, i.number, v.number, p.number, m.number, u.revision FROM setup u JOIN item i
  ON i.id = u.item JOIN item v ON v.id = u.vehicle JOIN item p ON p.id = u.pack JOIN item m ON m.id = u.motor)");
        while (everySetup.step()) {
            OfSetup& of = setups[everySetup.whole(0)];
            Row itself = 0;
            everySetup.take(itself, of.id.number, of.vehicle.number, of.pack.number, of.motor.number, of.revision);
        }
        Query everyLog(
            connection,
            R"(SELECT l.item, i.number, l.setup, oi.number, ni.number, coalesce(nullif(o.date, ''), nullif(l.started,
  ''), i.created), i.retired FROM log l JOIN item i ON i.id = l.item LEFT JOIN outing o ON o.item = l.outing LEFT JOIN
  item oi ON oi.id = o.item LEFT JOIN item ni ON ni.id = o.venue)");
        while (everyLog.step()) {
            OfLog& of = logs[everyLog.whole(0)];
            Row itself = 0;
            everyLog.take(itself, of.id.number, of.setup, Query::Reference{of.outing, ItemKind::Outing},
                          Query::Reference{of.venue, ItemKind::Venue}, of.when, of.retired);
        }
        Query everyPack(connection, "SELECT id, number FROM item WHERE kind = 'pack'");
        while (everyPack.step())
            packs.emplace(everyPack.whole(0), Id{ItemKind::Pack, everyPack.whole(1)});
        noted = notedByPass(connection);
    }
};

const std::string columns = R"(
SELECT p.id, p.log, p.session, s.place, p.place, s.setup, s.pack, p.start_s, p.end_s, p.complete, p.direction, p.notes,
  p.version, p.zone_speed_mps, p.speed_peak_mps, p.wheel_peak_mps, p.peak_A, p.min_cell_V, p.motor_max_C,
  p.pack_start_C, p.pack_ohm, p.pack_ohm_se, p.charge_Ah FROM pass p JOIN session s ON s.id = p.session)";

// A pass's setup is its session's, else its log's; its pack the session's, else the setup's.
StoredPass passFrom(const Query& row, const Surroundings& around) {
    StoredPass out;
    Row ofLog = 0;
    std::optional<Row> setup, ownPack;
    int direction = 0;
    row.take(out.id.number, ofLog, out.session.number, out.sessionIndex, out.index, setup, ownPack, out.start_s,
             out.end_s, out.complete, direction, out.notes, out.version, out.zoneSpeed_mps, out.peakSpeed_mps,
             out.peakWheelSpeed_mps, out.peakCurrent_A, out.minCell_V, out.motorMax_C, out.packStart_C, out.pack_ohm,
             out.pack_ohmSe, out.charge_Ah);
    out.direction = static_cast<Direction>(std::clamp(direction, 0, 2));
    if (const auto log = around.logs.find(ofLog); log != around.logs.end()) {
        out.log = log->second.id, out.outing = log->second.outing, out.venue = log->second.venue,
        out.when = log->second.when;
        if (!setup) setup = log->second.setup;
    }
    if (const auto found = setup ? around.setups.find(*setup) : around.setups.end(); found != around.setups.end()) {
        const Surroundings::OfSetup& of = found->second;
        out.setup = of.id, out.vehicle = of.vehicle, out.pack = of.pack, out.motor = of.motor,
        out.revision = of.revision;
    }
    if (ownPack)
        if (const auto found = around.packs.find(*ownPack); found != around.packs.end()) out.pack = found->second;
    if (const auto found = around.noted.find(out.id.number); found != around.noted.end()) out.noted = found->second;
    return out;
}

bool fits(const StoredPass& pass, const PassFilter& f) {
    const auto other = [](const std::optional<Id>& wanted, const std::optional<Id>& is) {
        return wanted && wanted != is;
    };
    if (other(f.vehicle, pass.vehicle) || other(f.setup, pass.setup) || other(f.pack, pass.pack) ||
        other(f.motor, pass.motor) || other(f.outing, pass.outing) || other(f.venue, pass.venue) ||
        (f.completeOnly && !pass.complete))
        return false;
    const auto speed = bestSpeed(pass);
    if ((f.speedFrom_mps && !(speed && speed->mps >= *f.speedFrom_mps)) ||
        (f.speedTo_mps && !(speed && speed->mps <= *f.speedTo_mps)))
        return false;
    // "to" of a day takes all of that day in.
    return (f.from.empty() || pass.when >= f.from) &&
           (f.to.empty() || std::string_view(pass.when).substr(0, f.to.size()) <= f.to);
}

bool before(const StoredPass& a, const StoredPass& b, PassFilter::Order order) {
    if (order == PassFilter::Order::Fastest) {
        const auto fast = [](const StoredPass& pass) {
            return bestSpeed(pass).value_or(BestSpeed{-1.0, SpeedKind::PeakWheel}).mps;
        };
        return fast(a) != fast(b) ? fast(a) > fast(b) : a.id < b.id;
    }
    const int dates = a.when.compare(b.when);
    if (order == PassFilter::Order::Oldest) return dates != 0 ? dates < 0 : a.id < b.id;
    return dates != 0 ? dates > 0 : b.id < a.id;
}

void requireThere(Connection& connection, const PassFilter& f) {
    for (const auto& [id, kind] : {std::pair{f.vehicle, ItemKind::Vehicle},
                                   {f.setup, ItemKind::Setup},
                                   {f.pack, ItemKind::Pack},
                                   {f.motor, ItemKind::Motor},
                                   {f.outing, ItemKind::Outing},
                                   {f.venue, ItemKind::Venue}})
        static_cast<void>(rowOf(connection, id, kind));
}

std::vector<std::pair<std::int64_t, SessionRecord>> sessionRows(Connection& connection, Id log, bool resolved) {
    Query all(
        connection,
        R"(SELECT s.id, s.start_row, s.end_row, s.start_line, s.end_line, s.start_s, s.duration_s, s.cells, s.resting_V,
  (SELECT number FROM item WHERE id = CASE WHEN ?2 THEN coalesce(s.setup, l.setup) ELSE s.setup END), (SELECT number
  FROM item WHERE id = CASE WHEN ?2 THEN coalesce(s.pack, u.pack) ELSE s.pack END) FROM session s JOIN log l ON l.item
  = s.log LEFT JOIN setup u ON u.item = coalesce(s.setup, l.setup) WHERE s.log = ?1 ORDER BY s.place)",
        rowOf(connection, log, ItemKind::Log), resolved);
    std::vector<std::pair<std::int64_t, SessionRecord>> out;
    while (all.step()) {
        SessionRecord record{all.whole(1), all.whole(2), all.whole(3),     all.whole(4), all.real(5),
                             all.real(6),  {},           all.maybeReal(8), {},           {}};
        if (const auto cells = all.maybeWhole(7)) record.cells = static_cast<int>(*cells);
        record.setup = all.maybeId(9, ItemKind::Setup);
        record.pack = all.maybeId(10, ItemKind::Pack);
        out.emplace_back(all.whole(0), record);
    }
    return out;
}

} // namespace

std::vector<StoredPass> passes(Connection& connection, const PassFilter& f) {
    requireThere(connection, f);
    const Surroundings around(connection);
    Query all(connection, columns + " WHERE ?1 IS NULL OR p.log = ?1", rowOf(connection, f.log, ItemKind::Log));
    std::vector<StoredPass> found;
    while (all.step()) {
        const auto log = around.logs.find(all.whole(1));
        if (log != around.logs.end() && log->second.retired) continue;
        StoredPass pass = passFrom(all, around);
        if (fits(pass, f)) found.push_back(std::move(pass));
    }
    std::vector<std::size_t> order(found.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(order, [&](std::size_t a, std::size_t b) { return before(found[a], found[b], f.order); });
    std::vector<StoredPass> out;
    const auto first = static_cast<std::size_t>(std::max(f.offset, 0));
    const auto most = static_cast<std::size_t>(std::max(f.limit, 0));
    for (std::size_t i = first; i < order.size() && out.size() < most; ++i)
        out.push_back(std::move(found[order[i]]));
    return out;
}

StoredPass pass(Connection& connection, Id id) {
    Query one(connection, columns + " WHERE p.id = ?", id.number);
    if (id.kind != ItemKind::Pass || !one.step()) throw notInGarage(id);
    return passFrom(one, Surroundings(connection));
}

Figures figures(Connection& connection, Id id) {
    Query one(connection, "SELECT json FROM pass_figures WHERE pass = ?", id.number);
    if (id.kind != ItemKind::Pass || !one.step()) throw notInGarage(id);
    const std::string text = one.text(0);
    Figures out;
    for (const auto& [key, value] : parseJson({text, toString(id)}).members)
        if (value.type == JsonValue::Type::Number) out.emplace(key, value.number);
    return out;
}

void notePass(Connection& connection, Id id, Direction direction, const std::string& notes) {
    allowText("notes", notes, longestNotes);
    static_cast<void>(pass(connection, id));
    const int version = nextChange(connection);
    connection.run("UPDATE pass SET direction = ?, notes = ?, version = ? WHERE id = ?", static_cast<int>(direction),
                   notes, version, id.number);
}

void noteSpeeds(Connection& connection, Id id, const std::vector<SpeedNote>& noted) {
    static_cast<void>(pass(connection, id));
    allowNoted(noted);
    putNoted(connection, id.number, noted);
    const int version = nextChange(connection);
    connection.run("UPDATE pass SET version = ? WHERE id = ?", version, id.number);
}

std::vector<PassRecord> passRecords(Connection& connection, Id log) {
    Query all(connection,
              R"(SELECT p.id, s.place, p.start_s, p.end_s, p.complete, p.direction, p.notes FROM pass p JOIN session s
  ON s.id = p.session WHERE p.log = ? ORDER BY p.place)",
              rowOf(connection, log, ItemKind::Log));
    NotedByPass noted = notedByPass(connection);
    std::vector<PassRecord> out;
    while (all.step())
        out.push_back({static_cast<int>(all.whole(1)), all.real(2), all.real(3), all.whole(4) != 0,
                       figures(connection, {ItemKind::Pass, all.whole(0)}),
                       static_cast<Direction>(std::clamp<std::int64_t>(all.whole(5), 0, 2)), all.text(6),
                       std::move(noted[all.whole(0)])});
    return out;
}

std::vector<StoredSession> sessions(Connection& connection, Id log) {
    std::vector<StoredSession> out;
    for (auto& [row, record] : sessionRows(connection, log, true))
        out.push_back({{ItemKind::Session, row}, log, static_cast<int>(out.size()), record});
    return out;
}

std::vector<SessionRecord> ownSessions(Connection& connection, Id log) {
    std::vector<SessionRecord> out;
    for (auto& [row, record] : sessionRows(connection, log, false))
        out.push_back(record);
    return out;
}

void setSession(Connection& connection, Id id, const std::optional<Id>& setup, const std::optional<Id>& pack) {
    Query find(connection, "SELECT log FROM session WHERE id = ?", id.number);
    if (id.kind != ItemKind::Session || !find.step()) throw notInGarage(id);
    connection.run("UPDATE session SET setup = ?, pack = ? WHERE id = ?", rowOf(connection, setup, ItemKind::Setup),
                   rowOf(connection, pack, ItemKind::Pack), id.number);
    touch(connection, find.whole(0));
}

} // namespace rw::store
