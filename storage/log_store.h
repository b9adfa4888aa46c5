// Logs with their bytes, sessions and passes. Within a transaction of the caller. Private to storage.
#pragma once

#include "storage/garage.h"
#include "storage/item_store.h"

namespace rw::store {

AddedLog addLog(Connection& connection, const LogRecord& log, const LogCompany& with = {});
AddedLog keepLog(Connection& connection, const LogRecord& log, const LogCompany& with);
[[nodiscard]] std::vector<StoredLog> logs(Connection& connection, const std::optional<Id>& outing, bool retired);
[[nodiscard]] StoredLog log(Connection& connection, Id id);
[[nodiscard]] std::optional<Id> findLog(Connection& connection, const std::string& sha256);
[[nodiscard]] PackedLog packedLog(Connection& connection, Id log);      // as stored, not checked
[[nodiscard]] std::string unpackedLog(const PackedLog& packed, Id log); // checked: throws Damaged
[[nodiscard]] std::string logReview(Connection& connection, Id log);
[[nodiscard]] std::string logTrack(Connection& connection, Id log);
void updateLog(Connection& connection, const StoredLog& log);
void replaceReview(Connection& connection, Id log, const LogRecord& record);

[[nodiscard]] std::vector<StoredSession> sessions(Connection& connection, Id log);
void setSession(Connection& connection, Id session, const std::optional<Id>& setup, const std::optional<Id>& pack);
// The session's own setup and pack, not those of its log.
[[nodiscard]] std::vector<SessionRecord> ownSessions(Connection& connection, Id log);

[[nodiscard]] std::vector<StoredPass> passes(Connection& connection, const PassFilter& filter);
[[nodiscard]] StoredPass pass(Connection& connection, Id id);
[[nodiscard]] Figures figures(Connection& connection, Id pass);
void noteSpeeds(Connection& connection, Id pass, const std::vector<SpeedNote>& noted);
void notePass(Connection& connection, Id pass, Direction direction, const std::string& notes);
[[nodiscard]] std::vector<PassRecord> passRecords(Connection& connection, Id log);

} // namespace rw::store
