#include "storage/log_said.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "storage/allowed.h"
#include "storage/log_record.h"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <string_view>

namespace rw {

namespace {

using nlohmann::json;

constexpr std::string_view saidName = "log-judging";
constexpr std::string_view editsName = "review-edits";
constexpr std::string_view trackName = "track";
constexpr int documentVersion = 1;

// The document, if it is one of this name and version.
JsonValue documentOf(const std::string& text, std::string_view name) {
    const std::string place(name);
    JsonValue document = parseJson({text, place});
    const JsonValue* const kind = document.find("runwright");
    const JsonValue* const version = document.find("version");
    if (kind == nullptr || kind->text != name || version == nullptr || version->number != documentVersion)
        throw InputError(place, "expected a document of version 1");
    return document;
}

double numberIn(const JsonValue& value, const std::string& place) {
    if (value.type == JsonValue::Type::Null) return std::numeric_limits<double>::quiet_NaN();
    if (value.type != JsonValue::Type::Number) throw InputError(place, "expected a number");
    return value.number;
}

std::optional<double> maybeNumber(const JsonValue& document, std::string_view name, std::string_view place) {
    const JsonValue* const found = document.find(name);
    if (found == nullptr || found->type == JsonValue::Type::Null) return std::nullopt;
    return numberIn(*found, std::string(place) + ": " + std::string(name));
}

int countIn(double number, const std::string& place, int most) {
    if (!(number >= 1.0 && number <= most) || number != std::floor(number))
        throw InputError(place, "expected a whole number from 1 to " + std::to_string(most));
    return static_cast<int>(number);
}

std::uint32_t lineFrom(const JsonValue& value, const std::string& place) {
    const double number = value.number;
    if (value.type != JsonValue::Type::Number || number < 0.0 || number > std::numeric_limits<std::uint32_t>::max() ||
        number != static_cast<double>(static_cast<std::uint32_t>(number)))
        throw InputError(place, "expected a line number");
    return static_cast<std::uint32_t>(number);
}

// Two lines, as a span or what was moved where.
template<class Pair>
Pair pairFrom(const JsonValue& value, const std::string& place) {
    if (value.type != JsonValue::Type::List || value.items.size() != 2)
        throw InputError(place, "expected two line numbers");
    return {lineFrom(value.items[0], place), lineFrom(value.items[1], place)};
}

ReviewEdits::MovedPass movedPassFrom(const JsonValue& value, const std::string& place) {
    const JsonValue* const from = value.find("from");
    const JsonValue* const to = value.find("to");
    if (from == nullptr || to == nullptr) throw InputError(place, "expected from and to");
    return {pairFrom<LineSpan>(*from, place), pairFrom<LineSpan>(*to, place)};
}

// A list that may be missing.
template<class T>
void readList(const JsonValue& document, const char* name, std::vector<T>& out,
              T (*from)(const JsonValue&, const std::string&)) {
    const JsonValue* const list = document.find(name);
    if (list == nullptr) return;
    const std::string place = std::string(editsName) + ": " + name;
    if (list->type != JsonValue::Type::List) throw InputError(place, "expected a list");
    for (const JsonValue& item : list->items)
        out.push_back(from(item, place));
}

template<class T, class As>
json listJson(const std::vector<T>& list, As as) {
    json out = json::array();
    for (const T& item : list)
        out.push_back(as(item));
    return out;
}

json orNull(double value) { return std::isfinite(value) ? json(value) : json(); }

struct FixMember {
    const char* name;
    double GpsFix::*member;
};
constexpr std::array fixMembers{FixMember{"time_s", &GpsFix::time}, FixMember{"latitude_deg", &GpsFix::latitude},
                                FixMember{"longitude_deg", &GpsFix::longitude},
                                FixMember{"elevation_m", &GpsFix::elevation}, FixMember{"speed_mps", &GpsFix::speed}};

const std::vector<JsonValue>& listIn(const JsonValue& document, const char* name, std::size_t expected) {
    const JsonValue* const list = document.find(name);
    if (list == nullptr || list->type != JsonValue::Type::List ||
        (expected != std::string::npos && list->items.size() != expected))
        throw InputError(std::string(trackName) + ": " + name, "expected a list, one entry a fix");
    return list->items;
}

std::string textIn(const JsonValue& document, const char* name) {
    const JsonValue* const found = document.find(name);
    return found == nullptr ? std::string() : found->text;
}

} // namespace

std::string writeLogSaid(const LogSaid& said) {
    if (said == LogSaid{}) return {};
    json out{{"runwright", saidName}, {"version", documentVersion}};
    if (!said.cells.empty()) out["cells"] = said.cells;
    if (said.cutoffCell) out["cutoff_cell_V"] = *said.cutoffCell;
    if (said.trackNudge != 0.0) out["track_nudge_s"] = said.trackNudge;
    if (said.polePairs) out["pole_pairs"] = *said.polePairs;
    if (said.rate_Hz) out["rate_Hz"] = *said.rate_Hz;
    for (const auto& [key, value] : said.limits)
        out["limits"][key] = value.number ? json(*value.number) : json(value.text);
    return out.dump();
}

LogSaid readLogSaid(const std::string& text) {
    LogSaid out;
    if (text.empty()) return out;
    constexpr int mostCells = 24, mostPairs = 14;
    const JsonValue document = documentOf(text, saidName);
    const std::string place(saidName);
    if (const JsonValue* const cells = document.find("cells"))
        for (const JsonValue& count : cells->items)
            out.cells.push_back(countIn(numberIn(count, place + ": cells"), place + ": cells", mostCells));
    out.cutoffCell = maybeNumber(document, "cutoff_cell_V", saidName);
    out.trackNudge = maybeNumber(document, "track_nudge_s", saidName).value_or(0.0);
    if (const auto pairs = maybeNumber(document, "pole_pairs", saidName))
        out.polePairs = countIn(*pairs, place + ": pole_pairs", mostPairs);
    out.rate_Hz = maybeNumber(document, "rate_Hz", saidName);
    if (const JsonValue* const limits = document.find("limits"))
        for (const auto& [key, value] : limits->members) { // a number, or a choice's word
            if (value.type == JsonValue::Type::Text)
                out.limits[key].text = value.text;
            else
                out.limits[key].number = numberIn(value, key);
        }
    allowValues(ItemKind::LimitSet, out.limits);
    return out;
}

std::string writeReviewEdits(const ReviewEdits& edits) {
    if (edits.empty()) return {};
    const auto span = [](const LineSpan& lines) { return json::array({lines.first, lines.last}); };
    const auto start = [](const auto& moved) { return json::array({moved.from, moved.to}); };
    const auto pass = [&](const auto& moved) { return json{{"from", span(moved.from)}, {"to", span(moved.to)}}; };
    return json{{"runwright", editsName},
                {"version", documentVersion},
                {"added_sessions", edits.addedSessions},
                {"removed_sessions", edits.removedSessions},
                {"moved_sessions", listJson(edits.movedSessions, start)},
                {"added_passes", listJson(edits.addedPasses, span)},
                {"removed_passes", listJson(edits.removedPasses, span)},
                {"moved_passes", listJson(edits.movedPasses, pass)}}
        .dump();
}

ReviewEdits readReviewEdits(const std::string& text) {
    ReviewEdits out;
    if (text.empty()) return out;
    const JsonValue document = documentOf(text, editsName);
    readList(document, "added_sessions", out.addedSessions, lineFrom);
    readList(document, "removed_sessions", out.removedSessions, lineFrom);
    readList(document, "moved_sessions", out.movedSessions, pairFrom<ReviewEdits::MovedStart>);
    readList(document, "added_passes", out.addedPasses, pairFrom<LineSpan>);
    readList(document, "removed_passes", out.removedPasses, pairFrom<LineSpan>);
    readList(document, "moved_passes", out.movedPasses, movedPassFrom);
    return out;
}

std::string writeTrack(const GpsTrack& track) {
    json out{{"runwright", trackName},   {"version", documentVersion}, {"file", track.file},
             {"format", track.format},   {"refused", track.refused},   {"without_fix", track.withoutFix},
             {"rate_Hz", track.rate_Hz}, {"dated", track.dated},       {"notes", track.notes}};
    for (const FixMember& member : fixMembers) {
        json& column = out[member.name] = json::array();
        for (const GpsFix& fix : track.fixes)
            column.push_back(orNull(fix.*member.member));
    }
    json& measured = out["speed_measured"] = json::array();
    for (const GpsFix& fix : track.fixes)
        measured.push_back(fix.speedMeasured);
    return out.dump(-1, ' ', false, json::error_handler_t::replace);
}

GpsTrack readTrack(const std::string& text) {
    const JsonValue document = documentOf(text, trackName);
    GpsTrack out;
    out.file = textIn(document, "file"), out.format = textIn(document, "format");
    out.refused = static_cast<std::size_t>(maybeNumber(document, "refused", trackName).value_or(0.0));
    out.withoutFix = static_cast<std::size_t>(maybeNumber(document, "without_fix", trackName).value_or(0.0));
    out.rate_Hz = maybeNumber(document, "rate_Hz", trackName).value_or(0.0);
    if (const JsonValue* const dated = document.find("dated")) out.dated = dated->boolean;
    if (const JsonValue* const notes = document.find("notes"))
        for (const JsonValue& note : notes->items)
            out.notes.push_back(note.text);
    const std::vector<JsonValue>& measured = listIn(document, "speed_measured", std::string::npos);
    out.fixes.resize(measured.size());
    for (std::size_t i = 0; i < measured.size(); ++i)
        out.fixes[i].speedMeasured = measured[i].boolean;
    for (const FixMember& member : fixMembers) {
        const std::vector<JsonValue>& column = listIn(document, member.name, measured.size());
        for (std::size_t i = 0; i < column.size(); ++i)
            out.fixes[i].*member.member = numberIn(column[i], std::string(trackName) + ": " + member.name);
    }
    return out;
}

} // namespace rw
