#include "core/log/row_parser.h"

#include "core/log/ascii_text.h"
#include "core/log/text_survey.h"

#include <algorithm>
#include <cassert>
#include <limits>

namespace rw {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr std::size_t longestHeader = std::size_t{64} * 1024; // bytes of a line that may be a header
constexpr std::size_t mostHeadersTried = 100;                 // a chunk; matching names costs more than reading rows

// An event column says that a pack was connected: a session begins, rule (c) of core/review/sessions.cpp.
bool saysConnected(std::string_view text) {
    const std::string plain = lowerAscii(text);
    for (const std::string_view phrase : {"connect", "power on", "power-on", "poweron", "power_on", "start"}) {
        const std::size_t at = plain.find(phrase);
        if (at == std::string::npos) continue;
        // "disconnect" and "restart" are other words.
        if (at == 0 || plain[at - 1] == ' ' || plain[at - 1] == '_' || plain[at - 1] == '-') return true;
    }
    return false;
}

class ChunkParser {
public:
    ChunkParser(const RowPlan& plan, std::string_view text, std::size_t firstLine, const ColumnTargets& targets,
                std::size_t firstRow)
        : plan_(plan)
        , text_(text)
        , targets_(targets)
        , separator_(plan.dialect.format.separator)
        , width_(plan.columns.size())
        , line_(firstLine)
        , firstRow_(firstRow)
        , row_(firstRow) {
        result_.unreadable.assign(width_, 0);
    }

    ChunkResult parse(std::size_t start, std::size_t end) {
        std::size_t at = start;
        while (at < end && !result_.change)
            at = parseLine(at);
        result_.rows = row_ - firstRow_;
        return std::move(result_);
    }

private:
    enum class Verdict { Kept, TimeUnreadable, TooMany, TooFew, NothingKnown };

    // What the cells of one row came to.
    struct RowState {
        std::size_t fields = 0;
        std::size_t known = 0; // columns besides time that could be read
        bool timed = false;
    };

    std::size_t parseLine(std::size_t at) {
        const char first = text_[at];
        if (endsLine(first)) {
            ++result_.emptyLines;
            ++line_;
            return at + (first == '\r' && at + 1 < text_.size() && text_[at + 1] == '\n' ? 2 : 1);
        }
        if (first == '#' || first == '%' || first == '/' || first == ' ' || first == '\t' || first == separator_ ||
            first == '\x1A') {
            const std::string_view line = lineAt(text_, at);
            const bool comment = isComment(line);
            if (comment || isBlankLine(line, separator_)) {
                ++(comment ? result_.commentLines : result_.emptyLines);
                ++line_;
                return nextLineStart(text_, at + line.size());
            }
        }
        RowState state;
        unreadableHere_.clear();
        const char* const stop = separator_ == ' ' ? blankSeparated(at, state) : separated(text_.data() + at, state);
        const auto behind = static_cast<std::size_t>(stop - text_.data());
        const std::size_t next = behind + (*stop == '\r' && behind + 1 < text_.size() && stop[1] == '\n' ? 2 : 1);
        const Verdict verdict = judge(state);
        const std::size_t lineBefore = line_;
        line_ += 1 + joinedLines_;
        joinedLines_ = 0;
        if (verdict == Verdict::Kept)
            keep(lineBefore);
        else
            refuse(verdict, state, at, lineBefore);
        return next;
    }

    [[nodiscard]] Verdict judge(const RowState& state) const {
        if (state.fields > width_) return Verdict::TooMany;
        if (2 * state.fields < width_) return Verdict::TooFew;
        if (plan_.stamped && !state.timed) return Verdict::TimeUnreadable;
        return state.known == 0 ? Verdict::NothingKnown : Verdict::Kept;
    }

    void keep(std::size_t line) {
        targets_.line[row_] = static_cast<std::uint32_t>(line);
        for (const std::size_t c : unreadableHere_)
            ++result_.unreadable[c];
        ++row_;
    }

