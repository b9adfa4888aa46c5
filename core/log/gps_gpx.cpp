// GPX 1.1 (http://www.topografix.com/GPX/1/1): tracks only; routes and waypoints carry no run.
#include "core/error.h"
#include "core/log/gps.h"
#include "core/log/time_text.h"

#include <cmath>
#include <cstring>
#include <fast_float/fast_float.h>
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

std::optional<double> number(std::string_view text) {
    text = trimmed(text);
    double value = 0.0;
    const auto [end, error] = fast_float::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

// GPX 1.0 has a speed element; 1.1 leaves it to extensions, one or two levels down.
std::optional<double> toldSpeed(const pugi::xml_node& point) {
    if (const pugi::xml_node speed = childNamed(point, "speed")) return number(speed.child_value());
    const pugi::xml_node extensions = childNamed(point, "extensions");
    if (const pugi::xml_node speed = childNamed(extensions, "speed")) return number(speed.child_value());
    for (const pugi::xml_node& group : extensions.children())
        if (const pugi::xml_node speed = childNamed(group, "speed")) return number(speed.child_value());
    return std::nullopt;
}

std::optional<GpsFix> fixOf(const pugi::xml_node& point) {
    const std::optional<double> latitude = number(point.attribute("lat").value());
    const std::optional<double> longitude = number(point.attribute("lon").value());
    const std::optional<double> time = parseIso8601(trimmed(childNamed(point, "time").child_value()));
    if (!latitude || !longitude || !time) return std::nullopt;
    if (std::abs(*latitude) > 90.0 || *longitude < -180.0 || *longitude >= 180.0) return std::nullopt;
    GpsFix fix;
    fix.time = *time;
    fix.latitude = *latitude;
    fix.longitude = *longitude;
    if (const auto elevation = number(childNamed(point, "ele").child_value())) fix.elevation = *elevation;
    if (const auto speed = toldSpeed(point); speed && *speed >= 0.0) {
        fix.speed = *speed;
        fix.speedMeasured = true;
    }
    return fix;
}

std::string lineOf(std::string_view bytes, std::ptrdiff_t offset) {
    std::size_t line = 1;
    for (const char c : bytes.substr(0, static_cast<std::size_t>(std::max<std::ptrdiff_t>(offset, 0))))
        line += c == '\n';
    return std::to_string(line);
}

// Bytes that the parsed document takes at most: the text twice, 64 for an element or a text, 40 for an attribute.
std::size_t memoryOf(std::string_view xml) {
    std::size_t nodes = 0, attributes = 0;
    bool behindTag = false;
    for (std::size_t i = 0; i < xml.size(); ++i) {
        const char c = xml[i];
        attributes += c == '=';
        if (c == '<') {
            nodes += i + 1 < xml.size() && xml[i + 1] != '/';
            behindTag = false;
        } else if (c == '>') {
            behindTag = true;
        } else if (behindTag && c != ' ' && c != '\t' && c != '\r' && c != '\n') {
            ++nodes;
            behindTag = false;
        }
    }
    return 2 * xml.size() + 64 * nodes + 40 * attributes;
}

void addPoint(GpsTrack& track, const pugi::xml_node& point) {
    if (std::strcmp(childNamed(point, "fix").child_value(), "none") == 0) {
        ++track.withoutFix;
        return;
    }
    const std::optional<GpsFix> fix = fixOf(point);
    if (!fix || (!track.fixes.empty() && fix->time <= track.fixes.back().time))
        ++track.refused;
    else
        track.fixes.push_back(*fix);
}

} // namespace

GpsTrack readGpx(std::string_view bytes, const std::string& fileName) {
    if (memoryOf(bytes) > mostMemory)
        throw InputError(fileName, "is more GPX than is read at once (about a million points); split it");
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_buffer(bytes.data(), bytes.size());
    if (!parsed)
        throw InputError(fileName + ":" + lineOf(bytes, parsed.offset),
                         std::string("is not well-formed XML here (") + parsed.description() + ")");
    const pugi::xml_node gpx = childNamed(document, "gpx");
    if (!gpx) throw InputError(fileName, "is XML but not GPX: a gpx element is expected");
    GpsTrack track;
    track.file = fileName;
    track.format = "GPX";
    track.dated = true;
    for (const pugi::xml_node& trk : gpx.children()) {
        if (localName(trk) != "trk") continue;
        for (const pugi::xml_node& segment : trk.children()) {
            if (localName(segment) != "trkseg") continue;
            for (const pugi::xml_node& point : segment.children())
                if (localName(point) == "trkpt") addPoint(track, point);
        }
    }
    return track;
}

} // namespace rw
