// From parts to a setup, from a plan input to parts and setup, and what differs between two revisions.
#include "core/error.h"
#include "storage/allowed.h"
#include "storage/evidence.h"
#include "storage/item_store.h"
#include "storage/plan_values.h"

#include <set>

namespace rw::store {

namespace {

Value textValue(std::string text) {
    Value out;
    out.text = std::move(text);
    return out;
}

bool differs(const Value& a, const Value& b) {
    return a.number != b.number || a.text != b.text || a.uncertainty != b.uncertainty || a.source != b.source;
}

void addTextDifference(std::vector<Difference>& out, const char* key, const std::string& was, const std::string& is) {
    if (was != is) out.push_back({key, textValue(was), textValue(is)});
}

// Values of one gear wheel: its module and the teeth of its role.
Values gearValues(const Values& all, std::string_view teethKey) {
    Values out;
    for (const std::string_view key : {std::string_view("gears.module_m"), teethKey})
        if (const auto found = all.find(key); found != all.end()) out.insert(*found);
    return out;
}

bool sameNumbers(const Values& a, const Values& wanted) {
    for (const auto& [key, value] : wanted) {
        const auto found = a.find(key);
        if (found == a.end() || found->second.number != value.number) return false;
    }
    return true;
}

std::string gearName(const Values& values, bool pinion) {
    const auto teeth = values.find(pinion ? "gears.pinion_teeth" : "gears.spur_teeth");
    const int count = teeth != values.end() && teeth->second.number ? static_cast<int>(*teeth->second.number) : 0;
    return std::string(pinion ? "pinion " : "spur ") + std::to_string(count);
}

// The gear wheel at hand with this module and these teeth, or a new one.
Id gearFor(Connection& connection, const Values& all, bool pinion) {
    Values wanted = gearValues(all, pinion ? "gears.pinion_teeth" : "gears.spur_teeth");
    for (const ItemHead& head : heads(connection, ItemKind::Gear, false))
        if (sameNumbers(values(connection, head.row), wanted)) return head.id;
    Part gear;
    gear.id.kind = ItemKind::Gear;
    gear.name = gearName(wanted, pinion);
    gear.values = std::move(wanted);
    return addPart(connection, gear);
}

Id addNamedPart(Connection& connection, ItemKind kind, const std::string& name, const Values& all,
                const std::string& document = {}) {
    Part part;
    part.id.kind = kind;
    part.name = name.empty() ? "new " + std::string(kindName(kind)) : name;
    part.document = document;
    part.values = valuesOf(kind, all);
    return addPart(connection, part);
}

// Numbers of a plan with where each comes from.
Values valuesWithOrigins(const PlanInput& input, const PlanParts& names) {
    Values all = valuesFromPlan(input, names.source);
    for (const auto& [key, origin] : names.sources)
        if (const auto value = all.find(key); value != all.end())
            value->second.source = origin.source, value->second.note = origin.note;
    return all;
}

// Pinion and spur that its numbers tell of.
void fitGears(Connection& connection, Setup& setup) {
    for (const bool pinion : {true, false}) {
        Id& gear = pinion ? setup.pinion : setup.spur;
        const Values wanted = gearValues(setup.values, pinion ? "gears.pinion_teeth" : "gears.spur_teeth");
        if (!sameNumbers(values(connection, rowOf(connection, gear)), wanted))
            gear = gearFor(connection, setup.values, pinion);
    }
}

bool followsLabels(const Value& value) { return value.source == Source::Label || value.source == Source::Estimated; }

// Takes what the labels say now; true where anything is another.
bool follow(Values& held, const Values& now) {
    const Values before = held;
    std::erase_if(held, [&](const auto& one) { return followsLabels(one.second) && !now.contains(one.first); });
    for (const auto& [key, value] : now) {
        const auto there = held.find(key);
        if (there != held.end() && !followsLabels(there->second)) continue;
        Value next = value;
        if (there != held.end()) next.unitShown = there->second.unitShown;
        held.insert_or_assign(key, std::move(next));
    }
    return held != before;
}

} // namespace

PlanInput planInput(Connection& connection, Id setupId, Id venue, const std::optional<Id>& outingId) {
    Setup all = setup(connection, setupId);
    const auto put = [&all](const Values& values) {
        for (const auto& [key, value] : values)
            all.values.insert_or_assign(key, value);
    };
    put(values(connection, rowOf(connection, venue, ItemKind::Venue)));
    if (outingId) put(outing(connection, *outingId).weather);
    return planFromValues(all.values, toString(setupId) + " at " + toString(venue), all.evidence);
}

Setup composeSetup(Connection& connection, Setup setup) {
    const Values before = setup.values;
    for (const Id id : partsOf(setup))
        for (const auto& [key, value] : values(connection, rowOf(connection, id)))
            setup.values.insert_or_assign(key, value);
    for (const bool pinion : {true, false}) {
        const Values all = values(connection, rowOf(connection, pinion ? setup.pinion : setup.spur));
        const Values wheel = gearValues(all, pinion ? "gears.pinion_teeth" : "gears.spur_teeth");
        if (wheel.size() < 2)
            throw InputError(pinion ? "pinion" : "spur",
                             "this gear has no module or no teeth as a " + std::string(pinion ? "pinion" : "spur"));
        for (const auto& [key, value] : wheel)
            setup.values.insert_or_assign(key, value);
    }
    setup.evidence = stillHeld(std::move(setup.evidence), before, setup.values);
    return setup;
}

std::vector<Difference> difference(Connection& connection, Id wasId, Id isId) {
    const Setup was = setup(connection, wasId);
    const Setup is = setup(connection, isId);
    std::vector<Difference> out;
    for (const auto& [word, id] : setupParts)
        if (was.*id != is.*id)
            out.push_back({word, textValue(head(connection, was.*id).name), textValue(head(connection, is.*id).name)});
    std::set<std::string_view> keys;
    for (const Setup* one : {&was, &is})
        for (const auto& entry : one->values)
            keys.insert(entry.first);
    for (const std::string_view key : keys) {
        const auto a = was.values.find(key);
        const auto b = is.values.find(key);
        const bool inBoth = a != was.values.end() && b != is.values.end();
        if (inBoth && !differs(a->second, b->second)) continue;
        out.push_back({std::string(key), a == was.values.end() ? std::nullopt : std::optional(a->second),
                       b == is.values.end() ? std::nullopt : std::optional(b->second)});
    }
    addTextDifference(out, "name", was.name, is.name);
    addTextDifference(out, "notes", was.notes, is.notes);
    return out;
}

PlanIds addSetupFromPlan(Connection& connection, const PlanInput& input, const PlanParts& names) {
    checkPlanInput(input, names.setup.empty() ? "plan" : names.setup);
    const Values all = valuesWithOrigins(input, names);
    PlanIds out;
    Setup made;
    made.name = names.setup.empty() ? "new setup" : names.setup;
    made.vehicle = addNamedPart(connection, ItemKind::Vehicle, names.vehicle, all, names.labels);
    made.motor = addNamedPart(connection, ItemKind::Motor, names.motor, all);
    made.controller = addNamedPart(connection, ItemKind::Controller, names.controller, all);
    made.pack = addNamedPart(connection, ItemKind::Pack, names.pack, all);
    made.tyre = addNamedPart(connection, ItemKind::Tyre, names.tyre, all);
    made.pinion = gearFor(connection, all, true);
    made.spur = gearFor(connection, all, false);
    made.values = valuesOf(ItemKind::Setup, all);
    made.evidence = {input.correlation, input.learned};
    out.venue = addNamedPart(connection, ItemKind::Venue, names.venue, all, names.labels);
    out.setup = addSetup(connection, made);
    return out;
}

Id reviseFromPlan(Connection& connection, Id id, const PlanInput& edited, const std::string& reason,
                  std::optional<Id> pack) {
    checkPlanInput(edited, toString(id));
    Setup next = setup(connection, id);
    Values values = valuesOf(ItemKind::Setup, valuesFromPlan(edited, Source::Guess));
    for (auto& [key, value] : values) {
        const auto before = next.values.find(key);
        if (before == next.values.end()) continue;
        value.unitShown = before->second.unitShown;
        if (before->second.number != value.number || before->second.text != value.text) continue;
        value.source = before->second.source;
        value.note = before->second.note;
    }
    next.values = std::move(values);
    next.evidence = {edited.correlation, edited.learned};
    if (pack) next.pack = *pack;
    fitGears(connection, next);
    return insertRevision(connection, next, reason);
}

Id relabel(Connection& connection, const Relabelled& edited) {
    checkPlanInput(edited.plan, toString(edited.setup));
    const Values all = valuesWithOrigins(edited.plan, edited.origins);
    Setup next = setup(connection, edited.setup);
    std::vector<Id> parts = partsOf(next);
    if (edited.venue) parts.push_back(*edited.venue);
    for (const Id id : parts) {
        Part held = part(connection, id);
        bool changed = follow(held.values, valuesOf(id.kind, all));
        const bool tells = id.kind == ItemKind::Vehicle || id.kind == ItemKind::Venue;
        if (tells && held.document != edited.origins.labels) held.document = edited.origins.labels, changed = true;
        if (changed) updatePart(connection, held);
    }
    const Values before = next.values;
    if (!follow(next.values, valuesOf(ItemKind::Setup, all))) return edited.setup;
    next.evidence = stillHeld(std::move(next.evidence), before, next.values);
    fitGears(connection, next);
    return insertRevision(connection, next, edited.reason);
}

} // namespace rw::store
