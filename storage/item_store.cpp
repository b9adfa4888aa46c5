#include "storage/item_store.h"

#include "core/error.h"
#include "storage/allowed.h"

#include <algorithm>

namespace rw::store {

namespace {

Value valueFrom(const Query& row, int first) {
    return {row.maybeReal(first),
            row.text(first + 1),
            row.text(first + 2),
            row.maybeReal(first + 3),
            static_cast<Source>(
                std::clamp<std::int64_t>(row.whole(first + 4), 0, static_cast<std::int64_t>(Source::Estimated))),
            row.text(first + 5)};
}

const std::string headColumns =
    "SELECT id, number, name, description, notes, document, retired, created, changed, version FROM item";

ItemHead headFrom(const Query& row, ItemKind kind) {
    ItemHead out;
    out.id.kind = kind;
    row.take(out.row, out.id.number, out.name, out.description, out.notes, out.document, out.retired, out.created,
             out.changed, out.version);
    return out;
}

std::int64_t next(Connection& connection, std::string_view what) {
    return connection.number(
        "INSERT INTO counter (kind, last) VALUES (?1, 1) ON CONFLICT (kind) DO UPDATE SET last = last + 1 "
        "RETURNING last",
        what);
}

void allowPart(const Part& part) {
    if (!isPart(part.id.kind)) throw InputError("part", "a " + std::string(kindName(part.id.kind)) + " is no part");
    allowHead(part.name, part.notes);
    allowText("description", part.description, longestLine);
    allowText("document", part.document, longestDocument);
    allowValues(part.id.kind, part.values);
}

} // namespace

std::string programName() { return "runwright " RUNWRIGHT_VERSION; }

GarageError notInGarage(Id id) { return {GarageError::Kind::NotFound, toString(id) + " is not in the garage"}; }
GarageError halfThere(Id id) { return {GarageError::Kind::Damaged, toString(id) + " is only half there"}; }

void allowHead(const std::string& name, const std::string& notes) {
    allowName("name", name);
    allowText("notes", notes, longestNotes);
}

Row rowOf(Connection& connection, Id id) {
    const bool kept = id.kind != ItemKind::Session && id.kind != ItemKind::Pass;
    const auto row =
        kept ? connection.maybeNumber("SELECT id FROM item WHERE kind = ? AND number = ?", kindName(id.kind), id.number)
             : std::nullopt;
    return row ? *row : throw notInGarage(id);
}

Row rowOf(Connection& connection, Id id, ItemKind kind) {
    if (id.kind != kind)
        throw InputError(std::string(kindName(kind)),
                         toString(id) + " stands where a " + std::string(kindName(kind)) + " is expected");
    if (!id.stored()) throw InputError(std::string(kindName(kind)), "is missing; choose one");
    return rowOf(connection, id);
}

std::optional<Row> rowOf(Connection& connection, const std::optional<Id>& id, ItemKind kind) {
    return id ? std::optional(rowOf(connection, *id, kind)) : std::nullopt;
}

ItemHead head(Connection& connection, Id id) {
    Query find(connection, headColumns + " WHERE kind = ? AND number = ?", kindName(id.kind), id.number);
    if (!find.step()) throw notInGarage(id);
    return headFrom(find, id.kind);
}

std::vector<ItemHead> heads(Connection& connection, ItemKind kind, bool retired) {
    return rowsOf(
        connection, [kind](const Query& row) { return headFrom(row, kind); },
        headColumns + " WHERE kind = ? AND retired <= ? ORDER BY name COLLATE NOCASE, number", kindName(kind), retired);
}

int nextChange(Connection& connection) { return static_cast<int>(next(connection, "change")); }

Row insertHead(Connection& connection, ItemHead& head) {
    allowDate("created", head.created);
    head.id.number = next(connection, kindName(head.id.kind));
    head.version = nextChange(connection);
    const std::string now = connection.now();
    if (head.created.empty()) head.created = now;
    if (head.changed.empty()) head.changed = now;
    head.row = connection.number(
        "INSERT INTO item (kind, number, name, description, notes, document, retired, created, changed, version)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id",
        kindName(head.id.kind), head.id.number, head.name, head.description, head.notes, head.document, head.retired,
        head.created, head.changed, head.version);
    return head.row;
}

void updateHead(Connection& connection, const ItemHead& changed) {
    const ItemHead now = head(connection, changed.id);
    if (now.version != changed.version)
        throw GarageError(GarageError::Kind::Refused,
                          toString(changed.id) +
                              " was changed meanwhile by another window or program; look at it again, then change it");
    connection.run("UPDATE item SET name = ?, description = ?, notes = ?, document = ? WHERE id = ?", changed.name,
                   changed.description, changed.notes, changed.document, now.row);
    touch(connection, now.row);
}

void touch(Connection& connection, Row row) {
    const int version = nextChange(connection);
    const std::string now = connection.now();
    connection.run("UPDATE item SET changed = ?, version = ? WHERE id = ?", now, version, row);
}

Values values(Connection& connection, Row row) {
    Query all(connection,
              "SELECT key, number, text, unit_shown, uncertainty, source, note FROM item_value WHERE item = ?", row);
    Values out;
    while (all.step())
        out.emplace_hint(out.end(), all.text(0), valueFrom(all, 1));
    return out;
}

std::map<Row, Values> valuesOfKind(Connection& connection, ItemKind kind) {
    Query all(connection,
              "SELECT v.item, v.key, v.number, v.text, v.unit_shown, v.uncertainty, v.source, v.note"
              " FROM item i JOIN item_value v ON v.item = i.id WHERE i.kind = ? ORDER BY i.id, v.key",
              kindName(kind));
    std::map<Row, Values> out;
    while (all.step()) {
        Values& one = out.try_emplace(out.end(), all.whole(0))->second;
        one.emplace_hint(one.end(), all.text(1), valueFrom(all, 2));
    }
    return out;
}

void putValues(Connection& connection, Row row, const Values& values) {
    connection.run("DELETE FROM item_value WHERE item = ?", row);
    for (const auto& [key, value] : values)
        connection.run(
            "INSERT INTO item_value (item, key, number, text, unit_shown, uncertainty, source, note) VALUES (?, ?, "
            "?, ?, ?, ?, ?, ?)",
            row, key, value.number, value.text, value.unitShown, value.uncertainty, static_cast<int>(value.source),
            value.note);
}

Part partFrom(const ItemHead& head, Values values) {
    auto out = withHead<Part>(head);
    out.description = head.description, out.document = head.document, out.values = std::move(values);
    return out;
}

Part part(Connection& connection, Id id) {
    if (!isPart(id.kind)) throw InputError("id", toString(id) + " is no part");
    const ItemHead found = head(connection, id);
    return partFrom(found, values(connection, found.row));
}

Id addPart(Connection& connection, const Part& part) {
    allowPart(part);
    ItemHead head = headOf(part);
    putValues(connection, insertHead(connection, head), part.values);
    return head.id;
}

void updatePart(Connection& connection, const Part& part) {
    allowPart(part);
    updateHead(connection, headOf(part));
    putValues(connection, rowOf(connection, part.id), part.values);
}

void retire(Connection& connection, Id id, bool retired) {
    const Row row = rowOf(connection, id);
    connection.run("UPDATE item SET retired = ? WHERE id = ?", retired, row);
    touch(connection, row);
}

} // namespace rw::store
