#include "core/review/review.h"
#include "core/shortest_text.h"
#include "storage/log_record.h"
#include "storage/log_store.h"

#include <algorithm>

namespace rw::store {

namespace {

// Everything but passes that belongs to a revision of one vehicle's setups, as (kind, number, name, when, setup,
// revision, text).
constexpr const char* entriesSql = R"(
WITH mine AS (SELECT s.item, s.revision, s.reason, i.number FROM setup s JOIN item i ON i.id = s.item WHERE s.vehicle = ?1)
SELECT i.kind, i.number, i.name, i.created AS at, i.number, m.revision, m.reason
  FROM mine m JOIN item i ON i.id = m.item WHERE i.retired = 0
UNION ALL SELECT i.kind, i.number, i.name, coalesce(nullif(o.date, ''), i.created), max(m.number), m.revision, i.notes
  FROM mine m JOIN outing_setup x ON x.setup = m.item JOIN outing o ON o.item = x.outing JOIN item i ON i.id = o.item
  WHERE i.retired = 0 GROUP BY i.id
UNION ALL SELECT i.kind, i.number, i.name, coalesce(nullif(o.date, ''), nullif(l.started, ''), i.created), m.number,
  m.revision, i.notes FROM mine m JOIN log l ON l.setup = m.item JOIN item i ON i.id = l.item
  LEFT JOIN outing o ON o.item = l.outing WHERE i.retired = 0
UNION ALL SELECT i.kind, i.number, i.name, i.created, m.number, m.revision, i.notes
  FROM mine m JOIN plan p ON p.setup = m.item JOIN item i ON i.id = p.item WHERE i.retired = 0
UNION ALL SELECT i.kind, i.number, i.name, i.created, m.number, m.revision, i.notes
  FROM mine m JOIN fit f ON f.setup = m.item JOIN item i ON i.id = f.item WHERE i.retired = 0)";

// Of two neighbouring passes noted as there and back; none where they are no such pair.
std::optional<double> bothWays(const StoredPass& a, const StoredPass& b) {
    const bool opposite = (a.direction == Direction::There && b.direction == Direction::Back) ||
                          (a.direction == Direction::Back && b.direction == Direction::There);
    if (!opposite || a.log != b.log || a.setup != b.setup || b.index != a.index + 1) return std::nullopt;
    for (const SpeedKind kind : {SpeedKind::ZoneMean, SpeedKind::Peak, SpeedKind::PeakWheel}) {
        const auto one = speedOf(a, kind), other = speedOf(b, kind);
        if (one && other) return 0.5 * (*one + *other);
    }
    return std::nullopt;
}

void considerBothWays(BestPass& best, const StoredPass& a, const StoredPass& b) {
    const auto mean = bothWays(a, b);
    if (!mean || (best.bothWays_mps && *best.bothWays_mps >= *mean)) return;
    best.bothWays_mps = mean;
    best.there = a.direction == Direction::There ? a.id : b.id;
    best.back = a.direction == Direction::There ? b.id : a.id;
}

// One figure of those that are kept as an object of numbers: reading all of each of ten thousand passes takes long.
std::optional<double> figureIn(std::string_view json, std::string_view key) {
    const std::string name = "\"" + std::string(key) + "\":";
    const std::size_t at = json.find(name);
    if (at == std::string_view::npos) return std::nullopt;
    double out = 0.0;
    const auto [end, error] = std::from_chars(json.data() + at + name.size(), json.data() + json.size(), out);
    return error == std::errc() ? std::optional(out) : std::nullopt;
}

PassFilter oldestFirst(std::optional<Id> PassFilter::*of, const std::optional<Id>& id) {
    PassFilter out;
    out.*of = id;
    out.order = PassFilter::Order::Oldest;
    return out;
}

std::string csvText(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text)
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

} // namespace

std::vector<TimeLineEntry> timeLine(Connection& connection, Id vehicle) {
    std::vector<TimeLineEntry> out;
    Query all(connection, entriesSql, rowOf(connection, vehicle, ItemKind::Vehicle));
    while (all.step()) {
        TimeLineEntry entry;
        std::string kind;
        entry.setup = Id{ItemKind::Setup, 0};
        all.take(kind, entry.id.number, entry.title, entry.when, entry.setup->number, entry.revision, entry.text);
        entry.id.kind = kindFromName(kind).value_or(ItemKind::Setup);
        out.push_back(std::move(entry));
    }
    PassFilter mine;
    mine.vehicle = vehicle;
    for (const StoredPass& pass : passes(connection, mine))
        out.push_back({pass.when, pass.id, pass.setup, pass.revision, "pass " + std::to_string(pass.index + 1),
                       pass.notes, bestSpeed(pass)});
    std::ranges::stable_sort(out, [](const TimeLineEntry& a, const TimeLineEntry& b) {
        return std::pair(std::string_view(a.when), a.id) < std::pair(std::string_view(b.when), b.id);
    });
    return out;
}

