// GPX 1.1 (http://www.topografix.com/GPX/1/1): tracks only; routes and waypoints carry no run.
#include "core/error.h"
#include "core/log/gps.h"
#include "core/log/number_text.h"
#include "core/log/time_text.h"
#include "core/parallel.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fast_float/fast_float.h>
#include <functional>
#include <optional>
#include <pugixml.hpp>

namespace rw {
namespace {

constexpr std::size_t mostMemory = 450'000'000; // bytes

// Element names without the prefix of their namespace.
std::string_view localName(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    const std::size_t colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

pugi::xml_node childNamed(const pugi::xml_node& parent, std::string_view name) {
    return parent.find_child([name](const pugi::xml_node& node) { return localName(node) == name; });
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::optional<double> number(std::string_view text) { return finiteNumber(trimmed(text)); }

// GPX 1.0 has a speed element; 1.1 leaves it to extensions, one or two levels down.
std::optional<double> speedIn(const pugi::xml_node& extensions) {
    if (const pugi::xml_node speed = childNamed(extensions, "speed")) return number(speed.child_value());
    for (const pugi::xml_node& group : extensions.children())
        if (const pugi::xml_node speed = childNamed(group, "speed")) return number(speed.child_value());
    return std::nullopt;
}

// What a track point says: a fix, that there is none, or nothing that can be used.
struct Point {
    enum class Kind : std::uint8_t { Fix, NoFix, Refused } kind = Kind::Refused;
    GpsFix fix;
};

Point pointOf(const pugi::xml_node& node) {
    const std::optional<double> latitude = number(node.attribute("lat").value());
    const std::optional<double> longitude = number(node.attribute("lon").value());
    std::optional<double> time, speed, elevation;
    for (const pugi::xml_node& child : node.children()) {
        const std::string_view name = localName(child);
        if (name == "time" && !time)
            time = parseIso8601(trimmed(child.child_value()));
        else if (name == "ele" && !elevation)
            elevation = number(child.child_value());
        else if (name == "speed" && !speed)
            speed = number(child.child_value());
        else if (name == "extensions" && !speed)
            speed = speedIn(child);
        else if (name == "fix" && std::strcmp(child.child_value(), "none") == 0)
            return {Point::Kind::NoFix, {}};
    }
    if (!latitude || !longitude || !time) return {};
    if (std::abs(*latitude) > 90.0 || *longitude < -180.0 || *longitude >= 180.0) return {};
    Point point{Point::Kind::Fix, {}};
    point.fix.time = *time;
    point.fix.latitude = *latitude;
    point.fix.longitude = *longitude;
    if (elevation) point.fix.elevation = *elevation;
    if (speed && *speed >= 0.0) {
        point.fix.speed = *speed;
        point.fix.speedMeasured = true;
    }
    return point;
}

std::string lineOf(std::string_view bytes, std::ptrdiff_t offset) {
    std::size_t line = 1;
    for (const char c : bytes.substr(0, static_cast<std::size_t>(std::max<std::ptrdiff_t>(offset, 0))))
        line += c == '\n';
    return std::to_string(line);
}

// Bytes that the parsed document takes at most: the text twice, 64 for an element, 40 for an attribute.
std::size_t memoryOf(std::string_view xml) {
    std::size_t nodes = 0;
    for (std::size_t i = 0; i + 1 < xml.size(); ++i)
        nodes += xml[i] == '<' && xml[i + 1] != '/';
    const auto attributes = static_cast<std::size_t>(std::ranges::count(xml, '='));
    return 2 * xml.size() + 64 * nodes + 40 * attributes;
}

void addPoint(GpsTrack& track, const Point& point) {
    if (point.kind == Point::Kind::NoFix)
        ++track.withoutFix;
    else if (point.kind == Point::Kind::Refused || (!track.fixes.empty() && point.fix.time <= track.fixes.back().time))
        ++track.refused;
    else
        track.fixes.push_back(point.fix);
}

// Calls take(node) for each track point of the document, in order; false: there is no gpx element.
template<class Take>
bool forEachPoint(const pugi::xml_document& document, Take take) {
    const pugi::xml_node gpx = childNamed(document, "gpx");
    if (!gpx) return false;
    for (const pugi::xml_node& trk : gpx.children()) {
        if (localName(trk) != "trk") continue;
        for (const pugi::xml_node& segment : trk.children()) {
            if (localName(segment) != "trkseg") continue;
            for (const pugi::xml_node& point : segment.children())
                if (localName(point) == "trkpt") take(point);
        }
    }
    return true;
}

constexpr unsigned parseFlags = pugi::parse_escapes | pugi::parse_cdata | pugi::parse_embed_pcdata;

GpsTrack emptyTrack(const std::string& fileName) {
    GpsTrack track;
    track.file = fileName;
    track.format = "GPX";
    track.dated = true;
    return track;
}

GpsTrack readWhole(std::string_view bytes, const std::string& fileName) {
    if (memoryOf(bytes) > mostMemory) throw InputError(fileName, "is more GPX than is read at once; split it");
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_buffer(bytes.data(), bytes.size(), parseFlags);
    if (!parsed)
        throw InputError(fileName + ":" + lineOf(bytes, parsed.offset),
                         std::string("is not well-formed XML here (") + parsed.description() + ")");
    GpsTrack track = emptyTrack(fileName);
    if (!forEachPoint(document, [&](const pugi::xml_node& point) { addPoint(track, pointOf(point)); }))
        throw InputError(fileName, "is XML but not GPX: a gpx element is expected");
    return track;
}

// A long track: runs of points are cut out of the document and parsed piece by piece, on several threads and in little
// memory; in what is left a marker stands for each run. Where the cut does not come out even (points within other
// elements, broken XML), the document is read whole.
class PiecewiseReader {
public:
    explicit PiecewiseReader(std::string_view bytes)
        : bytes_(bytes) {}

    std::optional<GpsTrack> read(const std::string& fileName) {
        if (!cut()) return std::nullopt;
        pugi::xml_document frame;
        if (!frame.load_buffer(frame_.data(), frame_.size(), parseFlags)) return std::nullopt;
        if (!parsePieces()) return std::nullopt;
        GpsTrack track = emptyTrack(fileName);
        track.fixes.reserve(bytes_.size() / 128);
        const bool gpx = forEachPoint(frame, [&](const pugi::xml_node& node) {
            const pugi::xml_attribute run = node.attribute(marker);
            if (!run) return addPoint(track, pointOf(node));
            for (std::size_t k = runs_.at(run.as_uint()); k < runs_.at(run.as_uint() + 1); ++k)
                for (const Point& point : points_[k])
                    addPoint(track, point);
        });
        return gpx ? std::optional(std::move(track)) : std::nullopt;
    }

private:
    static constexpr const char* marker = "run-of-points";
    static constexpr std::string_view opening = "<trkpt", closing = "</trkseg>";
    static constexpr std::size_t pieceBytes = std::size_t{256} * 1024;

    // Fills frame_, pieces_ and runs_; false: there is nothing to cut, or it does not end.
    bool cut() {
        const std::boyer_moore_horspool_searcher closes(closing.begin(), closing.end());
        std::size_t at = 0;
        for (std::size_t from = bytes_.find(opening); from != std::string_view::npos; from = bytes_.find(opening, at)) {
            const auto behind = std::search(bytes_.begin() + static_cast<std::ptrdiff_t>(from), bytes_.end(), closes);
            if (behind == bytes_.end()) return false;
            const auto end = static_cast<std::size_t>(behind - bytes_.begin());
            frame_.append(bytes_.substr(at, from - at));
            frame_ += "<trkpt " + std::string(marker) + "=\"" + std::to_string(runs_.size()) + "\"/>";
            runs_.push_back(pieces_.size());
            while (from < end) {
                const std::size_t next = std::min(bytes_.find(opening, from + pieceBytes), end);
                pieces_.push_back(bytes_.substr(from, next - from));
                from = next;
            }
            at = end;
        }
        frame_.append(bytes_.substr(at));
        runs_.push_back(pieces_.size());
        return !pieces_.empty() && runs_.size() - 1 == countIn(frame_, marker); // none of the document's own
    }

    static std::size_t countIn(std::string_view text, std::string_view word) {
        std::size_t count = 0;
        for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1))
            ++count;
        return count;
    }

    // Comments and CDATA may hold what only looks like a point; the parser takes a zero byte for the end.
    static bool needsTheWhole(std::string_view piece) {
        if (piece.find('\0') != std::string_view::npos) return true;
        for (std::size_t at = piece.find('!'); at != std::string_view::npos; at = piece.find('!', at + 1))
            if (at > 0 && piece[at - 1] == '<') return true;
        return false;
    }

    bool parsePieces() {
        points_.resize(pieces_.size());
        std::atomic<bool> even{true};
        parallelFor(threadCount(0), pieces_.size(), [&](std::size_t k, bool) {
            if (!even) return;
            pugi::xml_document piece;
            if (needsTheWhole(pieces_[k]) ||
                !piece.load_buffer(pieces_[k].data(), pieces_[k].size(), parseFlags | pugi::parse_fragment,
                                   pugi::encoding_utf8)) {
                even = false;
                return;
            }
            points_[k].reserve(pieces_[k].size() / 64);
            for (const pugi::xml_node& node : piece.children())
                if (localName(node) == "trkpt") points_[k].push_back(pointOf(node));
        });
        return even;
    }

    std::string_view bytes_;
    std::string frame_;                    // the document with a marker for each run
    std::vector<std::string_view> pieces_; // of the runs, in order
    std::vector<std::size_t> runs_;        // first piece of each run, and one behind the last
    std::vector<std::vector<Point>> points_;
};

} // namespace

GpsTrack readGpx(std::string_view bytes, const std::string& fileName) {
    constexpr std::size_t worthCutting = 1'000'000; // bytes
    if (bytes.size() >= worthCutting)
        if (std::optional<GpsTrack> track = PiecewiseReader(bytes).read(fileName)) return std::move(*track);
    return readWhole(bytes, fileName);
}

} // namespace rw
