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

// Sessions and passes of a log, row by row: log_parts.cpp.
void allowSession(const SessionRecord& session);
void allowPass(const PassRecord& pass, std::size_t sessions);
void allowNoted(const std::vector<SpeedNote>& noted);

void putNoted(Connection& connection, std::int64_t pass, const std::vector<SpeedNote>& noted);
// Setups and packs of the sessions as the record says; directions and notes of passes where it says some.
void putSaid(Connection& connection, Row log, const LogRecord& record);
// Review, track, sessions and passes as the record says.
void putParts(Connection& connection, Row log, const LogRecord& record);
// As putParts, and no others; those at the same place keep their ids, what the owner said of them, and everything that
// refers to them.
void replaceParts(Connection& connection, Row log, const LogRecord& record);

// What the screens ask of the past: history.cpp.
[[nodiscard]] std::vector<TimeLineEntry> timeLine(Connection& connection, Id vehicle);
[[nodiscard]] std::vector<PackPoint> packHistory(Connection& connection, Id pack);
[[nodiscard]] std::vector<MotorPoint> motorHistory(Connection& connection, Id motor);
[[nodiscard]] std::vector<BestPass> bestPasses(Connection& connection, const std::optional<Id>& vehicle, int limit);
[[nodiscard]] std::string passesCsv(Connection& connection, const PassFilter& filter);

} // namespace rw::store
