// Outings. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

[[nodiscard]] Outing outing(Connection& connection, Id id);
[[nodiscard]] std::vector<Outing> outings(Connection& connection, bool retired);
Id addOuting(Connection& connection, const Outing& outing);
void updateOuting(Connection& connection, const Outing& outing);

} // namespace rw::store
