#include "storage/salvage_rows.h"

#include "storage/allowed.h"
#include "storage/codec.h"
#include "storage/garage_error.h"
#include "storage/log_store.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>

namespace rw {

namespace {

struct Reference {
    const char* kind; // of the item that is meant
    const char* rows; // statement for the row numbers that are named
};
// A part that somebody names is a part, whatever became of its row.
constexpr std::array references{
    Reference{"setup", "SELECT item FROM setup"},
    Reference{"outing", "SELECT item FROM outing UNION SELECT outing FROM outing_setup UNION SELECT outing FROM "
                        "outing_photo UNION SELECT outing FROM log WHERE outing IS NOT NULL"},
    Reference{"log", "SELECT item FROM log UNION SELECT log FROM log_bytes UNION SELECT log FROM session UNION SELECT "
                     "log FROM pass"},
    Reference{"plan", "SELECT item FROM plan"},
    Reference{"fit", "SELECT item FROM fit UNION SELECT fit FROM fit_pass"},
    Reference{"vehicle", "SELECT vehicle FROM setup"},
    Reference{"motor", "SELECT motor FROM setup"},
    Reference{"controller", "SELECT controller FROM setup"},
    Reference{"pack", "SELECT pack FROM setup UNION SELECT pack FROM session WHERE pack IS NOT NULL"},
    Reference{"tyre", "SELECT tyre FROM setup"},
    Reference{"gear", "SELECT pinion FROM setup UNION SELECT spur FROM setup"},
    Reference{"venue", "SELECT venue FROM outing WHERE venue IS NOT NULL UNION SELECT venue FROM plan WHERE venue IS "
                       "NOT NULL"}};

std::vector<std::int64_t> numbersOf(Connection& to, const std::string& sql) {
    std::vector<std::int64_t> out;
    for (Query all(to, sql); all.step();)
        out.push_back(all.whole(0));
    return out;
}

// The kind that takes all of these keys: the first that does, a setup where no part does.
std::string kindFor(const std::vector<std::string>& keys) {
    for (const ItemKind kind : {ItemKind::Vehicle, ItemKind::Tyre, ItemKind::Motor, ItemKind::Controller,
                                ItemKind::Pack, ItemKind::Gear, ItemKind::Outing, ItemKind::Venue, ItemKind::Setup})
        if (std::ranges::all_of(keys, [kind](const std::string& key) { return keyBelongsTo(kind, key); }))
            return std::string(kindName(kind));
    return std::string(kindName(ItemKind::LimitSet));
}

// A log that is whole in all but its bytes gets a sentence in their place: it can be listed, checked and exported, and
// the file can be added again, for it is no longer the same.
void giveStandInBytes(Connection& to, std::int64_t row, const std::string& was) {
    const PackedLog packed = packLog("The bytes of log " + std::to_string(row) +
                                     " were lost when the garage was damaged. SHA-256 of what was lost: " + was + "\n");
    to.run("INSERT OR REPLACE INTO log_bytes (log, zstd) VALUES (?, ?)", row, Query::Blob{packed.zstd});
    to.run("UPDATE log SET sha256 = ?, size = ?, packed_size = ? WHERE item = ?", packed.sha256, packed.size,
           static_cast<std::int64_t>(packed.zstd.size()), row);
}

// What `read` says where it throws.
template<class Read>
std::optional<std::string> complaintOf(const Read& read) {
    try {
        static_cast<void>(read());
        return std::nullopt;
    } catch (const GarageError& error) {
        return error.what();
    }
}

// Row 0: any number. Returns the row.
std::int64_t standIn(Connection& to, const std::string& kind, std::int64_t row) {
    const std::string now = to.now();
    to.run("INSERT INTO item (id, kind, number, name, description, notes, document, retired, created, changed, version)"
           " VALUES (nullif(?1, 0), ?2, (SELECT coalesce(max(number), 0) + 1 FROM item WHERE kind = ?2), ?2 || "
           "', name lost', '', 'Its own row was lost when the garage was damaged.', '', 0, ?3, ?3, 0)",
           row, kind, now);
    return row != 0 ? row : static_cast<std::int64_t>(to.database().getLastInsertRowid());
}

void standInItems(Connection& to) {
    for (const Reference& reference : references)
        for (const std::int64_t row : numbersOf(to, std::string(reference.rows) + " EXCEPT SELECT id FROM item"))
            standIn(to, reference.kind, row);
    std::map<std::int64_t, std::vector<std::string>> keys;
    for (Query values(to, "SELECT item, key FROM item_value WHERE item NOT IN (SELECT id FROM item)"); values.step();)
        keys[values.whole(0)].push_back(values.text(1));
    for (const auto& [row, names] : keys)
        standIn(to, kindFor(names), row);
}

// Logs of which only passes, sessions or bytes are left; figures of passes that are left alone.
void standInLogs(Connection& to) {
    const std::vector<std::int64_t> alone =
        numbersOf(to, "SELECT pass FROM pass_figures UNION SELECT pass FROM fit_pass "
                      "UNION SELECT pass FROM pass_noted EXCEPT SELECT id FROM pass");
    const std::int64_t lonely = alone.empty() ? 0 : standIn(to, "log", 0);
    for (const std::int64_t row : numbersOf(to, "SELECT id FROM item WHERE kind = 'log' EXCEPT SELECT item FROM log")) {
        Query kept(to, "SELECT zstd FROM log_bytes WHERE log = ?", row);
        PackedLog packed;
        bool there = kept.step();
        if (there) {
            packed.zstd = kept.text(0);
            try {
                std::tie(packed.sha256, packed.size) = zstdFingerprint(packed.zstd, largestLog);
            } catch (const std::runtime_error&) {
                there = false;
            }
        }
        if (!there) packed = packLog("The bytes of log " + std::to_string(row) + " were lost with the garage.\n");
        to.run("INSERT OR REPLACE INTO log_bytes (log, zstd) VALUES (?, ?)", row, Query::Blob{packed.zstd});
        to.run("INSERT OR IGNORE INTO log (item, sha256, size, packed_size, \"rows\", started, dialect, edits) VALUES "
               "(?, ?, ?, ?, 0, '', '', '')",
               row, packed.sha256, packed.size, static_cast<std::int64_t>(packed.zstd.size()));
    }
    to.run("INSERT INTO session (id, log, place, start_row, end_row, start_line, end_line, start_s, duration_s)"
           " SELECT session, min(log), (SELECT coalesce(max(place), -1) + 1 FROM session s WHERE s.log = p.log) + "
           "row_number() OVER (PARTITION BY min(log) ORDER BY session) - 1, 0, 0, 0, 0, 0, 0 FROM pass p WHERE "
           "session NOT IN (SELECT id FROM session) GROUP BY session");
    if (lonely == 0) return;
    to.run("INSERT INTO session (log, place, start_row, end_row, start_line, end_line, start_s, duration_s) VALUES (" +
           std::to_string(lonely) + ", 0, 0, 0, 0, 0, 0, 0)");
    const std::int64_t session = to.database().getLastInsertRowid();
    int place = 0;
    for (const std::int64_t pass : alone)
        to.run(R"(INSERT INTO pass (id, log, session, place, start_s, end_s, complete, direction, notes, version,
  zone_speed_mps, speed_peak_mps, wheel_peak_mps, peak_A, min_cell_V, motor_max_C, pack_start_C, pack_ohm, pack_ohm_se,
  charge_Ah) SELECT ?1, ?2, ?3, ?4, 0, 0, 0, 0, '', 0, j ->> 'zone_speed_mps', j ->> 'speed_peak_mps', j ->>
  'wheel_peak_mps', j ->> 'peak_A', j ->> 'min_cell_V', j ->> 'motor_max_C', j ->> 'pack_start_C', j ->> 'pack_ohm', j
  ->> 'pack_ohm_se', j ->> 'charge_Ah' FROM (SELECT coalesce((SELECT json FROM pass_figures WHERE pass = ?1), '{}') AS
  j))",
               pass, lonely, session, place++);
}