    // Not a row: a header, the units row below one, or refused.
    void refuse(Verdict verdict, const RowState& state, std::size_t at, std::size_t line) {
        const std::string_view whole = recordAt(text_, at, separator_);
        // Files that were put together keep the byte order mark of each.
        const std::string_view record = whole.starts_with("\xEF\xBB\xBF") ? whole.substr(3) : whole;
        if (isRepeat(record)) {
            ++result_.headerLines;
            result_.repeatedHeaders.push_back(row_ - firstRow_);
            return;
        }
        if (!plan_.dialect.unitsText.empty() && trimBlanks(record) == trimBlanks(plan_.dialect.unitsText)) {
            ++result_.headerLines;
            return;
        }
        if (namesColumns(record)) {
            result_.change = HeaderChange{at + (whole.size() - record.size()), line};
            return;
        }
        ++result_.refusedCount;
        if (result_.refused.size() < mostRefusedListed) result_.refused.push_back({line, why(verdict, state)});
    }

    [[nodiscard]] bool isRepeat(std::string_view record) {
        if (trimBlanks(record) == trimBlanks(plan_.dialect.headerText)) return true;
        if (headerFields_.empty()) splitFields(plan_.dialect.headerText, plan_.dialect.format, headerFields_);
        splitFields(record.substr(0, longestHeader), plan_.dialect.format, fields_);
        const auto width = static_cast<std::ptrdiff_t>(width_);
        if (fields_.size() < width_ || unquoted(fields_[0]) != unquoted(headerFields_[0])) return false;
        return std::all_of(fields_.begin() + width, fields_.end(),
                           [](auto field) { return trimBlanks(field).empty(); }) &&
               std::equal(fields_.begin(), fields_.begin() + width, headerFields_.begin(),
                          [](auto a, auto b) { return unquoted(a) == unquoted(b); });
    }

    // A header names its columns in words: without letters, or after many lines that were none, it is not looked at.
    [[nodiscard]] bool namesColumns(std::string_view record) {
        const auto letters =
            std::ranges::count_if(record, [](char c) { return lowerAscii(c) >= 'a' && lowerAscii(c) <= 'z'; });
        if (!plan_.mayChange || letters < 2 || record.size() > longestHeader || headersTried_ >= mostHeadersTried)
            return false;
        ++headersTried_;
        return quantitiesNamed(record, plan_.dialect.format, plan_.latin1, plan_.map) >= 2;
    }

    [[nodiscard]] std::string why(Verdict verdict, const RowState& state) const {
        const std::string header = std::to_string(width_);
        switch (verdict) {
        case Verdict::TooMany:
            return "more fields (" + std::to_string(state.fields) + ") than the header (" + header + ")";
        case Verdict::TooFew:
            return "fewer than half of the header's " + header + " fields";
        case Verdict::TimeUnreadable:
            return "the time cannot be read";
        case Verdict::NothingKnown:
            return "no known column besides the time can be read";
        case Verdict::Kept:
            break;
        }
        return {};
    }

    // Separator characters: number cells are read while they are scanned. Returns the place of the line end.
    const char* separated(const char* p, RowState& state) {
        std::size_t c = 0;
        for (; c < width_; ++c) {
            const ColumnPlan& column = plan_.columns[c];
            if (column.role == ColumnRole::Number || column.role == ColumnRole::StampNumber) {
                while (*p == ' ')
                    ++p;
                double value = 0.0;
                const char* behind = plainNumber(p, column.style.decimal, value);
                while (behind != nullptr && *behind == ' ')
                    ++behind;
                if (behind != nullptr && (*behind == separator_ || endsLine(*behind))) {
                    put(c, column, value, state);
                    p = behind;
                } else {
                    p = slowCell(p, c, column, state);
                }
            } else {
                p = slowCell(p, c, column, state);
            }
            if (endsLine(*p)) {
                ++c;
                break;
            }
            ++p;
        }
        state.fields = c;
        if (c == width_ && !endsLine(*p)) p = surplus(p, state);
        for (; c < width_; ++c)
            if (targets_.columns[c] != nullptr) targets_.columns[c][row_] = nan;
        return p;
    }

    // Fields beyond the header's: empty ones are passed over.
    const char* surplus(const char* p, RowState& state) {
        std::size_t extra = 0;
        while (true) {
            const char* const behind = cellEnd(p);
            ++extra;
            if (!trimBlanks({p, static_cast<std::size_t>(behind - p)}).empty()) state.fields = width_ + extra;
            if (endsLine(*behind)) return behind;
            p = behind + 1;
        }
    }

