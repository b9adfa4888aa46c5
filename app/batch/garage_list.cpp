#include "app/batch/garage_actions.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "storage/garage.h"

#include <nlohmann/json.hpp>

namespace rw::batch {

namespace {

using Json = nlohmann::ordered_json;

template<class T>
Json orNull(const std::optional<T>& value) {
    return value ? Json(*value) : Json();
}
Json orNull(const std::optional<Id>& id) { return id ? Json(toString(*id)) : Json(); }

std::string idText(const std::optional<Id>& id) { return id ? toString(*id) : "-"; }

Json passesJson(Garage& garage) {
    Json rows = Json::array();
    for (const StoredPass& p : garage.passes({})) {
        const auto best = bestSpeed(p);
        rows.push_back({{"id", toString(p.id)},
                        {"log", toString(p.log)},
                        {"session", toString(p.session)},
                        {"setup", orNull(p.setup)},
                        {"revision", p.revision},
                        {"vehicle", orNull(p.vehicle)},
                        {"pack", orNull(p.pack)},
                        {"outing", orNull(p.outing)},
                        {"when", p.when},
                        {"start_s", p.start_s},
                        {"end_s", p.end_s},
                        {"complete", p.complete},
                        {"direction", directionName(p.direction)},
                        {"speed_mps", best ? Json(best->mps) : Json()},
                        {"speed_kind", best ? Json(speedKindName(best->kind)) : Json()},
                        {"zone_speed_mps", orNull(p.zoneSpeed_mps)},
                        {"speed_peak_mps", orNull(p.peakSpeed_mps)},
                        {"wheel_peak_mps", orNull(p.peakWheelSpeed_mps)},
                        {"peak_A", orNull(p.peakCurrent_A)},
                        {"min_cell_V", orNull(p.minCell_V)},
                        {"motor_max_C", orNull(p.motorMax_C)},
                        {"pack_ohm", orNull(p.pack_ohm)},
                        {"notes", p.notes}});
    }
    return rows;
}

Json setupsJson(Garage& garage, bool retired) {
    Json rows = Json::array();
    for (const Setup& s : garage.setups({}, retired))
        rows.push_back({{"id", toString(s.id)},
                        {"name", s.name},
                        {"revision", s.revision},
                        {"first", toString(s.first)},
                        {"parent", orNull(s.parent)},
                        {"reason", s.reason},
                        {"vehicle", toString(s.vehicle)},
                        {"pack", toString(s.pack)},
                        {"created", s.created},
                        {"retired", s.retired}});
    return rows;
}

Json logsJson(Garage& garage, bool retired) {
    Json rows = Json::array();
    for (const StoredLog& l : garage.logs({}, retired))
        rows.push_back({{"id", toString(l.id)},
                        {"name", l.name},
                        {"sha256", l.sha256},
                        {"size", l.size},
                        {"packed_size", l.packedSize},
                        {"rows", l.rows},
                        {"sessions", l.sessions},
                        {"passes", l.passes},
                        {"setup", orNull(l.setup)},
                        {"outing", orNull(l.outing)},
                        {"created", l.created},
                        {"retired", l.retired}});
    return rows;
}

Json rowsJson(Garage& garage, ItemKind kind, bool retired) {
    if (kind == ItemKind::Pass) return passesJson(garage);
    if (kind == ItemKind::Setup) return setupsJson(garage, retired);
    if (kind == ItemKind::Log) return logsJson(garage, retired);
    Json rows = Json::array();
    for (const ListRow& row : garage.list(kind, retired))
        rows.push_back({{"id", toString(row.id)},
                        {"name", row.name},
                        {"description", row.description},
                        {"when", row.when},
                        {"retired", row.retired}});
    return rows;
}

Table passesTable(Garage& garage) {
    Table table{"<", "<when", "m/s", "<", "peak A", "V/cell", "motor °C", "<setup", "<log"};
    for (const StoredPass& p : garage.passes({})) {
        const auto best = bestSpeed(p);
        table.row({toString(p.id), escapeControls(p.when), best ? fixed(best->mps, 1) : "-",
                   best ? std::string(speedKindName(best->kind)) : "", fixed(p.peakCurrent_A, 0), fixed(p.minCell_V, 2),
                   fixed(p.motorMax_C, 0), idText(p.setup), toString(p.log)});
    }
    return table;
}

Table setupsTable(Garage& garage, bool retired) {
    Table table{"<", "<name", "revision", "<from", "<why"};
    for (const Setup& s : garage.setups({}, retired))
        table.row({toString(s.id), escapeControls(s.name), std::to_string(s.revision),
                   s.parent ? toString(*s.parent) : "", escapeControls(s.reason)});
    return table;
}

Table rowsTable(Garage& garage, ItemKind kind, bool retired) {
    if (kind == ItemKind::Pass) return passesTable(garage);
    if (kind == ItemKind::Setup) return setupsTable(garage, retired);
    Table table{"<", "<", "<", "<"};
    for (const ListRow& row : garage.list(kind, retired))
        table.row({toString(row.id), escapeControls(row.when.substr(0, 10)), escapeControls(row.name),
                   escapeControls(row.description) + (row.retired ? " (retired)" : "")});
    return table;
}

} // namespace

Report garageList(const GarageAsked& asked) {
    const auto kind = kindFromPlural(asked.kind);
    if (!kind) {
        std::string words;
        for (const ItemKind one : allKinds())
            words += (words.empty() ? "" : ", ") + std::string(kindPlural(one));
        throw InputError("KIND", "'" + escapeControls(asked.kind) + "' is no kind of thing; expected one of " + words);
    }
    Garage garage = Garage::open(asked.file);
    if (asked.json) return {printed({{"rows", rowsJson(garage, *kind, asked.retired)}})};
    const Table table = rowsTable(garage, *kind, asked.retired);
    return {table.empty() ? "There are no " + std::string(kindPlural(*kind)) + " in this garage\n"
                          : table.text(Ink(), "")};
}

} // namespace rw::batch
