// The full-text index. Kept by the program within each change's transaction. Private to storage.
#pragma once

#include "storage/item_store.h"

#include <set>

namespace rw::store {

// Everything that a change touched, by the file's own numbers.
struct Touched {
    std::set<Row> items, passes;
};
void reindex(Connection& connection, const Touched& touched);
void reindexAll(Connection& connection);
[[nodiscard]] std::vector<FoundItem> search(Connection& connection, const std::string& words, int limit);

} // namespace rw::store
