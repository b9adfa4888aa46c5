#include "storage/plan_store.h"

#include "storage/allowed.h"
#include "storage/program.h"

namespace rw::store {

namespace {

#define RW_PLAN_COLUMNS                                                                                                \
    "SELECT i.number, i.name, (SELECT number FROM item WHERE id = p.setup), (SELECT number FROM item WHERE id = "      \
    "p.venue), p.input,"                                                                                               \
    " p.result, p.settings, p.program, i.notes, i.retired, i.created, i.changed, i.version FROM plan p JOIN item i "   \
    "ON i.id = p.item"

StoredPlan planFrom(const Query& row) {
    StoredPlan out;
    out.id.number = row.whole(0);
    out.name = row.text(1);
    if (const auto setup = row.maybeWhole(2)) out.setup = Id{ItemKind::Setup, *setup};
    if (const auto venue = row.maybeWhole(3)) out.venue = Id{ItemKind::Venue, *venue};
    out.input = row.text(4);
    out.result = row.text(5);
    out.settings = row.text(6);
    out.program = row.text(7);
    out.notes = row.text(8);
    out.retired = row.whole(9) != 0;
    out.created = row.text(10);
    out.changed = row.text(11);
    out.version = static_cast<int>(row.whole(12));
    return out;
}

} // namespace

StoredPlan plan(Connection& connection, Id id) {
    Query one(connection, RW_PLAN_COLUMNS " WHERE p.item = ?", rowOf(connection, id, ItemKind::Plan));
    if (!one.step()) throw GarageError(GarageError::Kind::Damaged, toString(id) + " is only half there");
    return planFrom(one);
}

std::vector<StoredPlan> plans(Connection& connection, const std::optional<Id>& setup, bool retired) {
    Query all(connection,
              RW_PLAN_COLUMNS
              " WHERE (?1 IS NULL OR p.setup = ?1) AND i.retired <= ?2 ORDER BY i.created DESC, i.id DESC",
              rowOf(connection, setup, ItemKind::Setup), retired);
    std::vector<StoredPlan> out;
    while (all.step())
        out.push_back(planFrom(all));
    return out;
}

Id addPlan(Connection& connection, const StoredPlan& plan) {
    allowName("name", plan.name);
    allowText("notes", plan.notes, longestNotes);
    allowText("plan input", plan.input, longestDocument);
    allowText("plan result", plan.result, longestDocument);
    allowText("plan settings", plan.settings, longestDocument);
    allowText("program", plan.program, longestName);
    ItemHead head{0, {ItemKind::Plan, 0}, plan.name, "", plan.notes, "", plan.retired, plan.created, "", 0};
    const Row row = insertHead(connection, head);
    const std::string program = plan.program.empty() ? programName() : plan.program;
    Query(connection,
          "INSERT INTO plan (item, setup, venue, input, result, settings, program) VALUES (?, ?, ?, ?, ?, ?, ?)", row,
          rowOf(connection, plan.setup, ItemKind::Setup), rowOf(connection, plan.venue, ItemKind::Venue), plan.input,
          plan.result, plan.settings, program)
        .run();
    return head.id;
}

void updatePlan(Connection& connection, const StoredPlan& plan) {
    allowName("name", plan.name);
    allowText("notes", plan.notes, longestNotes);
    static_cast<void>(rowOf(connection, plan.id, ItemKind::Plan));
    updateHead(connection, {0, plan.id, plan.name, "", plan.notes, "", false, "", "", plan.version});
}

} // namespace rw::store
