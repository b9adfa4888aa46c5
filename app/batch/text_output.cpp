#include "app/batch/text_output.h"

#include "core/system/terminal.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace rw::batch {

namespace {

bool wantsColour() {
    const char* none = std::getenv("NO_COLOR");
    if (none != nullptr && *none != '\0') return false;
    const char* terminal = std::getenv("TERM");
    return outputIsTerminal() && terminal != nullptr && std::string_view(terminal) != "dumb";
}

std::string hexEscape(unsigned value) { return fmt::format("\\x{:02X}", value); }

// Bytes of the UTF-8 character at the beginning; 0 where there is none.
std::size_t characterLength(std::string_view text) {
    const auto byte = static_cast<unsigned char>(text.front());
    const std::size_t length = byte < 0x80                   ? 1
                               : byte >= 0xF0 && byte < 0xF5 ? 4
                               : byte >= 0xE0 && byte < 0xF0 ? 3
                               : byte >= 0xC2 && byte < 0xE0 ? 2
                                                             : 0;
    if (length > text.size()) return 0;
    for (std::size_t i = 1; i < length; ++i)
        if ((static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U) return 0;
    return length;
}

} // namespace

std::string escapeControls(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const std::size_t length = characterLength(text.substr(i));
        const bool c1Control = byte == 0xC2 && length == 2 && static_cast<unsigned char>(text[i + 1]) < 0xA0;
        if (byte == '\n')
            out += "\\n";
        else if (byte == '\t')
            out += "\\t";
        else if (byte == '\r')
            out += "\\r";
        else if (byte < 0x20 || byte == 0x7F || length == 0)
            out += hexEscape(byte);
        else if (c1Control)
            out += hexEscape(static_cast<unsigned char>(text[i + 1]));
        else
            out += text.substr(i, length);
        i += std::max<std::size_t>(length, 1);
    }
    return out;
}

std::string printed(const nlohmann::ordered_json& json) {
    return json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

std::string fixed(std::optional<double> value, int decimals) {
    if (!value || !std::isfinite(*value)) return "-";
    std::string digits = fmt::format("{:.{}f}", *value, decimals);
    if (digits.front() == '-' && digits.find_first_not_of("-0.") == std::string::npos) digits.erase(0, 1);
    return digits;
}

std::string counted(std::size_t n, std::string_view what) {
    return fmt::format("{} {}{}", n, what, n == 1 ? "" : what.ends_with('s') || what.ends_with('x') ? "es" : "s");
}

std::size_t displayWidth(std::string_view text) {
    std::size_t width = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\x1B') {
            while (i < text.size() && text[i] != 'm')
                ++i;
            continue;
        }
        if ((static_cast<unsigned char>(text[i]) & 0xC0U) != 0x80U) ++width;
    }
    return width;
}

Ink::Ink()
    : colour_(wantsColour()) {}

std::string Ink::dress(std::string_view text, std::string_view code) const {
    if (!colour_ || text.empty()) return std::string(text);
    return "\x1B[" + std::string(code) + "m" + std::string(text) + "\x1B[0m";
}

Table::Table(std::initializer_list<std::string_view> titles) {
    for (const std::string_view title : titles)
        column(title);
}

void Table::column(std::string_view title) {
    const bool left = title.starts_with('<');
    columns_.push_back({std::string(title.substr(left ? 1 : 0)), left});
}

Table& Table::row(std::vector<std::string> cells) {
    cells.resize(columns_.size());
    rows_.push_back(std::move(cells));
    return *this;
}

std::string Table::line(const std::vector<std::string>& cells, const std::vector<std::size_t>& widths,
                        std::string_view indent) const {
    std::string out(indent);
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const std::string gap(widths[i] - displayWidth(cells[i]), ' ');
        if (i > 0) out += "  ";
        out += columns_[i].left ? cells[i] + gap : gap + cells[i];
    }
    out.erase(out.find_last_not_of(' ') + 1);
    return out + "\n";
}

std::string Table::text(const Ink& ink, std::string_view indent) const {
    std::vector<std::size_t> widths;
    std::vector<std::string> titles;
    bool header = false;
    for (const Column& column : columns_) {
        widths.push_back(displayWidth(column.title));
        titles.push_back(column.title);
        header = header || !column.title.empty();
    }
    for (const auto& row : rows_)
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], displayWidth(row[i]));
    std::string out;
    if (header) {
        std::string top = line(titles, widths, "");
        top.pop_back();
        out += std::string(indent) + ink.faint(top) + "\n";
    }
    for (const auto& row : rows_)
        out += line(row, widths, indent);
    return out;
}

std::string wrapped(std::string_view paragraph, std::string_view indent, std::size_t width) {
    std::string out;
    std::string current(indent);
    bool fresh = true;
    while (!paragraph.empty()) {
        const std::size_t end = std::min(paragraph.find(' '), paragraph.size());
        const std::string_view word = paragraph.substr(0, end);
        paragraph.remove_prefix(std::min(end + 1, paragraph.size()));
        if (!fresh && displayWidth(current) + 1 + displayWidth(word) > width) {
            out += current + "\n";
            current = indent;
            fresh = true;
        }
        current += (fresh ? "" : " ") + std::string(word);
        fresh = false;
    }
    return out + current + "\n";
}

} // namespace rw::batch
