// Plans. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

[[nodiscard]] StoredPlan plan(Connection& connection, Id id);
[[nodiscard]] std::vector<StoredPlan> plans(Connection& connection, const std::optional<Id>& setup, bool retired);
Id addPlan(Connection& connection, const StoredPlan& plan);
void updatePlan(Connection& connection, const StoredPlan& plan);

} // namespace rw::store
