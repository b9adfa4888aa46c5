#include "core/error.h"
#include "storage/item_store.h"

#include <array>

namespace rw::store {

namespace {

struct Removal {
    ItemKind kind;
    std::initializer_list<const char*> statements; // those that own before those that are owned
};

// Written out instead of ON DELETE CASCADE, so that undo sees every row that goes.
const std::array removals{
    Removal{ItemKind::Setup, {"DELETE FROM setup WHERE item = ?"}},
    Removal{ItemKind::Outing,
            {"DELETE FROM outing_setup WHERE outing = ?", "DELETE FROM outing_photo WHERE outing = ?",
             "DELETE FROM outing WHERE item = ?"}},
    Removal{ItemKind::Log,
            {"DELETE FROM pass_figures WHERE pass IN (SELECT id FROM pass WHERE log = ?)",
             "DELETE FROM pass_noted WHERE pass IN (SELECT id FROM pass WHERE log = ?)",
             "DELETE FROM pass WHERE log = ?", "DELETE FROM session WHERE log = ?",
             "DELETE FROM log_bytes WHERE log = ?", "DELETE FROM log_track WHERE log = ?",
             "DELETE FROM log_review WHERE log = ?", "DELETE FROM log WHERE item = ?"}},
    Removal{ItemKind::Plan, {"DELETE FROM plan WHERE item = ?"}},
    Removal{ItemKind::Fit,
            {"DELETE FROM fit_pass WHERE fit = ?", "DELETE FROM fit_value WHERE fit = ?",
             "DELETE FROM fit WHERE item = ?"}},
};

ItemKind kindOf(const std::string& name) {
    if (const auto kind = kindFromName(name)) return *kind;
    throw GarageError(GarageError::Kind::Damaged, "an item of an unknown kind is in the garage");
}

std::string namesOf(const std::vector<Id>& ids) {
    std::string out;
    for (std::size_t i = 0; i < ids.size() && i < 3; ++i)
        out += (i > 0 ? ", " : "") + toString(ids[i]);
    return ids.size() > 3 ? out + " and " + std::to_string(ids.size() - 3) + " more" : out;
}

// What its values rest on must stay known: the same passes never count twice.
void requireNotAccepted(Connection& connection, Row row, Id id) {
    Query find(connection,
               "SELECT i.kind || '-' || i.number FROM fit f JOIN item i ON i.id = f.accepted WHERE f.item = ?", row);
    if (find.step())
        throw GarageError(GarageError::Kind::Refused, toString(id) + " cannot be removed: the values of " +
                                                          find.text(0) + " came from it; retire it instead");
}

} // namespace

std::vector<Id> referrers(Connection& connection, Id id) {
    std::vector<Id> out;
    for (Query all(
             connection,
             R"(SELECT kind, number FROM item WHERE id <> ?1 AND id IN (SELECT item FROM setup WHERE ?1 IN (parent,
  first, vehicle, motor, controller, pack, tyre, pinion, spur) UNION SELECT item FROM outing WHERE venue = ?1 UNION
  SELECT outing FROM outing_setup WHERE setup = ?1 UNION SELECT item FROM log WHERE ?1 IN (outing, setup, column_map)
  UNION SELECT log FROM session WHERE ?1 IN (setup, pack) UNION SELECT item FROM plan WHERE ?1 IN (setup, venue) UNION
  SELECT item FROM fit WHERE ?1 IN (setup, accepted) UNION SELECT fit FROM fit_value WHERE item = ?1 UNION SELECT fit
  FROM fit_pass JOIN pass ON pass.id = fit_pass.pass WHERE pass.log = ?1) ORDER BY kind, number)",
             rowOf(connection, id));
         all.step();)
        out.push_back({kindOf(all.text(0)), all.whole(1)});
    return out;
}

void remove(Connection& connection, Id id) {
    if (id.kind == ItemKind::Session || id.kind == ItemKind::Pass)
        throw InputError("id", toString(id) + " belongs to its log; change the log's boundaries, or remove the log");
    const Row row = rowOf(connection, id);
    if (id.kind == ItemKind::Fit) requireNotAccepted(connection, row, id);
    if (const auto others = referrers(connection, id); !others.empty())
        throw GarageError(GarageError::Kind::Refused,
                          toString(id) + " cannot be removed: " + namesOf(others) + " refer to it; retire it instead");
    for (const Removal& removal : removals)
        if (removal.kind == id.kind)
            for (const char* statement : removal.statements)
                connection.run(statement, row);
    connection.run("DELETE FROM item_value WHERE item = ?", row);
    connection.run("DELETE FROM item WHERE id = ?", row);
}

std::vector<ListRow> list(Connection& connection, ItemKind kind, bool retired) {
    const auto from = [kind](const Query& row) {
        ListRow out;
        out.id.kind = kind;
        row.take(out.id.number, out.name, out.description, out.when, out.retired);
        return out;
    };
    if (kind == ItemKind::Session)
        return rowsOf(connection, from,
                      "SELECT s.id, i.name, 'session ' || (s.place + 1), coalesce(nullif(l.started, ''), i.created) AS "
                      "at, i.retired FROM session s JOIN log l ON l.item = s.log JOIN item i ON i.id = s.log"
                      " WHERE i.retired <= ? ORDER BY at DESC, s.id DESC",
                      retired);
    if (kind == ItemKind::Pass)
        return rowsOf(connection, from,
                      "SELECT p.id, i.name, 'pass ' || (p.place + 1), coalesce(nullif(l.started, ''), i.created) AS at,"
                      " i.retired FROM pass p JOIN log l ON l.item = p.log JOIN item i ON i.id = p.log"
                      " WHERE i.retired <= ? ORDER BY at DESC, p.id DESC",
                      retired);
    return rowsOf(
        connection, from,
        R"(SELECT i.number, i.name, i.description, coalesce(nullif(o.date, ''), nullif(l.started, ''), nullif(lo.date,
  ''), i.created) AS at, i.retired FROM item i LEFT JOIN outing o ON o.item = i.id LEFT JOIN log l ON l.item = i.id
  LEFT JOIN outing lo ON lo.item = l.outing WHERE i.kind = ? AND i.retired <= ? ORDER BY at DESC, i.id DESC)",
        kindName(kind), retired);
}

std::int64_t count(Connection& connection, ItemKind kind, bool retired) {
    if (kind == ItemKind::Session)
        return connection.number("SELECT count(*) FROM session JOIN item ON item.id = log WHERE retired <= ?", retired);
    if (kind == ItemKind::Pass)
        return connection.number("SELECT count(*) FROM pass JOIN item ON item.id = log WHERE retired <= ?", retired);
    return connection.number("SELECT count(*) FROM item WHERE retired <= ? AND kind = ?", retired, kindName(kind));
}

} // namespace rw::store
