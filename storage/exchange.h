// The exchange document, version 1: resources/garage-exchange.schema.json. Within a transaction of the caller. Private
// to storage.
#pragma once

#include "storage/garage.h"
#include "storage/item_store.h"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace rw::store {

inline constexpr std::string_view exchangeName = "garage-exchange";
inline constexpr int exchangeVersion = 1;
inline constexpr std::size_t largestExchange = 256'000'000; // bytes of the document

[[nodiscard]] std::string exportItem(Connection& connection, Id root);
ImportedItems importItems(Connection& connection, const std::string& document, const std::string& fileName);

// One item as the document has it. Throws InputError for a session or a pass.
[[nodiscard]] nlohmann::ordered_json exchangeJson(Connection& connection, Id id);

} // namespace rw::store
