// Sessions and passes of a log, row by row. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/item_store.h"

namespace rw::store {

void allowSession(const SessionRecord& session);
void allowPass(const PassRecord& pass, std::size_t sessions);
void allowNoted(const std::vector<SpeedNote>& noted);

void putReview(Connection& connection, Row log, const std::string& review);
void putTrack(Connection& connection, Row log, const std::string& track); // "": none
void putNoted(Connection& connection, std::int64_t pass, const std::vector<SpeedNote>& noted);
// Setups and packs of the sessions as the record says; directions and notes of passes where it says some.
void putSaid(Connection& connection, Row log, const LogRecord& record);
void putSessions(Connection& connection, Row log, const std::vector<SessionRecord>& sessions);
void putPasses(Connection& connection, Row log, const std::vector<PassRecord>& passes);
// Those at the same place keep their ids, what the owner said of them, and everything that refers to them.
void replaceParts(Connection& connection, Row log, const LogRecord& record);

} // namespace rw::store
