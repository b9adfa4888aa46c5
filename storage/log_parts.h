// Sessions and passes of a log, row by row. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

void allowSession(const SessionRecord& session);
void allowPass(const PassRecord& pass, std::size_t sessions);

void putReview(Connection& connection, Row log, const std::string& review);
void putSessions(Connection& connection, Row log, const std::vector<SessionRecord>& sessions);
void putPasses(Connection& connection, Row log, const std::vector<PassRecord>& passes);
// Those at the same place keep their ids, what the owner said of them, and everything that refers to them.
void replaceParts(Connection& connection, Row log, const LogRecord& record);

} // namespace rw::store
