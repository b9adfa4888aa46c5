#include "storage/log_store.h"

#include "core/error.h"
#include "storage/allowed.h"
#include "storage/codec.h"
#include "storage/item_store.h"

namespace rw::store {

namespace {

StoredLog logFrom(const Query& row) {
    StoredLog out;
    using enum ItemKind;
    row.take(out.id.number, out.name, out.sha256, out.size, out.packedSize, out.rows, out.started, out.dialect,
             out.edits, Query::Reference{out.setup, Setup}, Query::Reference{out.outing, Outing},
             Query::Reference{out.columnMap, ColumnMap}, out.notes, out.sessions, out.passes, out.retired, out.created,
             out.changed, out.version, out.judging, out.hasTrack);
    return out;
}

const std::string columns = R"(
SELECT i.number, i.name, l.sha256, l.size, l.packed_size, l."rows", l.started, l.dialect, l.edits,
  (SELECT number FROM item WHERE id = l.setup), (SELECT number FROM item WHERE id = l.outing),
  (SELECT number FROM item WHERE id = l.column_map), i.notes, (SELECT count(*) FROM session WHERE log = l.item),
  (SELECT count(*) FROM pass WHERE log = l.item), i.retired, i.created, i.changed, i.version, l.judging,
  (SELECT count(*) FROM log_track WHERE log = l.item) FROM log l JOIN item i ON i.id = l.item)";

void allowRecord(const LogRecord& log) {
    allowText("dialect", log.dialect, longestDocument);
    allowText("review", log.review, longestReview);
    allowText("edits", log.edits, longestDocument);
    allowText("judging", log.judging, longestDocument);
    allowText("track", log.track, longestReview);
    allowDate("started", log.started);
    allowCount("sessions", log.sessions.size());
    allowCount("passes", log.passes.size());
    for (const SessionRecord& session : log.sessions)
        allowSession(session);
    for (const PassRecord& pass : log.passes)
        allowPass(pass, log.sessions.size());
}

void allowPacked(const PackedLog& packed) {
    const bool digits =
        packed.sha256.size() == 64 && packed.sha256.find_first_not_of("0123456789abcdef") == std::string::npos;
    if (!digits || packed.size < 0 || packed.size > largestLog || packed.zstd.empty() ||
        packed.zstd.size() > static_cast<std::size_t>(largestPackedLog))
        throw InputError("log", "its packed bytes are not as packLog makes them");
}

Row insertLog(Connection& connection, ItemHead& head, const LogRecord& record) {
    const Row row = insertHead(connection, head);
    connection.run(
        R"(INSERT INTO log (item, sha256, size, packed_size, "rows", started, dialect, edits, judging, outing, setup,
  column_map) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?))",
        row, record.packed.sha256, record.packed.size, static_cast<std::int64_t>(record.packed.zstd.size()),
        record.rows, record.started, record.dialect, record.edits, record.judging,
        rowOf(connection, record.outing, ItemKind::Outing), rowOf(connection, record.setup, ItemKind::Setup),
        rowOf(connection, record.columnMap, ItemKind::ColumnMap));
    connection.run("INSERT INTO log_bytes (log, zstd) VALUES (?, ?)", row, Query::Blob{record.packed.zstd});
    putParts(connection, row, record);
    return row;
}

// The map of the garage with the same document, or a new one.
Id mapAmong(Connection& connection, const Part& map) {
    if (map.id.kind != ItemKind::ColumnMap) throw InputError("column map", "a log is read with a column map");
    for (const ItemHead& there : heads(connection, ItemKind::ColumnMap, false))
        if (there.document == map.document) return there.id;
    return addPart(connection, map);
}

LogRecord withCompany(Connection& connection, const LogRecord& record, const LogCompany& with) {
    LogRecord out = record;
    if (with.outing) out.outing = addOuting(connection, *with.outing);
    if (with.columnMap) out.columnMap = mapAmong(connection, *with.columnMap);
    return out;
}

AddedLog added(Id log, bool there, const LogRecord& record) {
    return {log, there, static_cast<int>(record.sessions.size()), static_cast<int>(record.passes.size()),
            record.outing};
}

void allowLog(const LogRecord& record) {
    allowHead(record.name, record.notes);
    allowPacked(record.packed);
    allowRecord(record);
}

std::string unpackedText(Query& find, Id id, const char* what) {
    if (!find.step()) return {};
    try {
        return zstdUnpack(find.text(0), static_cast<std::int64_t>(longestReview));
    } catch (const std::runtime_error& error) {
        throw GarageError(GarageError::Kind::Damaged,
                          toString(id) + ": its " + what + " is damaged (" + error.what() + ")");
    }
}

} // namespace

