#include "storage/log_store.h"

#include "core/error.h"
#include "storage/allowed.h"
#include "storage/codec.h"

#include <nlohmann/json.hpp>

#include <set>

namespace rw::store {

namespace {

std::optional<double> figure(const Figures& figures, std::string_view key) {
    const auto found = figures.find(key);
    return found == figures.end() ? std::nullopt : std::optional(found->second);
}

std::string figuresJson(const Figures& figures) { return nlohmann::json(figures).dump(); }

std::int64_t sessionRow(Connection& connection, Row log, int place) {
    if (const auto row = connection.maybeNumber("SELECT id FROM session WHERE log = ? AND place = ?", log, place))
        return *row;
    throw InputError("passes", "a pass names session " + std::to_string(place) + ", which is not there");
}

void putSession(Connection& connection, Row log, int place, const SessionRecord& s) {
    connection.run(
        R"(INSERT INTO session (log, place, start_row, end_row, start_line, end_line, start_s, duration_s, cells,
  resting_V, setup, pack) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12) ON CONFLICT (log, place) DO UPDATE
  SET start_row = ?3, end_row = ?4, start_line = ?5, end_line = ?6, start_s = ?7, duration_s = ?8, cells = ?9,
  resting_V = ?10)",
        log, place, s.startRow, s.endRow, s.startLine, s.endLine, s.start_s, s.duration_s, s.cells, s.resting_V,
        rowOf(connection, s.setup, ItemKind::Setup), rowOf(connection, s.pack, ItemKind::Pack));
}

void putPass(Connection& connection, Row log, int place, const PassRecord& p) {
    const auto of = [&p](std::string_view key) { return figure(p.figures, key); };
    const std::int64_t session = sessionRow(connection, log, p.session);
    const int version = nextChange(connection);
    const std::int64_t row = connection.number(
        R"(INSERT INTO pass (log, session, place, start_s, end_s, complete, direction, notes, version, zone_speed_mps,
  speed_peak_mps, wheel_peak_mps, peak_A, min_cell_V, motor_max_C, pack_start_C, pack_ohm, pack_ohm_se, charge_Ah)
  VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19) ON CONFLICT (log,
  place) DO UPDATE SET session = ?2, start_s = ?4, end_s = ?5, complete = ?6, version = ?9, zone_speed_mps = ?10,
  speed_peak_mps = ?11, wheel_peak_mps = ?12, peak_A = ?13, min_cell_V = ?14, motor_max_C = ?15, pack_start_C = ?16,
  pack_ohm = ?17, pack_ohm_se = ?18, charge_Ah = ?19 RETURNING id)",
        log, session, place, p.start_s, p.end_s, p.complete, static_cast<int>(p.direction), p.notes, version,
        of("zone_speed_mps"), of("speed_peak_mps"), of("wheel_peak_mps"), of("peak_A"), of("min_cell_V"),
        of("motor_max_C"), of("pack_start_C"), of("pack_ohm"), of("pack_ohm_se"), of("charge_Ah"));
    const std::string json = figuresJson(p.figures);
    connection.run("INSERT INTO pass_figures (pass, json) VALUES (?1, ?2) ON CONFLICT (pass) DO UPDATE SET json = ?2",
                   row, json);
    if (!p.noted.empty()) putNoted(connection, row, p.noted);
}

void putReview(Connection& connection, Row log, const std::string& review) {
    const std::string packed = zstdPack(review);
    connection.run("INSERT INTO log_review (log, zstd) VALUES (?1, ?2) ON CONFLICT (log) DO UPDATE SET zstd = ?2", log,
                   Query::Blob{packed});
}

void putTrack(Connection& connection, Row log, const std::string& track) {
    connection.run("DELETE FROM log_track WHERE log = ?", log);
    if (track.empty()) return;
    const std::string packed = zstdPack(track);
    connection.run("INSERT INTO log_track (log, zstd) VALUES (?, ?)", log, Query::Blob{packed});
}

} // namespace

