#include "core/log/dialect.h"

#include "core/error.h"
#include "core/log/column_match.h"
#include "core/log/number_text.h"
#include "core/log/text_encoding.h"
#include "core/log/text_survey.h"
#include "core/log/time_text.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <set>

namespace rw {
namespace {

constexpr std::size_t rowsLookedAt = 40;                       // below a header candidate
constexpr std::size_t longestHeader = std::size_t{256} * 1024; // bytes; 500 columns of 500 letters
constexpr std::size_t mostCandidateBytes = 2'000'000;

struct Line {
    std::size_t start = 0;
    std::size_t number = 1; // physical, from 1
    std::string_view record;
    std::array<std::optional<std::size_t>, 2> named = {}; // quantities named, with single and with wide blanks between
};

std::string decoded(std::string_view text, bool latin1) { return latin1 ? utf8FromLatin1(text) : validUtf8(text); }

// The first lines of the text, records over several physical lines in one.
std::vector<Line> headOf(std::string_view text, char separator) {
    std::vector<Line> lines;
    std::size_t start = 0, number = 1;
    while (start < text.size() && lines.size() < mostHeaderLines + 2 * rowsLookedAt && start < mostCandidateBytes) {
        const std::string_view record = recordAt(text, start, separator);
        lines.push_back({start, number, record});
        const std::size_t next = nextLineStart(text, start + record.size());
        number += lineEndsIn(text, start, next);
        start = next;
    }
    return lines;
}

std::string withoutBrackets(std::string cell) {
    if (cell.size() > 2 && ((cell.front() == '[' && cell.back() == ']') || (cell.front() == '(' && cell.back() == ')')))
        return std::string(trimBlanks(std::string_view(cell).substr(1, cell.size() - 2)));
    return cell;
}

// The row below a header that holds units and nothing else.
bool isUnitsRow(const std::vector<std::string>& cells) {
    std::size_t units = 0, others = 0;
    for (const std::string& cell : cells) {
        if (cell.empty() || cell == "-") continue;
        if (findUnit(withoutBrackets(cell)))
            ++units;
        else
            ++others;
    }
    return units > 0 && units >= others;
}

// A name that was broken over lines inside quotes, on one line.
std::string onOneLine(std::string cell) {
    for (std::size_t at = cell.find_first_of("\r\n"); at != std::string::npos; at = cell.find_first_of("\r\n", at)) {
        const std::size_t behind = std::min(cell.find_first_not_of("\r\n", at), cell.size());
        cell.replace(at, behind - at, " ");
    }
    return cell;
}

std::vector<std::string> cellsOf(std::string_view record, const FieldFormat& format, bool latin1) {
    std::vector<std::string_view> fields;
    const std::string line = decoded(record, latin1);
    splitFields(line, format, fields);
    std::vector<std::string> cells;
    cells.reserve(fields.size());
    for (const std::string_view field : fields)
        cells.push_back(onOneLine(unquoted(field)));
    return cells;
}

bool looksTyped(std::string_view field) {
    const std::string cell = unquoted(field);
    if (readCell(cell, {'.', ',', {}}).kind != CellKind::Unreadable) return true;
    if (readCell(cell, {',', '.', {}}).kind != CellKind::Unreadable) return true;
    return parseClock(cell) || parseMinutesSeconds(cell) || parseIso8601(cell);
}

bool hasWideBlanks(std::string_view line) {
    const std::string_view inner = trimBlanks(line);
    return inner.find("  ") != std::string_view::npos;
}

// Blanks beside tabs, commas or semicolons are mere company.
bool separatedOtherwise(std::string_view line) {
    return line.find('\t') != std::string_view::npos || line.find(", ") != std::string_view::npos ||
           line.find("; ") != std::string_view::npos;
}

struct Candidate {
    FieldFormat format;
    std::size_t line = 0; // index into the head
    std::size_t width = 0, known = 0;
    std::size_t rows = 0; // looked at below, up to the next header
    double typed = 0.0;   // mean share of typed cells, rows of another width count as none
    double score = 0.0;
    bool commaTwice = false;
    std::size_t commaLine = 0;
};

// Rows of decimal commas with comma separators: wider than the header, and nothing but digits between the commas.
bool fallsApart(const std::vector<std::string_view>& fields, std::size_t width) {
    if (fields.size() <= width || fields.size() > 2 * width) return false;
    return std::ranges::all_of(fields, [](std::string_view field) {
        field = trimBlanks(field);
        if (!field.empty() && (field[0] == '-' || field[0] == '+')) field.remove_prefix(1);
        return std::ranges::all_of(field, [](unsigned char c) { return std::isdigit(c) != 0; });
    });
}

// Counted once: every candidate above looks at the line again.
std::size_t quantitiesNamedIn(Line& line, const FieldFormat& format, bool latin1, const ColumnMap* map) {
    std::optional<std::size_t>& named = line.named.at(format.wideBlanks ? 1 : 0);
    if (!named) named = quantitiesNamed(line.record, format, latin1, map);
    return *named;
}

void judgeRows(Candidate& candidate, std::vector<Line>& head, bool latin1, const ColumnMap* map) {
    std::vector<std::string_view> fields;
    std::size_t rows = 0, apart = 0;
    double typed = 0.0;
    for (std::size_t i = candidate.line + 1; i < head.size() && rows < rowsLookedAt; ++i) {
        const std::string_view record = head[i].record;
        if (isBlankLine(record, candidate.format.separator) || isComment(record)) continue;
        if (i == candidate.line + 1 && isUnitsRow(cellsOf(record, candidate.format, latin1))) continue;
        if (quantitiesNamedIn(head[i], candidate.format, latin1, map) >= 2) break;
        splitRow(record, candidate.format, candidate.width, fields);
        while (fields.size() > candidate.width && trimBlanks(fields.back()).empty())
            fields.pop_back();
        ++rows;
        if (candidate.format.separator == ',' && fallsApart(fields, candidate.width)) {
            if (apart++ == 0) candidate.commaLine = head[i].number;
        }
        if (fields.size() > candidate.width || 2 * fields.size() < candidate.width) continue;
        const auto good = std::ranges::count_if(fields, looksTyped);
        typed += static_cast<double>(good) / static_cast<double>(fields.size());
    }
    candidate.rows = rows;
    candidate.typed = rows == 0 ? 0.0 : typed / static_cast<double>(rows);
    candidate.commaTwice = apart > 0 && 2 * apart >= rows;
}

// Words above numbers: every cell is filled, none reads like a value, and the rows below nearly all do.
bool looksLikeHeader(const Candidate& candidate, const std::vector<std::string_view>& fields) {
    constexpr std::size_t fewestRows = 5;
    constexpr double mostlyTyped = 0.8;
    return candidate.width >= 2 && candidate.rows >= fewestRows && candidate.typed >= mostlyTyped &&
           std::none_of(fields.begin(), fields.begin() + static_cast<std::ptrdiff_t>(candidate.width), looksTyped);
}

// leastKnown: columns that a header must name; 0 asks for what looks like one.
std::optional<Candidate> bestFor(std::string_view text, char separator, bool latin1, const ColumnMap* map,
                                 std::size_t leastKnown) {
    std::vector<Line> head = headOf(text, separator);
    std::optional<Candidate> best;
    for (std::size_t i = 0; i < head.size() && i < mostHeaderLines; ++i) {
        Line& line = head[i];
        if (line.number > mostHeaderLines || line.record.size() > longestHeader || isComment(line.record)) continue;
        if (separator == ' ' && separatedOtherwise(line.record)) continue;
        Candidate candidate;
        candidate.format = {separator, separator == ' ' && hasWideBlanks(line.record)};
        candidate.line = i;
        candidate.known = quantitiesNamedIn(line, candidate.format, latin1, map);
        if (candidate.known < leastKnown) continue;
        std::vector<std::string_view> fields;
        splitFields(line.record, candidate.format, fields);
        while (!fields.empty() && trimBlanks(fields.back()).empty())
            fields.pop_back();
        candidate.width = fields.size();
        judgeRows(candidate, head, latin1, map);
        if (leastKnown == 0) {
            if (!looksLikeHeader(candidate, fields)) continue;
            candidate.score = candidate.typed * static_cast<double>(candidate.width);
            return candidate;
        }
        // Prose names things too; blanks separate columns only where numbers stand below.
        if (separator == ' ' && candidate.rows > 0 && candidate.typed == 0.0) continue;
        // A header without rows that fit still is one, should nothing better turn up.
        candidate.score =
            static_cast<double>(candidate.known) * ((candidate.commaTwice ? 0.5 : 0.05) + candidate.typed);
        if (!best || candidate.score > best->score) best = candidate;
        // The first header with rows of its own, though a later one may know more columns: no row is passed over.
        if (candidate.rows > 0 && candidate.typed >= 0.5) return candidate;
    }
    return best;
}

struct BestTwo {
    std::optional<Candidate> best;
    double second = 0.0; // score of the next best separator
};
BestTwo bestOfAll(std::string_view text, bool latin1, const TextOverrides& told, const ColumnMap* map,
                  std::size_t leastKnown) {
    BestTwo found;
    for (const char separator : {',', ';', '\t', ' '}) {
        if (told.separator && separator != *told.separator) continue;
        const std::optional<Candidate> candidate = bestFor(text, separator, latin1, map, leastKnown);
        if (!candidate) continue;
        if (!found.best || candidate->score > found.best->score) {
            found.second = found.best ? found.best->score : 0.0;
            found.best = candidate;
        } else {
            found.second = std::max(found.second, candidate->score);
        }
    }
    return found;
}

} // namespace

bool isComment(std::string_view line) {
    line = trimBlanks(line);
    return line.starts_with('#') || line.starts_with("//") || line.starts_with('%');
}

bool isBlankLine(std::string_view line, char separator) {
    return std::ranges::all_of(line,
                               [separator](char c) { return c == ' ' || c == '\t' || c == separator || c == '\x1A'; });
}

std::size_t quantitiesNamed(std::string_view line, const FieldFormat& format, bool latin1, const ColumnMap* map) {
    std::vector<std::string_view> fields;
    const std::string text = latin1 ? utf8FromLatin1(line) : std::string(line);
    splitFields(text, format, fields);
    std::set<int> named;
    for (std::size_t i = 0; i < fields.size() && i < mostColumns; ++i) {
        const std::string cell = unquoted(fields[i]);
        const MappedColumn* mapped = map != nullptr ? map->find(cell) : nullptr;
        if (mapped != nullptr && mapped->quantity)
            named.insert(static_cast<int>(*mapped->quantity));
        else if (const std::optional<Quantity> quantity = namedQuantity(cell))
            named.insert(static_cast<int>(*quantity));
    }
    return named.size();
}

Dialect readHeaderAt(std::string_view text, std::size_t start, std::size_t line, const FieldFormat& format,
                     bool latin1) {
    Dialect dialect;
    dialect.format = format;
    dialect.headerStart = start;
    dialect.headerLine = line;
    dialect.headerText = recordAt(text, start, format.separator);
    dialect.names = cellsOf(dialect.headerText, format, latin1);
    while (!dialect.names.empty() && dialect.names.back().empty())
        dialect.names.pop_back();
    dialect.dataStart = nextLineStart(text, start + dialect.headerText.size());
    dialect.dataLine = line + lineEndsIn(text, start, dialect.dataStart);
    if (dialect.dataStart >= text.size()) return dialect;
    const std::string_view below = recordAt(text, dialect.dataStart, format.separator);
    std::vector<std::string> units = cellsOf(below, format, latin1);
    const bool unitsRow = isUnitsRow(units);
    std::ranges::transform(units, units.begin(), withoutBrackets);
    if (!unitsRow || units.size() > dialect.names.size() + 1) return dialect;
    dialect.units = std::move(units);
    dialect.unitsText = below;
    const std::size_t next = nextLineStart(text, dialect.dataStart + below.size());
    dialect.dataLine += lineEndsIn(text, dialect.dataStart, next);
    dialect.dataStart = next;
    return dialect;
}

std::optional<Dialect> findDialect(std::string_view text, const std::string& fileName, bool latin1,
                                   const TextOverrides& told, const ColumnMap* map) {
    const auto [best, second] = bestOfAll(text, latin1, told, map, 2);
    if (!best) return std::nullopt;
    const Line header = headOf(text, best->format.separator)[best->line];
    const std::string place = fileName + ":" + std::to_string(header.number);
    if (best->width > mostColumns)
        throw InputError(place, "has " + std::to_string(best->width) + " columns; at most 500 are read");
    if (best->commaTwice && best->typed < 0.5) {
        throw InputError(
            fileName + ":" + std::to_string(best->commaLine),
            "has commas both between the columns and as decimal marks; save it with semicolons, tabs or quotes");
    }
    Dialect dialect = readHeaderAt(text, header.start, header.number, best->format, latin1);
    dialect.separatorConfidence = told.separator ? 1.0 : 1.0 - second / best->score;
    return dialect;
}

std::optional<Dialect> likelyDialect(std::string_view text, bool latin1, const TextOverrides& told) {
    const std::optional<Candidate> best = bestOfAll(text, latin1, told, nullptr, 0).best;
    if (!best || best->width > mostColumns) return std::nullopt;
    const Line header = headOf(text, best->format.separator)[best->line];
    return readHeaderAt(text, header.start, header.number, best->format, latin1);
}

} // namespace rw