AddedLog addLog(Connection& connection, const LogRecord& record, const LogCompany& with) {
    allowLog(record);
    if (const auto there = findLog(connection, record.packed.sha256)) {
        const StoredLog known = log(connection, *there);
        return {*there, true, known.sessions, known.passes, known.outing};
    }
    const LogRecord whole = withCompany(connection, record, with);
    ItemHead head{0, {ItemKind::Log, 0}, whole.name, "", whole.notes, "", false, "", "", 0};
    insertLog(connection, head, whole);
    return added(head.id, false, whole);
}

AddedLog keepLog(Connection& connection, const LogRecord& record, const LogCompany& with) {
    const auto there = findLog(connection, record.packed.sha256);
    if (!there) return addLog(connection, record, with);
    allowLog(record);
    const LogRecord whole = withCompany(connection, record, with);
    replaceReview(connection, *there, whole);
    putSaid(connection, rowOf(connection, *there), whole);
    StoredLog known = log(connection, *there);
    known.setup = whole.setup, known.outing = whole.outing;
    if (!whole.notes.empty()) known.notes = whole.notes;
    updateLog(connection, known);
    return added(*there, true, whole);
}

std::vector<StoredLog> logs(Connection& connection, const std::optional<Id>& outing, bool retired) {
    return rowsOf(connection, logFrom,
                  columns +
                      " LEFT JOIN outing o ON o.item = l.outing WHERE (?1 IS NULL OR l.outing = ?1) AND i.retired <= ?2"
                      " ORDER BY coalesce(nullif(l.started, ''), nullif(o.date, ''), i.created) DESC, i.id DESC",
                  rowOf(connection, outing, ItemKind::Outing), retired);
}

StoredLog log(Connection& connection, Id id) {
    Query one(connection, columns + " WHERE l.item = ?", rowOf(connection, id, ItemKind::Log));
    if (!one.step()) throw halfThere(id);
    return logFrom(one);
}

std::optional<Id> findLog(Connection& connection, const std::string& sha256) {
    const auto number =
        connection.maybeNumber("SELECT i.number FROM log l JOIN item i ON i.id = l.item WHERE l.sha256 = ?", sha256);
    return number ? std::optional(Id{ItemKind::Log, *number}) : std::nullopt;
}

PackedLog packedLog(Connection& connection, Id id) {
    Query find(connection,
               "SELECT l.sha256, l.size, b.zstd FROM log l JOIN log_bytes b ON b.log = l.item WHERE l.item = ?",
               rowOf(connection, id, ItemKind::Log));
    if (!find.step()) throw GarageError(GarageError::Kind::Damaged, toString(id) + ": its bytes are missing");
    return {find.text(0), find.whole(1), find.text(2)};
}

std::string unpackedLog(const PackedLog& packed, Id id) {
    const auto damaged = [id](const std::string& why) {
        return GarageError(GarageError::Kind::Damaged, toString(id) + ": its bytes are damaged (" + why + ")");
    };
    std::string bytes;
    try {
        bytes = zstdUnpack(packed.zstd, largestLog);
    } catch (const std::runtime_error& error) {
        throw damaged(error.what());
    }
    if (static_cast<std::int64_t>(bytes.size()) != packed.size) throw damaged("another length than when stored");
    if (sha256Hex(bytes) != packed.sha256) throw damaged("another SHA-256 than when stored");
    return bytes;
}

std::string logReview(Connection& connection, Id id) {
    Query find(connection, "SELECT zstd FROM log_review WHERE log = ?", rowOf(connection, id, ItemKind::Log));
    return unpackedText(find, id, "review");
}

std::string logTrack(Connection& connection, Id id) {
    Query find(connection, "SELECT zstd FROM log_track WHERE log = ?", rowOf(connection, id, ItemKind::Log));
    return unpackedText(find, id, "measured speed");
}

void updateLog(Connection& connection, const StoredLog& log) {
    updateNamed(connection, log);
    connection.run("UPDATE log SET outing = ?, setup = ?, column_map = ? WHERE item = ?",
                   rowOf(connection, log.outing, ItemKind::Outing), rowOf(connection, log.setup, ItemKind::Setup),
                   rowOf(connection, log.columnMap, ItemKind::ColumnMap), rowOf(connection, log.id));
}

void replaceReview(Connection& connection, Id id, const LogRecord& record) {
    allowRecord(record);
    const Row row = rowOf(connection, id, ItemKind::Log);
    connection.run(
        "UPDATE log SET \"rows\" = ?, started = ?, dialect = ?, edits = ?, judging = ?, column_map = ? WHERE item = ?",
        record.rows, record.started, record.dialect, record.edits, record.judging,
        rowOf(connection, record.columnMap, ItemKind::ColumnMap), row);
    touch(connection, row);
    replaceParts(connection, row, record);
}

} // namespace rw::store