std::vector<PackPoint> packHistory(Connection& connection, Id pack) {
    std::vector<PackPoint> out;
    for (const StoredPass& p : passes(connection, oldestFirst(&PassFilter::pack, pack)))
        out.push_back({p.when, p.id, static_cast<int>(out.size()) + 1, p.pack_ohm, p.pack_ohmSe, p.packStart_C,
                       p.minCell_V, p.charge_Ah, p.peakCurrent_A});
    return out;
}

std::vector<MotorPoint> motorHistory(Connection& connection, Id motor) {
    std::vector<MotorPoint> out;
    for (const StoredPass& p : passes(connection, oldestFirst(&PassFilter::motor, motor))) {
        Query one(connection, "SELECT json FROM pass_figures WHERE pass = ?", p.id.number);
        const std::string figures = one.step() ? one.text(0) : std::string();
        out.push_back({p.when, p.id, p.log, p.setup, p.motorMax_C, figureIn(figures, "rpm_per_volt"), p.peakCurrent_A,
                       figureIn(figures, "motor_start_C"), figureIn(figures, fullOutputFigure)});
    }
    return out;
}

std::vector<BestPass> bestPasses(Connection& connection, const std::optional<Id>& vehicle, int limit) {
    const std::vector<StoredPass> all = passes(connection, oldestFirst(&PassFilter::vehicle, vehicle));
    std::map<Id, BestPass> bySetup;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const StoredPass& pass = all[i];
        const auto speed = bestSpeed(pass);
        if (!pass.setup || !pass.vehicle || !speed) continue;
        BestPass& best = bySetup.try_emplace(*pass.setup).first->second;
        if (!best.pass.stored() || speed->mps > best.oneWay.mps) {
            best.setup = *pass.setup, best.vehicle = *pass.vehicle, best.revision = pass.revision;
            best.oneWay = *speed, best.pass = pass.id, best.when = pass.when;
        }
        if (i + 1 < all.size()) considerBothWays(best, pass, all[i + 1]);
    }
    std::vector<BestPass> out;
    out.reserve(bySetup.size());
    for (auto& [setup, best] : bySetup)
        out.push_back(std::move(best));
    std::ranges::sort(out, [](const BestPass& a, const BestPass& b) { return a.oneWay.mps > b.oneWay.mps; });
    if (limit >= 0 && out.size() > static_cast<std::size_t>(limit)) out.resize(static_cast<std::size_t>(limit));
    for (BestPass& best : out) {
        best.setupName = head(connection, best.setup).name;
        best.vehicleName = head(connection, best.vehicle).name;
    }
    return out;
}

std::string passesCsv(Connection& connection, const PassFilter& filter) {
    std::string out = "pass,log,setup,revision,vehicle,pack,outing,when,session,start_s,end_s,complete,direction,notes";
    for (const PassFigure& figure : passFigures())
        out += "," + std::string(figure.key);
    out += "\r\n";
    const auto name = [](const std::optional<Id>& id) { return id ? toString(*id) : std::string(); };
    for (const StoredPass& p : passes(connection, filter)) {
        out += toString(p.id) + "," + toString(p.log) + "," + name(p.setup) + "," +
               (p.revision > 0 ? std::to_string(p.revision) : "") + "," + name(p.vehicle) + "," + name(p.pack) + "," +
               name(p.outing) + "," + csvText(p.when) + "," + std::to_string(p.sessionIndex + 1) + "," +
               shortestText(p.start_s) + "," + shortestText(p.end_s) + "," + (p.complete ? "yes" : "no") + "," +
               std::string(directionName(p.direction)) + "," + csvText(p.notes);
        const Figures all = figures(connection, p.id);
        for (const PassFigure& figure : passFigures()) {
            const auto found = all.find(figure.key);
            out += "," + (found == all.end() ? std::string() : shortestText(found->second));
        }
        out += "\r\n";
    }
    return out;
}

} // namespace rw::store
