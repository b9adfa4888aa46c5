#include "storage/item_store.h"

#include "storage/allowed.h"

namespace rw::store {

namespace {

const std::string columns = R"(
SELECT i.number, i.name, (SELECT number FROM item WHERE id = p.setup), (SELECT number FROM item WHERE id = p.venue),
  p.input, p.result, p.settings, p.program, i.notes, i.retired, i.created, i.changed, i.version FROM plan p JOIN item i
  ON i.id = p.item)";

StoredPlan planFrom(const Query& row) {
    StoredPlan out;
    row.take(out.id.number, out.name, Query::Reference{out.setup, ItemKind::Setup},
             Query::Reference{out.venue, ItemKind::Venue}, out.input, out.result, out.settings, out.program, out.notes,
             out.retired, out.created, out.changed, out.version);
    return out;
}

} // namespace

StoredPlan plan(Connection& connection, Id id) {
    Query one(connection, columns + " WHERE p.item = ?", rowOf(connection, id, ItemKind::Plan));
    if (!one.step()) throw halfThere(id);
    return planFrom(one);
}

std::vector<StoredPlan> plans(Connection& connection, const std::optional<Id>& setup, bool retired) {
    return rowsOf(connection, planFrom,
                  columns +
                      " WHERE (?1 IS NULL OR p.setup = ?1) AND i.retired <= ?2 ORDER BY i.created DESC, i.id DESC",
                  rowOf(connection, setup, ItemKind::Setup), retired);
}

Id addPlan(Connection& connection, const StoredPlan& plan) {
    allowHead(plan.name, plan.notes);
    allowText("plan input", plan.input, longestDocument);
    allowText("plan result", plan.result, longestDocument);
    allowText("plan settings", plan.settings, longestDocument);
    allowText("program", plan.program, longestName);
    ItemHead head = headOf(plan);
    const Row row = insertHead(connection, head);
    const std::string program = plan.program.empty() ? programName() : plan.program;
    connection.run(
        "INSERT INTO plan (item, setup, venue, input, result, settings, program) VALUES (?, ?, ?, ?, ?, ?, ?)", row,
        rowOf(connection, plan.setup, ItemKind::Setup), rowOf(connection, plan.venue, ItemKind::Venue), plan.input,
        plan.result, plan.settings, program);
    return head.id;
}

} // namespace rw::store
