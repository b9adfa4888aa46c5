#include "app/batch/garage_actions.h"
#include "app/batch/text_output.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/review/review.h"
#include "core/shortest_text.h"
#include "storage/garage.h"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace rw::batch {

namespace {

using Json = nlohmann::ordered_json;

std::string heading(const std::string& name, Id id, const std::string& rest) {
    return Ink().heading(escapeControls(name)) + "  " + toString(id) +
           (rest.empty() ? "" : "  " + escapeControls(rest)) + "\n";
}

std::string paragraph(const std::string& text) { return text.empty() ? "" : wrapped(escapeControls(text)) + "\n"; }

// A number, a word, a list; a table is named by its length.
std::string valueText(const PlanField* field, const Value& value) {
    if (value.number) return shortestText(*value.number);
    if (field == nullptr || field->kind != FieldKind::OcvTable) return escapeControls(value.text);
    const auto rows = std::ranges::count(value.text, '[') - 1;
    return "table of " + std::to_string(rows) + " rows";
}

std::string valuesText(const Values& values) {
    Table table{"<", "<", "", "<", "±", "<"};
    std::string_view group;
    for (const auto& [key, value] : values) {
        const PlanField* field = findPlanField(key);
        const std::string_view here = std::string_view(key).substr(0, key.find('.'));
        table.row(
            {here == group ? "" : escapeControls(here),
             field == nullptr ? escapeControls(key) : std::string(field->label), valueText(field, value),
             field == nullptr ? "" : std::string(field->unit),
             value.uncertainty ? shortestText(*value.uncertainty) : "",
             std::string(sourceName(value.source)) + (value.note.empty() ? "" : ", " + escapeControls(value.note))});
        group = here;
    }
    return table.empty() ? "" : table.text(Ink());
}

std::string setupText(Garage& garage, Id id) {
    const Setup s = garage.setup(id);
    std::string out = heading(
        s.name, id, "revision " + std::to_string(s.revision) + (s.parent ? ", from " + toString(*s.parent) : ""));
    out += paragraph(s.reason) + paragraph(s.notes);
    Table parts{"<", "<", "<"};
    for (const auto& [word, part] : setupParts)
        parts.row({word, escapeControls(garage.part(s.*part).name), toString(s.*part)});
    out += parts.text(Ink());
    if (s.parent) {
        Table changes{"<changed", "was", "is"};
        for (const Difference& d : garage.difference(*s.parent, id)) {
            const PlanField* field = findPlanField(d.key);
            const auto text = [field](const std::optional<Value>& v) {
                return v ? valueText(field, *v) : std::string("-");
            };
            changes.row({field == nullptr ? d.key : std::string(field->label), text(d.was), text(d.is)});
        }
        if (!changes.empty()) out += "\n" + changes.text(Ink());
    }
    return out + "\n" + valuesText(s.values);
}

std::string passText(Garage& garage, Id id) {
    const StoredPass p = garage.pass(id);
    std::string out = heading("Pass " + std::to_string(p.index + 1), id, "of " + toString(p.log) + ", " + p.when);
    out += paragraph(p.notes);
    const Figures figures = garage.figures(id);
    Table table{"<", "", "<"};
    for (const PassFigure& figure : passFigures())
        if (const auto found = figures.find(figure.key); found != figures.end())
            table.row({std::string(figure.title), fixed(found->second, figure.decimals), std::string(figure.unit())});
    for (const SpeedNote& note : p.noted)
        table.row({"noted, " + std::string(speedKindName(note.kind)),
                   fixed(note.mps, 2) + " ± " + fixed(note.uncertainty_mps, 2), "m/s"});
    return out + table.text(Ink());
}

std::string logText(Garage& garage, Id id) {
    const StoredLog l = garage.log(id);
    std::string out = heading(l.name, id,
                              std::to_string(l.rows) + " rows, " + std::to_string(l.size) + " bytes, kept in " +
                                  std::to_string(l.packedSize));
    out += paragraph(l.notes) + "  SHA-256 " + l.sha256 + "\n";
    Table table{"<", "m/s", "peak A", "motor °C"};
    PassFilter mine;
    mine.log = id;
    mine.order = PassFilter::Order::Oldest;
    for (const StoredPass& p : garage.passes(mine)) {
        const auto best = bestSpeed(p);
        table.row(
            {toString(p.id), best ? fixed(best->mps, 1) : "-", fixed(p.peakCurrent_A, 0), fixed(p.motorMax_C, 0)});
    }
    return out + (table.empty() ? "  no pass in it\n" : table.text(Ink()));
}

std::string outingText(Garage& garage, Id id) {
    const Outing o = garage.outing(id);
    std::string out = heading(o.name, id, o.date) + paragraph(o.notes);
    if (o.venue) out += "  at " + escapeControls(garage.part(*o.venue).name) + " (" + toString(*o.venue) + ")\n";
    for (const Id setup : o.setups)
        out += "  " + toString(setup) + "  " + escapeControls(garage.setup(setup).name) + "\n";
    for (const StoredLog& log : garage.logs(id))
        out += "  " + toString(log.id) + "  " + escapeControls(log.name) + "\n";
    return out + valuesText(o.weather);
}

std::string fitText(Garage& garage, Id id) {
    const Fit f = garage.fit(id);
    Table table{"<", "", "±", "before", "±", "<"};
    const auto known = [](const std::optional<double>& number) {
        return number ? shortestText(*number) : std::string();
    };
    for (const FittedParameter& p : f.parameters)
        table.row({escapeControls(p.key), p.determined ? shortestText(p.value) : "-", known(p.standardError),
                   known(p.before), known(p.beforeDeviation), escapeControls(p.whyNot)});
    const std::string became = f.accepted ? ", accepted as " + toString(*f.accepted) : "";
    return heading(f.name, id, counted(f.passes.size(), "pass") + became) + paragraph(f.notes) + table.text(Ink());
}

std::string text(Garage& garage, Id id) {
    switch (id.kind) {
    case ItemKind::Setup:
        return setupText(garage, id);
    case ItemKind::Pass:
        return passText(garage, id);
    case ItemKind::Log:
        return logText(garage, id);
    case ItemKind::Outing:
        return outingText(garage, id);
    case ItemKind::Fit:
        return fitText(garage, id);
    case ItemKind::Plan: {
        const StoredPlan p = garage.plan(id);
        return heading(p.name, id, (p.setup ? toString(*p.setup) + ", " : "") + p.program) + paragraph(p.notes);
    }
    case ItemKind::Session:
        throw InputError("ID", toString(id) + " is shown with its log");
    default: {
        const Part p = garage.part(id);
        return heading(p.name, id, p.description) + paragraph(p.notes) + paragraph(p.document) + valuesText(p.values);
    }
    }
}

// The item as the exchange document has it: the last one there is the one asked for, all that it refers to stands
// before it.
Json json(Garage& garage, Id id) {
    if (id.kind == ItemKind::Pass) {
        const StoredPass p = garage.pass(id);
        Json figures = Json::object();
        for (const auto& [key, value] : garage.figures(id))
            figures[key] = value;
        Json noted = Json::array();
        for (const SpeedNote& note : p.noted)
            noted.push_back({{"kind", speedKindName(note.kind)},
                             {"speed_mps", note.mps},
                             {"uncertainty_mps", note.uncertainty_mps}});
        return {{"id", toString(id)},
                {"log", toString(p.log)},
                {"session", toString(p.session)},
                {"when", p.when},
                {"start_s", p.start_s},
                {"end_s", p.end_s},
                {"complete", p.complete},
                {"direction", directionName(p.direction)},
                {"notes", p.notes},
                {"noted", noted},
                {"figures", figures}};
    }
    const Json document = Json::parse(garage.exportItem(id));
    for (const Json& item : document["items"])
        if (item["id"] == toString(id)) {
            Json out = item;
            out.erase("bytes");
            return out;
        }
    throw InputError("ID", toString(id) + " is shown with its log");
}

} // namespace

Report garageShow(const GarageAsked& asked) {
    const Id id = parseId(asked.id, "ID");
    Garage garage = Garage::open(asked.file);
    return {asked.json ? printed(json(garage, id)) : text(garage, id)};
}

} // namespace rw::batch
