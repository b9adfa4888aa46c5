// Items: what every named thing has, and the numbers that hang on it. Within a transaction of the caller. Private to
// storage.
#pragma once

#include "storage/connection.h"
#include "storage/values.h"

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace rw::store {

using Row = std::int64_t; // item.id: the file's own number of an item

struct ItemHead {
    Row row = 0;
    Id id;
    std::string name, description, notes, document;
    bool retired = false;
    std::string created, changed;
    int version = 0;
};
// A thing with what its head says; the rest is still to be read.
template<class Thing>
[[nodiscard]] Thing withHead(const ItemHead& head) {
    Thing out;
    out.id = head.id, out.name = head.name, out.notes = head.notes, out.retired = head.retired;
    out.created = head.created, out.changed = head.changed, out.version = head.version;
    return out;
}

[[nodiscard]] std::optional<Row> findRow(Connection& connection, Id id);
[[nodiscard]] Row rowOf(Connection& connection, Id id); // throws NotFound
[[nodiscard]] std::optional<Row> rowOf(Connection& connection, const std::optional<Id>& id);
[[nodiscard]] Row rowOf(Connection& connection, Id id, ItemKind kind); // and InputError where it is of another kind
[[nodiscard]] std::optional<Row> rowOf(Connection& connection, const std::optional<Id>& id, ItemKind kind);

[[nodiscard]] ItemHead head(Connection& connection, Id id);
[[nodiscard]] std::vector<ItemHead> heads(Connection& connection, ItemKind kind, bool retired); // by name, then number
// Gives number, times and version; times that are given already are kept.
Row insertHead(Connection& connection, ItemHead& head);
// name, description, notes and document; Refused where the item is no longer at head.version.
void updateHead(Connection& connection, const ItemHead& head);
void touch(Connection& connection, Row row); // new version and time of change
[[nodiscard]] int nextChange(Connection& connection);

[[nodiscard]] Values values(Connection& connection, Row row);
[[nodiscard]] std::map<Row, Values> valuesOfKind(Connection& connection, ItemKind kind);
void putValues(Connection& connection, Row row, const Values& values); // in place of those there

[[nodiscard]] Part partFrom(const ItemHead& head, Values values);
[[nodiscard]] Part part(Connection& connection, Id id);
Id addPart(Connection& connection, const Part& part);
void updatePart(Connection& connection, const Part& part);

[[nodiscard]] std::vector<Id> referrers(Connection& connection, Id id);
void remove(Connection& connection, Id id);
void retire(Connection& connection, Id id, bool retired);
[[nodiscard]] std::vector<ListRow> list(Connection& connection, ItemKind kind, bool retired);
[[nodiscard]] std::int64_t count(Connection& connection, ItemKind kind, bool retired);

} // namespace rw::store
