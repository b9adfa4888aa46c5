#include "core/error.h"
#include "core/plan/json_tree.h"
#include "storage/allowed.h"
#include "storage/log_store.h"

#include <algorithm>

namespace rw::store {

namespace {

// A pass's setup is its session's, else its log's; its pack the session's, else the setup's.
constexpr const char* columns =
    "SELECT p.id, li.number, p.session, s.place, p.place, si.number, vi.number, pi.number, mi.number, oi.number, "
    "ni.number, u.revision,"
    " coalesce(nullif(o.date, ''), nullif(l.started, ''), li.created) AS at, p.start_s, p.end_s, p.complete, "
    "p.direction, p.notes,"
    " p.zone_speed_mps, p.speed_peak_mps, p.wheel_peak_mps, p.peak_A, p.min_cell_V, p.motor_max_C, p.pack_start_C, "
    "p.pack_ohm,"
    " p.pack_ohm_se, p.charge_Ah, p.version"
    " FROM pass p JOIN session s ON s.id = p.session JOIN log l ON l.item = p.log JOIN item li ON li.id = p.log"
    " LEFT JOIN setup u ON u.item = coalesce(s.setup, l.setup) LEFT JOIN item si ON si.id = u.item LEFT JOIN item vi "
    "ON vi.id = u.vehicle"
    " LEFT JOIN item pi ON pi.id = coalesce(s.pack, u.pack) LEFT JOIN item mi ON mi.id = u.motor LEFT JOIN outing o ON "
    "o.item = l.outing"
    " LEFT JOIN item oi ON oi.id = o.item LEFT JOIN item ni ON ni.id = o.venue";

std::optional<Id> maybeId(const Query& row, int column, ItemKind kind) {
    const auto number = row.maybeWhole(column);
    return number ? std::optional(Id{kind, *number}) : std::nullopt;
}

StoredPass passFrom(const Query& row) {
    StoredPass out;
    out.id.number = row.whole(0);
    out.log.number = row.whole(1);
    out.session.number = row.whole(2);
    out.sessionIndex = static_cast<int>(row.whole(3));
    out.index = static_cast<int>(row.whole(4));
    out.setup = maybeId(row, 5, ItemKind::Setup);
    out.vehicle = maybeId(row, 6, ItemKind::Vehicle);
    out.pack = maybeId(row, 7, ItemKind::Pack);
    out.motor = maybeId(row, 8, ItemKind::Motor);
    out.outing = maybeId(row, 9, ItemKind::Outing);
    out.venue = maybeId(row, 10, ItemKind::Venue);
    out.revision = static_cast<int>(row.maybeWhole(11).value_or(0));
    out.when = row.text(12);
    out.start_s = row.real(13);
    out.end_s = row.real(14);
    out.complete = row.whole(15) != 0;
    out.direction = static_cast<Direction>(std::clamp<std::int64_t>(row.whole(16), 0, 2));
    out.notes = row.text(17);
    int column = 18;
    for (std::optional<double>* const figure :
         {&out.zoneSpeed_mps, &out.peakSpeed_mps, &out.peakWheelSpeed_mps, &out.peakCurrent_A, &out.minCell_V,
          &out.motorMax_C, &out.packStart_C, &out.pack_ohm, &out.pack_ohmSe, &out.charge_Ah})
        *figure = row.maybeReal(column++);
    out.version = static_cast<int>(row.whole(28));
    return out;
}

std::string ordered(PassFilter::Order order) {
    static const std::string where =
        std::string(columns) +
        " WHERE li.retired = 0 AND (?1 IS NULL OR u.vehicle = ?1) AND (?2 IS NULL OR u.item = ?2) AND (?3 IS NULL OR "
        "coalesce(s.pack, u.pack) = ?3)"
        " AND (?4 IS NULL OR u.motor = ?4) AND (?5 IS NULL OR l.outing = ?5) AND (?6 IS NULL OR o.venue = ?6) AND (?7 "
        "IS NULL OR p.log = ?7)"
        " AND (?8 IS NULL OR coalesce(p.zone_speed_mps, p.speed_peak_mps, p.wheel_peak_mps) >= ?8)"
        " AND (?9 IS NULL OR coalesce(p.zone_speed_mps, p.speed_peak_mps, p.wheel_peak_mps) <= ?9)"
        " AND (?10 = '' OR at >= ?10) AND (?11 = '' OR substr(at, 1, length(?11)) <= ?11) AND p.complete >= ?12";
    switch (order) {
    case PassFilter::Order::Newest:
        return where + " ORDER BY at DESC, p.id DESC LIMIT ?13 OFFSET ?14";
    case PassFilter::Order::Oldest:
        return where + " ORDER BY at, p.id LIMIT ?13 OFFSET ?14";
    case PassFilter::Order::Fastest:
        break;
    }
    return where + " ORDER BY coalesce(p.zone_speed_mps, p.speed_peak_mps, p.wheel_peak_mps) DESC NULLS LAST, p.id "
                   "LIMIT ?13 OFFSET ?14";
}

} // namespace

std::vector<StoredPass> passes(Connection& connection, const PassFilter& f) {
    const std::string sql = ordered(f.order);
    Query all(connection, sql, rowOf(connection, f.vehicle, ItemKind::Vehicle),
              rowOf(connection, f.setup, ItemKind::Setup), rowOf(connection, f.pack, ItemKind::Pack),
              rowOf(connection, f.motor, ItemKind::Motor), rowOf(connection, f.outing, ItemKind::Outing),
              rowOf(connection, f.venue, ItemKind::Venue), rowOf(connection, f.log, ItemKind::Log), f.speedFrom_mps,
              f.speedTo_mps, f.from, f.to, f.completeOnly, f.limit, f.offset);
    std::vector<StoredPass> out;
    while (all.step())
        out.push_back(passFrom(all));
    return out;
}

StoredPass pass(Connection& connection, Id id) {
    static const std::string sql = std::string(columns) + " WHERE p.id = ?";
    Query one(connection, sql, id.number);
    if (id.kind != ItemKind::Pass || !one.step())
        throw GarageError(GarageError::Kind::NotFound, toString(id) + " is not in the garage");
    return passFrom(one);
}

Figures figures(Connection& connection, Id id) {
    Query one(connection, "SELECT json FROM pass_figures WHERE pass = ?", id.number);
    if (id.kind != ItemKind::Pass || !one.step())
        throw GarageError(GarageError::Kind::NotFound, toString(id) + " is not in the garage");
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
    Query(connection, "UPDATE pass SET direction = ?, notes = ?, version = ? WHERE id = ?", static_cast<int>(direction),
          notes, version, id.number)
        .run();
}

std::vector<PassRecord> passRecords(Connection& connection, Id log) {
    Query all(connection,
              "SELECT p.id, s.place, p.start_s, p.end_s, p.complete, p.direction, p.notes FROM pass p JOIN session s "
              "ON s.id = p.session"
              " WHERE p.log = ? ORDER BY p.place",
              rowOf(connection, log, ItemKind::Log));
    std::vector<PassRecord> out;
    while (all.step())
        out.push_back({static_cast<int>(all.whole(1)), all.real(2), all.real(3), all.whole(4) != 0,
                       figures(connection, {ItemKind::Pass, all.whole(0)}),
                       static_cast<Direction>(std::clamp<std::int64_t>(all.whole(5), 0, 2)), all.text(6)});
    return out;
}

namespace {

std::vector<std::pair<std::int64_t, SessionRecord>> sessionRows(Connection& connection, Id log, bool resolved) {
    Query all(
        connection,
        "SELECT s.id, s.start_row, s.end_row, s.start_line, s.end_line, s.start_s, s.duration_s, s.cells, s.resting_V,"
        " (SELECT number FROM item WHERE id = CASE WHEN ?2 THEN coalesce(s.setup, l.setup) ELSE s.setup END),"
        " (SELECT number FROM item WHERE id = CASE WHEN ?2 THEN coalesce(s.pack, u.pack) ELSE s.pack END)"
        " FROM session s JOIN log l ON l.item = s.log LEFT JOIN setup u ON u.item = coalesce(s.setup, l.setup)"
        " WHERE s.log = ?1 ORDER BY s.place",
        rowOf(connection, log, ItemKind::Log), resolved);
    std::vector<std::pair<std::int64_t, SessionRecord>> out;
    while (all.step()) {
        SessionRecord record{all.whole(1), all.whole(2), all.whole(3),     all.whole(4), all.real(5),
                             all.real(6),  {},           all.maybeReal(8), {},           {}};
        if (const auto cells = all.maybeWhole(7)) record.cells = static_cast<int>(*cells);
        record.setup = maybeId(all, 9, ItemKind::Setup);
        record.pack = maybeId(all, 10, ItemKind::Pack);
        out.emplace_back(all.whole(0), record);
    }
    return out;
}

} // namespace

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
    if (id.kind != ItemKind::Session || !find.step())
        throw GarageError(GarageError::Kind::NotFound, toString(id) + " is not in the garage");
    Query(connection, "UPDATE session SET setup = ?, pack = ? WHERE id = ?", rowOf(connection, setup, ItemKind::Setup),
          rowOf(connection, pack, ItemKind::Pack), id.number)
        .run();
    touch(connection, find.whole(0));
}

} // namespace rw::store
