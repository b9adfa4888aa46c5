#include "core/log/number_style.h"

#include "core/log/ascii_text.h"
#include "core/log/unit_text.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace rw {
namespace {

// What the numbers of a column say of their marks.
struct Evidence {
    std::size_t pointDecimal = 0, commaDecimal = 0; // numbers that have no other reading
    std::size_t pointEither = 0, commaEither = 0;   // one mark and three digits: both readings fit
    void add(const Evidence& other) {
        pointDecimal += other.pointDecimal;
        commaDecimal += other.commaDecimal;
        pointEither += other.pointEither;
        commaEither += other.commaEither;
    }
};

// Digits with marks and a sign, nothing else.
bool isMarkedNumber(std::string_view text) {
    if (!text.empty() && (text[0] == '-' || text[0] == '+')) text.remove_prefix(1);
    bool digit = false;
    for (const char c : text) {
        if (isDigit(c))
            digit = true;
        else if (c != '.' && c != ',')
            return false;
    }
    return digit;
}

// The unit that ends the cell, if it is one and a number stands before it.
std::string_view unitBehind(std::string_view cell) {
    cell = trimBlanks(cell);
    const std::size_t last = cell.find_last_of("0123456789.,");
    if (last == std::string_view::npos || last + 1 >= cell.size() ||
        !isDigit(cell[0] == '-' ? cell[cell.size() > 1] : cell[0]))
        return {};
    const std::string_view unit = trimBlanks(cell.substr(last + 1));
    const std::optional<Unit> known = findUnit(unit);
    return known && known->spelling == unit ? known->spelling : std::string_view();
}

void judge(std::string_view text, Evidence& evidence) {
    if (!isMarkedNumber(text)) return;
    const auto points = std::ranges::count(text, '.'), commas = std::ranges::count(text, ',');
    if (points > 0 && commas > 0) {
        const bool commaLast = text.rfind(',') > text.rfind('.');
        evidence.commaDecimal += commaLast && commas == 1;
        evidence.pointDecimal += !commaLast && points == 1;
    } else if (points == 1) {
        (fitsThousands(text, '.') ? evidence.pointEither : evidence.pointDecimal) += 1;
    } else if (commas == 1) {
        (fitsThousands(text, ',') ? evidence.commaEither : evidence.commaDecimal) += 1;
    } else if (points > 1 && fitsThousands(text, '.')) {
        evidence.commaDecimal += 1; // 1.234.567: the point groups, so a comma would be the decimal mark
    } else if (commas > 1 && fitsThousands(text, ',')) {
        evidence.pointDecimal += 1;
    }
}

// Sum of the squared steps between neighbouring rows, in ranges of the column: small where rows lie close together.
double roughness(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                 const NumberStyle& style) {
    double sum = 0.0, low = std::numeric_limits<double>::infinity(), high = -low;
    double before = std::numeric_limits<double>::quiet_NaN();
    std::size_t run = 0;
    for (std::size_t row = 0; row < cells.size(); ++row) {
        if (run < runs.size() && runs[run] == row) {
            before = std::numeric_limits<double>::quiet_NaN();
            ++run;
        }
        const Cell cell = readCell(cells[row], style);
        if (cell.kind != CellKind::Value) continue;
        if (!std::isnan(before)) sum += (cell.value - before) * (cell.value - before);
        before = cell.value;
        low = std::min(low, cell.value);
        high = std::max(high, cell.value);
    }
    return high > low ? sum / ((high - low) * (high - low)) : 0.0;
}

class StyleFinder {
public:
    StyleFinder(const ColumnSample& sample, std::span<const std::string> names)
        : sample_(sample)
        , names_(names)
        , evidence_(sample.cells.size()) {
        found_.columns.resize(sample.cells.size());
        found_.sure.assign(sample.cells.size(), 1.0);
        for (std::size_t c = 0; c < sample.cells.size(); ++c) {
            found_.columns[c].unit = cellUnit(sample.cells[c]);
            for (const std::string& cell : sample.cells[c])
                judge(numberPart(cell, c), evidence_[c]);
            all_.add(evidence_[c]);
        }
    }