    // At the separator or line end behind the cell. Counts the line ends inside quotes.
    const char* cellEnd(const char* p) {
        const char* q = p;
        while (*q == ' ')
            ++q;
        if (*q == '"') {
            const auto from = static_cast<std::size_t>(p - text_.data());
            const std::size_t end = quotedEnd(text_, from, separator_);
            if (end != std::string_view::npos) {
                for (std::size_t i = from; i < end; ++i)
                    joinedLines_ += closesLine(text_, i);
                return text_.data() + end;
            }
        }
        while (*q != separator_ && !endsLine(*q))
            ++q;
        return q;
    }

    const char* slowCell(const char* p, std::size_t c, const ColumnPlan& column, RowState& state) {
        const char* const behind = cellEnd(p);
        if (column.role != ColumnRole::Skipped) take({p, static_cast<std::size_t>(behind - p)}, c, column, state);
        return behind;
    }

    const char* blankSeparated(std::size_t at, RowState& state) {
        const std::string_view record = lineAt(text_, at);
        splitRow(record, plan_.dialect.format, width_, fields_);
        state.fields = fields_.size();
        for (std::size_t c = 0; c < width_; ++c) {
            const ColumnPlan& column = plan_.columns[c];
            if (column.role == ColumnRole::Skipped) continue;
            if (c < fields_.size())
                take(fields_[c], c, column, state);
            else if (targets_.columns[c] != nullptr)
                targets_.columns[c][row_] = nan;
        }
        return record.data() + record.size();
    }

    void put(std::size_t c, const ColumnPlan& column, double value, RowState& state) {
        if (!column.asWritten) value = value * column.unit.factor / column.unit.divisor + column.unit.offset;
        if (column.role == ColumnRole::StampNumber) {
            targets_.time[row_] = value;
            state.timed = true;
        } else {
            targets_.columns[c][row_] = value;
            ++state.known;
        }
    }

    // A cell that is more than plain digits.
    void take(std::string_view cell, std::size_t c, const ColumnPlan& column, RowState& state) {
        cell = trimBlanks(cell);
        if (cell.size() > 1 && cell.front() == '"' && cell.back() == '"') {
            plainCell_ = unquoted(cell);
            cell = plainCell_;
        }
        switch (column.role) {
        case ColumnRole::StampText:
            stamp(cell, state);
            return;
        case ColumnRole::SessionText:
            targets_.columns[c][row_] = sessionNumber(cell);
            return;
        case ColumnRole::EventText:
            targets_.columns[c][row_] = saysConnected(cell) ? 1.0 : 0.0;
            return;
        case ColumnRole::Skipped:
            return;
        case ColumnRole::Number:
        case ColumnRole::StampNumber:
            break;
        }
        const Cell read = readCell(cell, column.style);
        if (read.kind == CellKind::Value) {
            put(c, column, read.value, state);
            return;
        }
        if (targets_.columns[c] != nullptr) targets_.columns[c][row_] = nan;
        if (read.kind == CellKind::Unreadable) unreadableHere_.push_back(c);
    }

    void stamp(std::string_view cell, RowState& state) {
        const std::optional<double> seconds = parseTime(cell, plan_.timeForm);
        if (!seconds) return;
        targets_.time[row_] = *seconds;
        state.timed = true;
    }

    double sessionNumber(std::string_view cell) {
        return cell.empty() ? nan : static_cast<double>(result_.texts.number(cell));
    }

    const RowPlan& plan_;
    std::string_view text_;
    const ColumnTargets& targets_;
    char separator_;
    std::size_t width_;
    std::size_t line_;
    std::size_t firstRow_, row_;
    std::size_t joinedLines_ = 0; // line ends inside the quotes of this record
    std::vector<std::size_t> unreadableHere_;
    std::size_t headersTried_ = 0;
    std::vector<std::string_view> fields_, headerFields_;
    std::string plainCell_;
    ChunkResult result_;
};

} // namespace

ChunkResult parseRows(const RowPlan& plan, std::string_view text, std::size_t start, std::size_t end,
                      std::size_t firstLine, const ColumnTargets& targets, std::size_t firstRow) {
    assert(text.empty() || endsLine(text.back()));
    return ChunkParser(plan, text, firstLine, targets, firstRow).parse(start, end);
}

} // namespace rw
