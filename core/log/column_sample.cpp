#include "core/log/column_sample.h"

#include "core/log/text_encoding.h"
#include "core/log/text_survey.h"

#include <algorithm>

namespace rw {
namespace {

constexpr std::size_t mostCells = 40'000;
constexpr std::size_t stretches = 24;
constexpr std::size_t stretchRows = 40;

class Sampler {
public:
    Sampler(std::string_view text, const Dialect& dialect, bool latin1)
        : text_(text)
        , dialect_(dialect)
        , latin1_(latin1) {
        sample_.cells.resize(dialect.names.size());
    }

    // Rows from a line start on; the place behind them.
    std::size_t stretch(std::size_t start, std::size_t rows) {
        sample_.runs.push_back(taken_);
        while (rows > 0 && start < text_.size()) {
            const std::string_view record = recordAt(text_, start, dialect_.format.separator);
            if (add(record)) --rows;
            start = nextLineStart(text_, start + record.size());
        }
        return start;
    }

    [[nodiscard]] ColumnSample result() && { return std::move(sample_); }

private:
    bool add(std::string_view record) {
        if (isComment(record) || record == dialect_.headerText || isBlankLine(record, dialect_.format.separator))
            return false;
        const std::size_t width = sample_.cells.size();
        splitRow(record, dialect_.format, width, fields_);
        if (2 * fields_.size() < width || fields_.size() > width + 1) return false;
        for (std::size_t c = 0; c < width; ++c) {
            const std::string cell = c < fields_.size() ? unquoted(fields_[c]) : std::string();
            sample_.cells[c].push_back(latin1_ ? utf8FromLatin1(cell) : cell);
        }
        ++taken_;
        return true;
    }

    std::string_view text_;
    const Dialect& dialect_;
    bool latin1_;
    ColumnSample sample_;
    std::vector<std::string_view> fields_;
    std::size_t taken_ = 0;
};

} // namespace

ColumnSample sampleColumns(std::string_view text, const Dialect& dialect, bool latin1) {
    const std::size_t rows = mostCells / std::max<std::size_t>(dialect.names.size(), 1);
    const std::size_t each = std::min(stretchRows, rows / (2 * stretches));
    Sampler sampler(text, dialect, latin1);
    const std::size_t rest = sampler.stretch(dialect.dataStart, std::min<std::size_t>(rows / 2, 500));
    if (rest < text.size() && each > 0) {
        std::size_t behind = rest;
        for (std::size_t s = 0; s < stretches; ++s) {
            const std::size_t from = nextLineStart(text, std::max(behind, rest + (text.size() - rest) / stretches * s));
            behind = sampler.stretch(from, each);
        }
    }
    return std::move(sampler).result();
}

} // namespace rw
