// Setups and their revisions. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/garage.h"
#include "storage/item_store.h"

namespace rw::store {

[[nodiscard]] Setup setup(Connection& connection, Id id);
[[nodiscard]] std::vector<Setup> setups(Connection& connection, const std::optional<Id>& vehicle, bool retired);
[[nodiscard]] std::vector<Setup> revisions(Connection& connection, Id setup);
Id addSetup(Connection& connection, const Setup& setup);
Id revise(Connection& connection, const Setup& edited, const std::string& reason);
// As revise, its evidence as given.
Id insertRevision(Connection& connection, Setup edited, const std::string& reason);
// As given: revision, first and parent too (first 0: itself). For import.
Id insertSetup(Connection& connection, const Setup& setup);

// `outing`: the day's weather in place of the venue's.
[[nodiscard]] PlanInput planInput(Connection& connection, Id setup, Id venue, const std::optional<Id>& outing);
[[nodiscard]] Setup composeSetup(Connection& connection, Setup setup);
[[nodiscard]] std::vector<Difference> difference(Connection& connection, Id was, Id is);
PlanIds addSetupFromPlan(Connection& connection, const PlanInput& input, const PlanParts& names);
Id reviseFromPlan(Connection& connection, Id setup, const PlanInput& edited, const std::string& reason,
                  std::optional<Id> pack = {});
Id relabel(Connection& connection, const Relabelled& edited);

} // namespace rw::store