    [[nodiscard]] NumberStyles find(std::optional<char> told) {
        decideFile(told);
        for (std::size_t c = 0; c < found_.columns.size(); ++c)
            decideColumn(c, told.has_value());
        return std::move(found_);
    }

private:
    [[nodiscard]] std::string_view numberPart(std::string_view cell, std::size_t c) const {
        const std::string_view unit = found_.columns[c].unit;
        cell = trimBlanks(cell);
        if (!unit.empty() && cell.ends_with(unit)) cell = trimBlanks(cell.substr(0, cell.size() - unit.size()));
        return cell;
    }

    // The unit that most cells of the column carry.
    [[nodiscard]] static std::string_view cellUnit(const std::vector<std::string>& cells) {
        std::string_view unit;
        std::size_t with = 0, filled = 0;
        for (const std::string& cell : cells) {
            if (cell.empty()) continue;
            ++filled;
            const std::string_view here = unitBehind(cell);
            if (unit.empty()) unit = here;
            with += !here.empty() && here == unit;
        }
        return 2 * with > filled ? unit : std::string_view();
    }

    void decideFile(std::optional<char> told) {
        const std::size_t points = all_.pointDecimal, commas = all_.commaDecimal;
        if (told) {
            found_.decimal = *told;
        } else if (points + commas > 0) {
            found_.decimal = commas > points ? ',' : '.';
            found_.confidence = static_cast<double>(std::max(points, commas)) / static_cast<double>(points + commas);
        } else if (all_.pointEither + all_.commaEither > 0) {
            decideByCloseness();
        }
        // A mark groups digits if every number that has it reads so.
        const char other = found_.decimal == ',' ? '.' : ',';
        const std::size_t either = other == '.' ? all_.pointEither : all_.commaEither;
        const std::size_t against = other == '.' ? points : commas;
        if (against == 0 && (either > 0 || groupsSeen(other))) found_.thousands = other;
    }

    [[nodiscard]] bool groupsSeen(char mark) const {
        return std::ranges::any_of(sample_.cells, [mark](const std::vector<std::string>& cells) {
            return std::ranges::any_of(cells, [mark](const std::string& cell) {
                return isMarkedNumber(cell) && cell.find(mark) != std::string::npos;
            });
        });
    }

    // Every number fits both readings: the one that keeps neighbouring rows closer.
    void decideByCloseness() {
        double pointIsDecimal = 0.0, commaIsDecimal = 0.0;
        for (std::size_t c = 0; c < evidence_.size(); ++c) {
            if (evidence_[c].pointEither + evidence_[c].commaEither == 0) continue;
            found_.sure[c] = closenessConfidence;
            pointIsDecimal += roughness(sample_.cells[c], sample_.runs, {'.', ',', found_.columns[c].unit});
            commaIsDecimal += roughness(sample_.cells[c], sample_.runs, {',', '.', found_.columns[c].unit});
        }
        // Where both are alike the mark is taken for a decimal mark: loggers rarely group digits.
        constexpr double clearly = 0.9;
        const bool mostlyCommas = all_.commaEither > all_.pointEither;
        found_.decimal = mostlyCommas ? (pointIsDecimal < clearly * commaIsDecimal ? '.' : ',')
                                      : (commaIsDecimal < clearly * pointIsDecimal ? ',' : '.');
        found_.confidence = closenessConfidence;
    }

    void decideColumn(std::size_t c, bool told) {
        NumberStyle& style = found_.columns[c];
        style.decimal = found_.decimal;
        const Evidence& column = evidence_[c];
        const std::size_t same = found_.decimal == ',' ? column.commaDecimal : column.pointDecimal;
        const std::size_t opposite = found_.decimal == ',' ? column.pointDecimal : column.commaDecimal;
        if (!told && opposite > 0 && same == 0) {
            style.decimal = found_.decimal == ',' ? '.' : ',';
            found_.notes.push_back("Column \"" + names_[c] + "\" writes decimals with \"" + style.decimal +
                                   "\", unlike the rest of the file.");
            return;
        }
        style.thousands = found_.thousands;
        // A file that mixes marks cannot vouch for groups; a single column of integers can be grouped all the same.
        if (found_.thousands == '\0' && opposite == 0) style.thousands = found_.decimal == ',' ? '.' : ',';
    }

    const ColumnSample& sample_;
    std::span<const std::string> names_;
    std::vector<Evidence> evidence_;
    Evidence all_;
    NumberStyles found_;
};

} // namespace

NumberStyles findNumberStyles(const ColumnSample& sample, std::span<const std::string> names,
                              std::optional<char> told) {
    return StyleFinder(sample, names).find(told);
}

} // namespace rw