// Setups of which only name and values are left, with parts that say that they are lost.
void standInSetups(Connection& to) {
    const std::vector<std::int64_t> lost = numbersOf(
        to, "SELECT id FROM item WHERE kind = 'setup' AND id NOT IN (SELECT item FROM setup) AND id IN (SELECT item "
            "FROM item_value)");
    if (lost.empty()) return;
    std::map<std::string, std::int64_t> parts;
    for (const char* const kind : {"vehicle", "motor", "controller", "pack", "tyre", "gear"})
        parts[kind] = standIn(to, kind, 0);
    for (const std::int64_t row : lost)
        to.run(
            R"(INSERT INTO setup (item, first, revision, parent, reason, vehicle, motor, controller, pack, tyre, pinion,
  spur) VALUES (?1, ?1, 1, NULL, 'its parts were lost when the garage was damaged', ?2, ?3, ?4, ?5, ?6, ?7, ?7))",
            row, parts["vehicle"], parts["motor"], parts["controller"], parts["pack"], parts["tyre"], parts["gear"]);
}

void letGo(Connection& to) {
    for (const char* const sql :
         {"UPDATE setup SET parent = NULL WHERE parent NOT IN (SELECT item FROM setup)",
          "UPDATE OR IGNORE setup SET first = item WHERE first NOT IN (SELECT item FROM setup)",
          "INSERT INTO outing (item, date) SELECT id, '' FROM item WHERE kind = 'outing' AND id NOT IN (SELECT item "
          "FROM outing)",
          "INSERT INTO plan (item, input, result, settings, program) SELECT id, '', '', '', '' FROM item WHERE kind = "
          "'plan' AND id NOT IN (SELECT item FROM plan)",
          "INSERT INTO fit (item, parameters, covariance, report, program) SELECT id, '[]', '[]', '', '' FROM item "
          "WHERE kind = 'fit' AND id NOT IN (SELECT item FROM fit)",
          "UPDATE log SET setup = NULL WHERE setup NOT IN (SELECT item FROM setup)",
          "UPDATE log SET column_map = NULL WHERE column_map NOT IN (SELECT id FROM item)",
          "UPDATE session SET setup = NULL WHERE setup NOT IN (SELECT item FROM setup)",
          "UPDATE plan SET setup = NULL WHERE setup NOT IN (SELECT item FROM setup)",
          "UPDATE fit SET setup = NULL WHERE setup NOT IN (SELECT item FROM setup)",
          "UPDATE fit SET accepted = NULL WHERE accepted NOT IN (SELECT item FROM setup)",
          "INSERT OR IGNORE INTO pass_figures (pass, json) SELECT id, '{}' FROM pass"})
        to.run(sql);
}

