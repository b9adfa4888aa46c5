// Items: what every named thing has, the numbers that hang on it, and what its kind adds; logs: log_store.h. Within a
// transaction of the caller. Private to storage.
#pragma once

#include "storage/connection.h"
#include "storage/garage.h"
#include "storage/values.h"

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace rw::store {

using Row = std::int64_t; // item.id: the file's own number of an item

[[nodiscard]] std::string programName(); // "runwright 0.1.0", as documents carry it

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
    out.created = head.created;
    if constexpr (requires { out.version; }) out.changed = head.changed, out.version = head.version;
    return out;
}
// The head of a thing that is to be stored.
template<class Thing>
[[nodiscard]] ItemHead headOf(const Thing& thing) {
    ItemHead out{0, thing.id, thing.name, "", thing.notes, "", thing.retired, thing.created, "", 0};
    if constexpr (requires { thing.description; }) out.description = thing.description, out.document = thing.document;
    if constexpr (requires { thing.version; }) out.version = thing.version;
    return out;
}

[[nodiscard]] Row rowOf(Connection& connection, Id id);                // throws NotFound
[[nodiscard]] Row rowOf(Connection& connection, Id id, ItemKind kind); // and InputError where it is of another kind
[[nodiscard]] std::optional<Row> rowOf(Connection& connection, const std::optional<Id>& id, ItemKind kind);

[[nodiscard]] GarageError notInGarage(Id id);
[[nodiscard]] GarageError halfThere(Id id); // its head without the rest

void allowHead(const std::string& name, const std::string& notes); // throws InputError
[[nodiscard]] ItemHead head(Connection& connection, Id id);
[[nodiscard]] std::vector<ItemHead> heads(Connection& connection, ItemKind kind, bool retired); // by name, then number
// Gives number, times and version; times that are given already are kept.
Row insertHead(Connection& connection, ItemHead& head);
// name, description, notes and document; Refused where the item is no longer at head.version.
void updateHead(Connection& connection, const ItemHead& head);
// Of a thing of its own kind, whose name and notes alone may change.
template<class Thing>
void updateNamed(Connection& connection, const Thing& thing) {
    allowHead(thing.name, thing.notes);
    static_cast<void>(rowOf(connection, thing.id, Thing().id.kind));
    updateHead(connection, headOf(thing));
}
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

// Setups and their revisions: setup_store.cpp, setup_plan.cpp.
[[nodiscard]] Setup setup(Connection& connection, Id id);
[[nodiscard]] std::vector<Setup> setups(Connection& connection, const std::optional<Id>& vehicle, bool retired);
[[nodiscard]] std::vector<Setup> revisions(Connection& connection, Id setup);
Id addSetup(Connection& connection, const Setup& setup);
Id revise(Connection& connection, const Setup& edited, const std::string& reason);
// As revise, its evidence as given.
Id insertRevision(Connection& connection, Setup edited, const std::string& reason);
[[nodiscard]] int newestRevision(Connection& connection, Id first); // of a line
// As given: revision, first and parent too (first 0: itself). For import.
Id insertSetup(Connection& connection, const Setup& setup);

[[nodiscard]] std::vector<Id> partsOf(const Setup& setup); // all but its gear wheels
// `outing`: the day's weather in place of the venue's.
[[nodiscard]] PlanInput planInput(Connection& connection, Id setup, Id venue, const std::optional<Id>& outing);
[[nodiscard]] Setup composeSetup(Connection& connection, Setup setup);
[[nodiscard]] std::vector<Difference> difference(Connection& connection, Id was, Id is);
PlanIds addSetupFromPlan(Connection& connection, const PlanInput& input, const PlanParts& names);
Id reviseFromPlan(Connection& connection, Id setup, const PlanInput& edited, const std::string& reason,
                  std::optional<Id> pack = {});
Id relabel(Connection& connection, const Relabelled& edited);

// Outings: outing_store.cpp.
[[nodiscard]] Outing outing(Connection& connection, Id id);
[[nodiscard]] std::vector<Outing> outings(Connection& connection, bool retired);
Id addOuting(Connection& connection, const Outing& outing);
void updateOuting(Connection& connection, const Outing& outing);

// Plans: plan_store.cpp.
[[nodiscard]] StoredPlan plan(Connection& connection, Id id);
[[nodiscard]] std::vector<StoredPlan> plans(Connection& connection, const std::optional<Id>& setup, bool retired);
Id addPlan(Connection& connection, const StoredPlan& plan);

// Fits, and what became of them: fit_store.cpp, fit_accept.cpp.
[[nodiscard]] Fit fit(Connection& connection, Id id);
[[nodiscard]] std::vector<Fit> fits(Connection& connection, const std::optional<Id>& setup, bool retired);
Id addFit(Connection& connection, const Fit& fit);    // not accepted yet; refused as Garage::addFit says
Id insertFit(Connection& connection, const Fit& fit); // as given, for import
void putTaken(Connection& connection, Id fit, Id accepted, const std::vector<FittedValue>& taken);

[[nodiscard]] std::vector<Id> passesCounted(Connection& connection, Id setup);
void requireUncounted(Connection& connection, Id setup, const std::vector<Id>& passes); // throws Refused
Id acceptFit(Connection& connection, Id fit, const FitAcceptance& how);
[[nodiscard]] std::vector<FittedPoint> fittedHistory(Connection& connection, Id part);

// The exchange document, version 1, resources/garage-exchange.schema.json: exchange_write.cpp, exchange_read.cpp.
[[nodiscard]] std::string exportItem(Connection& connection, Id root);
ImportedItems importItems(Connection& connection, const std::string& document, const std::string& fileName);

// The full-text index, kept by the program within each change's transaction: search.cpp.
struct Touched { // all that a change touched, by the file's own numbers
    std::set<Row> items, passes;
};
void reindex(Connection& connection, const Touched& touched);
void reindexAll(Connection& connection);
[[nodiscard]] std::vector<FoundItem> search(Connection& connection, const std::string& words, int limit);

} // namespace rw::store
