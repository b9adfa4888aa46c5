// Text for people: aligned tables, numbers with units, colour only where it belongs. Widths are in characters, not
// bytes.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include <cstddef>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw::batch {

// Control characters (C0, DEL, C1) and bytes that are no UTF-8 as \n, \t, \xHH; everything else as it is.
[[nodiscard]] std::string escapeControls(std::string_view text);

// A document as it is printed, bytes that are no UTF-8 replaced.
[[nodiscard]] std::string printed(const nlohmann::ordered_json& json);
// "12.30"; "-" where there is no value or it is not finite. Never prints a negative zero.
[[nodiscard]] std::string fixed(std::optional<double> value, int decimals);
// "1 pass", "2 passes".
[[nodiscard]] std::string counted(std::size_t n, std::string_view what);
// Width on the screen: UTF-8 code points, escape sequences of Ink not counted.
[[nodiscard]] std::size_t displayWidth(std::string_view text);

// Colour: on if standard output is a terminal, NO_COLOR is unset or empty, and TERM is not "dumb".
class Ink {
public:
    Ink();
    explicit Ink(bool colour)
        : colour_(colour) {}
    [[nodiscard]] std::string bad(std::string_view text) const { return dress(text, "31;1"); }
    [[nodiscard]] std::string warn(std::string_view text) const { return dress(text, "33"); }
    [[nodiscard]] std::string good(std::string_view text) const { return dress(text, "32"); }
    [[nodiscard]] std::string faint(std::string_view text) const { return dress(text, "2"); }
    [[nodiscard]] std::string heading(std::string_view text) const { return dress(text, "1"); }

private:
    [[nodiscard]] std::string dress(std::string_view text, std::string_view code) const;
    bool colour_;
};

// Columns as wide as their widest cell, two spaces apart. Rows may be shorter than the header.
class Table {
public:
    // Titles; where "<" stands before one, its cells begin at the left. An empty title is allowed; a table whose titles
    // are all empty prints no header line.
    Table(std::initializer_list<std::string_view> titles);
    void column(std::string_view title);
    Table& row(std::vector<std::string> cells);
    [[nodiscard]] std::string text(const Ink& ink, std::string_view indent = "  ") const;
    [[nodiscard]] bool empty() const { return rows_.empty(); }

private:
    struct Column {
        std::string title;
        bool left;
    };
    [[nodiscard]] std::string line(const std::vector<std::string>& cells, const std::vector<std::size_t>& widths,
                                   std::string_view indent) const;
    std::vector<Column> columns_;
    std::vector<std::vector<std::string>> rows_;
};

// Breaks a paragraph at spaces so that no line is longer than `width`, each line indented.
[[nodiscard]] std::string wrapped(std::string_view paragraph, std::string_view indent = "  ", std::size_t width = 100);

} // namespace rw::batch
