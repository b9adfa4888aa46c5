#include "storage/item_store.h"

#include "core/error.h"
#include "storage/allowed.h"
#include "storage/evidence.h"

namespace rw::store {

namespace {

const std::string columns = R"(
SELECT i.id, i.number, i.name, s.revision, (SELECT number FROM item WHERE id = s.first),
  (SELECT number FROM item WHERE id = s.parent), s.reason, (SELECT number FROM item WHERE id = s.vehicle),
  (SELECT number FROM item WHERE id = s.motor), (SELECT number FROM item WHERE id = s.controller),
  (SELECT number FROM item WHERE id = s.pack), (SELECT number FROM item WHERE id = s.tyre),
  (SELECT number FROM item WHERE id = s.pinion), (SELECT number FROM item WHERE id = s.spur),
  i.notes, i.retired, i.created, s.learned FROM setup s JOIN item i ON i.id = s.item)";

Setup setupFrom(const Query& row) {
    Setup out;
    Row itself = 0;
    std::string learned;
    row.take(itself, out.id.number, out.name, out.revision, out.first.number,
             Query::Reference{out.parent, ItemKind::Setup}, out.reason, out.vehicle.number, out.motor.number,
             out.controller.number, out.pack.number, out.tyre.number, out.pinion.number, out.spur.number, out.notes,
             out.retired, out.created, learned);
    out.evidence = readEvidence(learned, toString(out.id));
    return out;
}

std::vector<Setup> collect(Connection& connection, Query& all, bool many) {
    auto every = many ? valuesOfKind(connection, ItemKind::Setup) : std::map<Row, Values>{};
    std::vector<Setup> out;
    while (all.step()) {
        out.push_back(setupFrom(all));
        if (!many)
            out.back().values = values(connection, all.whole(0));
        else if (const auto found = every.find(all.whole(0)); found != every.end())
            out.back().values = std::move(found->second);
    }
    return out;
}

void allowSetup(const Setup& setup) {
    allowHead(setup.name, setup.notes);
    allowText("reason", setup.reason, longestLine);
    allowEvidence(setup.evidence);
    allowValues(ItemKind::Setup, setup.values);
}

} // namespace

std::vector<Id> partsOf(const Setup& setup) {
    return {setup.vehicle, setup.motor, setup.controller, setup.pack, setup.tyre};
}

Setup setup(Connection& connection, Id id) {
    Query one(connection, columns + " WHERE s.item = ?", rowOf(connection, id, ItemKind::Setup));
    auto found = collect(connection, one, false);
    if (found.empty()) throw halfThere(id);
    return std::move(found.front());
}

std::vector<Setup> setups(Connection& connection, const std::optional<Id>& vehicle, bool retired) {
    Query all(connection,
              columns + " WHERE (?1 IS NULL OR s.vehicle = ?1) AND i.retired <= ?2 ORDER BY i.created DESC, i.id DESC",
              rowOf(connection, vehicle, ItemKind::Vehicle), retired);
    return collect(connection, all, true);
}

std::vector<Setup> revisions(Connection& connection, Id id) {
    Query all(connection, columns + " WHERE s.first = (SELECT first FROM setup WHERE item = ?) ORDER BY s.revision",
              rowOf(connection, id, ItemKind::Setup));
    return collect(connection, all, false);
}

int newestRevision(Connection& connection, Id first) {
    const Row row = rowOf(connection, first, ItemKind::Setup);
    return static_cast<int>(connection.number("SELECT max(revision) FROM setup WHERE first = ?", row));
}

Id insertSetup(Connection& connection, const Setup& setup) {
    allowSetup(setup);
    ItemHead head = headOf(setup);
    const Row row = insertHead(connection, head);
    const std::string learned = writeEvidence(setup.evidence);
    const Row first = setup.first.stored() ? rowOf(connection, setup.first, ItemKind::Setup) : row;
    connection.run(
        R"(INSERT INTO setup (item, first, revision, parent, reason, vehicle, motor, controller, pack, tyre, pinion,
  spur, learned) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?))",
        row, first, setup.revision, rowOf(connection, setup.parent, ItemKind::Setup), setup.reason,
        rowOf(connection, setup.vehicle, ItemKind::Vehicle), rowOf(connection, setup.motor, ItemKind::Motor),
        rowOf(connection, setup.controller, ItemKind::Controller), rowOf(connection, setup.pack, ItemKind::Pack),
        rowOf(connection, setup.tyre, ItemKind::Tyre), rowOf(connection, setup.pinion, ItemKind::Gear),
        rowOf(connection, setup.spur, ItemKind::Gear), learned);
    putValues(connection, row, setup.values);
    return head.id;
}

Id addSetup(Connection& connection, const Setup& setup) {
    Setup first = setup;
    first.first.number = 0;
    first.revision = 1;
    first.parent.reset();
    return insertSetup(connection, first);
}

Id insertRevision(Connection& connection, Setup next, const std::string& reason) {
    if (reason.find_first_not_of(" \t\r\n") == std::string::npos)
        throw InputError("reason", "is empty; say in a few words why the setup changes");
    next.first = setup(connection, next.id).first;
    next.revision = newestRevision(connection, next.first) + 1;
    next.parent = next.id;
    next.reason = reason;
    next.created.clear();
    next.retired = false;
    return insertSetup(connection, next);
}

Id revise(Connection& connection, const Setup& edited, const std::string& reason) {
    Setup next = edited;
    next.evidence = stillHeld(edited.evidence, setup(connection, edited.id).values, edited.values);
    return insertRevision(connection, std::move(next), reason);
}

} // namespace rw::store
