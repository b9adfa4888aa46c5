// From parts to a setup, from a plan input to parts and setup, and what differs between two revisions.
#include "core/error.h"
#include "storage/allowed.h"
#include "storage/evidence.h"
#include "storage/item_store.h"
#include "storage/plan_values.h"

#include <algorithm>
#include <array>
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

struct Wheel {
    const char* name;
    const char* teeth; // key
    Id Setup::*id;
};
constexpr std::array wheels{Wheel{"pinion", "gears.pinion_teeth", &Setup::pinion},
                            Wheel{"spur", "gears.spur_teeth", &Setup::spur}};

// Values of one gear wheel: its module and the teeth of its role.
Values wheelValues(const Values& all, const Wheel& wheel) {
    Values out;
    for (const char* const key : {"gears.module_m", wheel.teeth})
        if (const Value* const value = valueOf(all, key)) out.emplace(key, *value);
    return out;
}

bool sameNumbers(const Values& a, const Values& wanted) {
    return std::ranges::all_of(wanted, [&a](const auto& one) {
        const Value* const found = valueOf(a, one.first);
        return found != nullptr && found->number == one.second.number;
    });
}

// The gear wheel at hand with the setup's module and teeth, or a new one.
Id wheelFor(Connection& connection, const Values& all, const Wheel& wheel) {
    Values wanted = wheelValues(all, wheel);
    for (const ItemHead& head : heads(connection, ItemKind::Gear, false))
        if (sameNumbers(values(connection, head.row), wanted)) return head.id;
    Part gear;
    gear.id.kind = ItemKind::Gear;
    gear.name =
        std::string(wheel.name) + " " + std::to_string(static_cast<int>(numberOf(wanted, wheel.teeth).value_or(0.0)));
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
    for (const Wheel& wheel : wheels)
        if (!sameNumbers(values(connection, rowOf(connection, setup.*wheel.id)), wheelValues(setup.values, wheel)))
            setup.*wheel.id = wheelFor(connection, setup.values, wheel);
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
    for (const Wheel& wheel : wheels) {
        const Values own = wheelValues(values(connection, rowOf(connection, setup.*wheel.id)), wheel);
        if (own.size() < 2)
            throw InputError(wheel.name, std::string("this gear has no module or no teeth as a ") + wheel.name);
        for (const auto& [key, value] : own)
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
        const Value *const a = valueOf(was.values, key), *const b = valueOf(is.values, key);
        if (a != nullptr && b != nullptr && !differs(*a, *b)) continue;
        out.push_back({std::string(key), a == nullptr ? std::nullopt : std::optional(*a),
                       b == nullptr ? std::nullopt : std::optional(*b)});
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
    for (const Wheel& wheel : wheels)
        made.*wheel.id = wheelFor(connection, all, wheel);
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
        const Value* const before = valueOf(next.values, key);
        if (before == nullptr) continue;
        value.unitShown = before->unitShown;
        if (before->number == value.number && before->text == value.text)
            value.source = before->source, value.note = before->note;
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