void allowNoted(const std::vector<SpeedNote>& noted) {
    constexpr double fastest = 200.0; // m/s
    std::set<SpeedKind> kinds;
    for (const SpeedNote& speed : noted) {
        if (speed.kind == SpeedKind::PeakWheel || !kinds.insert(speed.kind).second)
            throw InputError("noted speed", "a pass has at most one mean over the zone and one peak that were noted");
        if (!(speed.mps > 0.0 && speed.mps <= fastest)) throw InputError("noted speed", "expected over 0 to 200 m/s");
        if (!(speed.uncertainty_mps > 0.0 && speed.uncertainty_mps <= fastest))
            throw InputError("noted speed", "its standard uncertainty: expected over 0 to 200 m/s");
    }
}

void putNoted(Connection& connection, std::int64_t pass, const std::vector<SpeedNote>& noted) {
    connection.run("DELETE FROM pass_noted WHERE pass = ?", pass);
    for (const SpeedNote& speed : noted)
        connection.run("INSERT INTO pass_noted (pass, kind, speed_mps, uncertainty_mps) VALUES (?, ?, ?, ?)", pass,
                       static_cast<int>(speed.kind), speed.mps, speed.uncertainty_mps);
}

void allowSession(const SessionRecord& session) {
    allowNumber("session start", session.start_s);
    allowNumber("session duration", session.duration_s);
    if (session.resting_V) allowNumber("session resting voltage", *session.resting_V);
}

void allowPass(const PassRecord& pass, std::size_t sessions) {
    allowNumber("pass start", pass.start_s);
    allowNumber("pass end", pass.end_s);
    allowText("pass notes", pass.notes, longestNotes);
    allowNoted(pass.noted);
    if (pass.session < 0 || static_cast<std::size_t>(pass.session) >= sessions)
        throw InputError("passes", "a pass names session " + std::to_string(pass.session) + ", which is not there");
    if (pass.figures.size() > 500) throw InputError("pass figures", "are more than 500");
    for (const auto& [key, value] : pass.figures) {
        allowName("pass figure", key);
        allowNumber(key, value);
    }
}

// What was said of sessions and passes, where the record says it; else what is there stays.
void putSaid(Connection& connection, Row log, const LogRecord& record) {
    for (std::size_t i = 0; i < record.sessions.size(); ++i)
        connection.run("UPDATE session SET setup = ?, pack = ? WHERE log = ? AND place = ?",
                       rowOf(connection, record.sessions[i].setup, ItemKind::Setup),
                       rowOf(connection, record.sessions[i].pack, ItemKind::Pack), log, static_cast<int>(i));
    for (std::size_t i = 0; i < record.passes.size(); ++i) {
        const PassRecord& pass = record.passes[i];
        if (pass.direction != Direction::Unknown)
            connection.run("UPDATE pass SET direction = ? WHERE log = ? AND place = ?",
                           static_cast<int>(pass.direction), log, static_cast<int>(i));
        if (!pass.notes.empty())
            connection.run("UPDATE pass SET notes = ? WHERE log = ? AND place = ?", pass.notes, log,
                           static_cast<int>(i));
    }
}

void putParts(Connection& connection, Row log, const LogRecord& record) {
    putTrack(connection, log, record.track);
    putReview(connection, log, record.review);
    for (std::size_t i = 0; i < record.sessions.size(); ++i)
        putSession(connection, log, static_cast<int>(i), record.sessions[i]);
    for (std::size_t i = 0; i < record.passes.size(); ++i)
        putPass(connection, log, static_cast<int>(i), record.passes[i]);
}

void replaceParts(Connection& connection, Row log, const LogRecord& record) {
    putParts(connection, log, record);
    const int passes = static_cast<int>(record.passes.size());
    const std::int64_t fitted = connection.number(
        "SELECT count(*) FROM fit_pass f JOIN pass p ON p.id = f.pass WHERE p.log = ? AND p.place >= ?", log, passes);
    if (fitted > 0)
        throw GarageError(GarageError::Kind::Refused,
                          "a fit refers to a pass that this cut would take away; remove the fit first");
    connection.run("DELETE FROM pass_figures WHERE pass IN (SELECT id FROM pass WHERE log = ? AND place >= ?)", log,
                   passes);
    connection.run("DELETE FROM pass_noted WHERE pass IN (SELECT id FROM pass WHERE log = ? AND place >= ?)", log,
                   passes);
    connection.run("DELETE FROM pass WHERE log = ? AND place >= ?", log, passes);
    connection.run("DELETE FROM session WHERE log = ? AND place >= ?", log, static_cast<int>(record.sessions.size()));
}

} // namespace rw::store
