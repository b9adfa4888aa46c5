// Rows of one header → columns, parsed in place, chunk by chunk on several threads. README.md 1 "Rows".
#pragma once

#include "core/log/column_match.h"
#include "core/log/dialect.h"
#include "core/log/log.h"
#include "core/log/number_text.h"
#include "core/log/time_form.h"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace rw {

// Texts numbered from 0 in order of first appearance.

class TextNumbers {
public:
    std::size_t number(std::string_view text) {
        // Neighbouring rows nearly always say the same.
        if (last_ < texts_.size() && texts_[last_] == text) return last_;
        const auto found = index_.find(text);
        if (found != index_.end()) return last_ = found->second;
        last_ = texts_.size();
        texts_.emplace_back(text);
        index_.emplace(texts_.back(), last_);
        return last_;
    }
    [[nodiscard]] const std::vector<std::string>& texts() const { return texts_; }

private:
    struct Hash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>()(text); }
    };
    std::vector<std::string> texts_;
    std::unordered_map<std::string, std::size_t, Hash, std::equal_to<>> index_;
    std::size_t last_ = 0;
};

enum class ColumnRole : std::uint8_t { Skipped, Number, StampNumber, StampText, SessionText, EventText };

struct ColumnPlan {
    ColumnRole role = ColumnRole::Skipped;
    Quantity quantity = Quantity::Count_;
    NumberStyle style;
    Unit unit;
    bool asWritten = true; // the unit changes nothing
};

// All that is needed to read the rows below one header.
struct RowPlan {
    Dialect dialect;
    std::vector<ColumnPlan> columns;
    TimeForm timeForm = TimeForm::Seconds;
    bool stamped = true; // false: rows are counted, a rate tells their time
    bool latin1 = false;
    bool mayChange = true; // a header with other columns ends the section
    const ColumnMap* map = nullptr;
};

// Where the columns of a section are written; one entry a row of the section, refused rows are overwritten.
struct ColumnTargets {
    double* time = nullptr;
    std::uint32_t* line = nullptr;
    std::vector<double*> columns; // nullptr where skipped or the time
};

// A line that names other columns.
struct HeaderChange {
    std::size_t start = 0; // byte
    std::size_t line = 0;
};

inline constexpr std::size_t mostRefusedListed = 100;

struct ChunkResult {
    std::size_t rows = 0;
    std::vector<std::size_t> unreadable; // by column
    std::vector<RefusedRow> refused;     // the first hundred
    std::size_t refusedCount = 0, commentLines = 0, emptyLines = 0, headerLines = 0;
    std::vector<std::size_t> repeatedHeaders; // rows of the chunk before each
    TextNumbers texts;                        // session marks by the number that stands for them
    std::optional<HeaderChange> change;       // nothing behind it was read
};

// Lines that start in [start, end); start is a line start. The text ends with a line end.
// firstRow: where the chunk's rows go in the targets.
[[nodiscard]] ChunkResult parseRows(const RowPlan& plan, std::string_view text, std::size_t start, std::size_t end,
                                    std::size_t firstLine, const ColumnTargets& targets, std::size_t firstRow);

} // namespace rw
