// What the screens ask of the past. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

[[nodiscard]] std::vector<TimeLineEntry> timeLine(Connection& connection, Id vehicle);
[[nodiscard]] std::vector<PackPoint> packHistory(Connection& connection, Id pack);
[[nodiscard]] std::vector<MotorPoint> motorHistory(Connection& connection, Id motor);
[[nodiscard]] std::vector<BestPass> bestPasses(Connection& connection, const std::optional<Id>& vehicle, int limit);
[[nodiscard]] std::string passesCsv(Connection& connection, const PassFilter& filter);

} // namespace rw::store
