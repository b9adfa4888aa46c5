// Fits, and what became of them. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/garage.h"
#include "storage/item_store.h"

namespace rw::store {

[[nodiscard]] Fit fit(Connection& connection, Id id);
[[nodiscard]] std::vector<Fit> fits(Connection& connection, const std::optional<Id>& setup, bool retired);
Id addFit(Connection& connection, const Fit& fit);    // not accepted yet; refused as Garage::addFit says
Id insertFit(Connection& connection, const Fit& fit); // as given, for import
void updateFit(Connection& connection, const Fit& fit);
void putTaken(Connection& connection, Id fit, Id accepted, const std::vector<FittedValue>& taken);

[[nodiscard]] std::vector<Id> passesCounted(Connection& connection, Id setup);
void requireUncounted(Connection& connection, Id setup, const std::vector<Id>& passes); // throws Refused
Id acceptFit(Connection& connection, Id fit, const FitAcceptance& how);
[[nodiscard]] std::vector<FittedPoint> fittedHistory(Connection& connection, Id part);

} // namespace rw::store