// What still refers to nothing goes, until all that is left holds together. Returns how many rows those were.
std::size_t dropOrphans(Connection& to) {
    std::size_t dropped = 0;
    for (;;) {
        std::set<std::pair<std::string, std::int64_t>> rows;
        std::set<std::string> keyed; // WITHOUT ROWID: the check names no row
        for (Query check(to, "PRAGMA foreign_key_check"); check.step();) {
            if (check.isNull(1))
                keyed.insert(check.text(0));
            else
                rows.emplace(check.text(0), check.whole(1));
        }
        if (rows.empty() && keyed.empty()) break;
        for (const auto& [table, row] : rows)
            to.run("DELETE FROM " + table + " WHERE rowid = " + std::to_string(row));
        for (const char* const sql :
             {"DELETE FROM item_value WHERE item NOT IN (SELECT id FROM item)",
              "DELETE FROM outing_photo WHERE outing NOT IN (SELECT item FROM outing)",
              R"(DELETE FROM outing_setup WHERE outing NOT IN (SELECT item FROM outing)
  OR setup NOT IN (SELECT item FROM setup))",
              "DELETE FROM pass_noted WHERE pass NOT IN (SELECT id FROM pass)",
              "DELETE FROM fit_value WHERE fit NOT IN (SELECT item FROM fit) OR item NOT IN (SELECT id FROM item)",
              "DELETE FROM fit_pass WHERE fit NOT IN (SELECT item FROM fit) OR pass NOT IN (SELECT id FROM pass)"})
            to.run(sql);
        dropped += rows.size() + keyed.size();
    }
    for (const char* const kind : {"setup", "log"}) // of which only the head is left
        to.run("DELETE FROM item WHERE kind = '" + std::string(kind) + "' AND id NOT IN (SELECT item FROM " + kind +
               ")");
    to.run("DELETE FROM item_value WHERE item NOT IN (SELECT id FROM item)");
    return dropped;
}

void checkBytes(Connection& to, std::vector<std::string>& lost) {
    for (const StoredLog& log : store::logs(to, {}, true)) {
        const std::int64_t row = store::rowOf(to, log.id);
        if (complaintOf([&] { return store::unpackedLog(store::packedLog(to, log.id), log.id); })) {
            giveStandInBytes(to, row, log.sha256);
            lost.push_back(toString(log.id) + ": its bytes are lost, its passes are kept; add the file again where "
                                              "you still have it");
        }
        if (const auto complaint = complaintOf([&] { return store::logReview(to, log.id); })) {
            to.run("DELETE FROM log_review WHERE log = ?", row);
            lost.push_back(*complaint);
        }
        if (const auto complaint = complaintOf([&] { return store::logTrack(to, log.id); })) {
            to.run("DELETE FROM log_track WHERE log = ?", row);
            lost.push_back(*complaint);
        }
    }
}

} // namespace

std::vector<std::string> repairSalvaged(Connection& to) {
    const auto items = [&to] { return to.number("SELECT count(*) FROM item"); };
    const std::int64_t before = items();
    standInItems(to);
    standInSetups(to);
    standInLogs(to);
    const std::int64_t stoodIn = items() - before;
    letGo(to);
    std::vector<std::string> lost;
    if (const std::size_t dropped = dropOrphans(to); dropped > 0)
        lost.push_back(std::to_string(dropped) + " rows referred to lost ones and were left behind");
    if (stoodIn > 0)
        lost.push_back(std::to_string(stoodIn) + " things have lost their name; what is left of them is kept as '…, "
                                                 "name lost'");
    checkBytes(to, lost);
    return lost;
}

} // namespace rw
