#include "core/log/row_reader.h"

#include "core/parallel.h"
#include "core/stopped.h"
#include "core/system/input_file.h"

#include <algorithm>
#include <atomic>
#include <utility>

namespace rw {
namespace {

constexpr std::size_t blockBytes = TextSurvey::blockBytes;

struct Chunk {
    std::size_t start = 0, end = 0; // bytes: lines that start in there
    std::size_t firstLine = 0, firstRow = 0;
};

struct Span {
    std::size_t start = 0, end = 0;
};

// Records over several physical lines: a chunk must not begin inside one.
std::vector<Span> longRecords(std::string_view text, std::size_t start, std::size_t end, char separator) {
    std::vector<Span> spans;
    std::size_t at = start;
    while (at < end) {
        const std::size_t quote = text.find('"', at);
        if (quote >= end) break;
        std::size_t lineStart = quote;
        while (lineStart > at && !closesLine(text, lineStart - 1))
            --lineStart;
        const std::string_view record = recordAt(text, lineStart, separator);
        const std::size_t next = nextLineStart(text, lineStart + record.size());
        if (record.find_first_of("\r\n") != std::string_view::npos) spans.push_back({lineStart, next});
        at = next;
    }
    return spans;
}

std::vector<Chunk> chunksOf(const SurveyedText& source, char separator, std::size_t start, std::size_t firstLine,
                            std::size_t end) {
    std::vector<Span> spans;
    if (source.survey.quotes > 0) spans = longRecords(source.text, start, end, separator);
    std::vector<Chunk> chunks;
    std::size_t span = 0;
    for (std::size_t b = start / blockBytes; b * blockBytes < end; ++b) {
        const bool first = chunks.empty();
        std::size_t from = first ? start : source.survey.firstStart[b];
        std::size_t line = first ? firstLine : source.survey.firstLine(b);
        while (span < spans.size() && spans[span].end <= from)
            ++span;
        if (span < spans.size() && spans[span].start < from) {
            from = spans[span].end;
            line = source.survey.lineOf(source.text, from);
        }
        if (from >= end) break;
        if (!first) chunks.back().end = from;
        chunks.push_back({from, end, line, line - firstLine});
    }
    return chunks;
}

template<class Value>
void allocate(std::vector<Value>& column, std::size_t rows) {
    column.reserve(rows);
    askForLargePages(column.data(), rows * sizeof(Value));
    column.resize(rows);
}

// Closes the holes that lines without a row left, and gives back what is much too large.
template<class Value>
void compact(std::vector<Value>& column, const std::vector<Chunk>& chunks, const std::vector<ChunkResult>& results) {
    std::size_t rows = 0;
    for (std::size_t k = 0; k < results.size(); ++k) {
        const auto from = column.begin() + static_cast<std::ptrdiff_t>(chunks[k].firstRow);
        if (chunks[k].firstRow != rows)
            std::move(from, from + static_cast<std::ptrdiff_t>(results[k].rows),
                      column.begin() + static_cast<std::ptrdiff_t>(rows));
        rows += results[k].rows;
    }
    column.resize(rows);
    if (column.capacity() > rows + rows / 2 + 1024) column.shrink_to_fit();
}

void appendCapped(std::vector<RefusedRow>& all, const std::vector<RefusedRow>& more) {
    const std::size_t room = mostRefusedListed - std::min(all.size(), mostRefusedListed);
    all.insert(all.end(), more.begin(), more.begin() + static_cast<std::ptrdiff_t>(std::min(room, more.size())));
}

// Session texts are numbered per chunk; over the whole section by first appearance.
void renumberTexts(std::vector<double>& column, const std::vector<ChunkResult>& results, TextNumbers& texts) {
    std::size_t row = 0;
    for (const ChunkResult& chunk : results) {
        std::vector<double> number;
        for (const std::string& text : chunk.texts.texts())
            number.push_back(static_cast<double>(texts.number(text)));
        for (const std::size_t end = row + chunk.rows; row < end; ++row)
            if (column[row] >= 0.0) column[row] = number[static_cast<std::size_t>(column[row])];
    }
}

ChunkResult sumOf(const std::vector<ChunkResult>& results, std::size_t width) {
    ChunkResult sum;
    sum.unreadable.assign(width, 0);
    for (const ChunkResult& chunk : results) {
        for (const std::size_t row : chunk.repeatedHeaders)
            sum.repeatedHeaders.push_back(sum.rows + row);
        for (std::size_t c = 0; c < chunk.unreadable.size(); ++c)
            sum.unreadable[c] += chunk.unreadable[c];
        appendCapped(sum.refused, chunk.refused);
        sum.rows += chunk.rows;
        sum.refusedCount += chunk.refusedCount;
        sum.commentLines += chunk.commentLines;
        sum.emptyLines += chunk.emptyLines;
        sum.headerLines += chunk.headerLines;
        sum.change = chunk.change;
    }
    return sum;
}

class SectionReader {
public:
    SectionReader(const RowPlan& plan, const SurveyedText& source)
        : plan_(plan)
        , source_(source) {}

    SectionRows read(std::size_t start, std::size_t firstLine, std::size_t end,
                     const std::function<void(std::size_t)>& progress) {
        chunks_ = chunksOf(source_, plan_.dialect.format.separator, start, firstLine, end);
        if (source_.mapped) releasePages(source_.text);
        makeColumns(source_.survey.lineOf(source_.text, end) - firstLine);
        parseChunks(progress);
        rows_.totals = sumOf(results_, plan_.columns.size());
        closeHoles();
        return std::move(rows_);
    }

private:
    void makeColumns(std::size_t lines) {
        rows_.columns.resize(plan_.columns.size());
        forEachColumn([lines](auto& column) { allocate(column, lines); });
        targets_.time = rows_.time.data();
        targets_.line = rows_.line.data();
        for (std::vector<double>& column : rows_.columns)
            targets_.columns.push_back(column.empty() ? nullptr : column.data());
    }

    [[nodiscard]] bool isWritten(std::size_t c) const {
        const ColumnRole role = plan_.columns[c].role;
        return role != ColumnRole::Skipped && role != ColumnRole::StampNumber && role != ColumnRole::StampText;
    }

    // Those that are written, times and line numbers too, on all threads.
    template<class Action>
    void forEachColumn(Action action) {
        const std::size_t width = plan_.columns.size();
        parallelFor(source_.threads, width + 2, [&](std::size_t i, bool) {
            if (i == width)
                action(rows_.time);
            else if (i == width + 1)
                action(rows_.line);
            else if (isWritten(i))
                action(rows_.columns[i]);
        });
    }

    void parseChunks(const std::function<void(std::size_t)>& progress) {
        results_.resize(chunks_.size());
        std::atomic<std::size_t> last{chunks_.size()}; // chunks behind a change of header are not needed
        std::atomic<std::size_t> done{0};
        parallelFor(source_.threads, chunks_.size(), [&](std::size_t k, bool onCaller) {
            throwIfStopped(source_.stop);
            if (k > last) return;
            const Chunk& chunk = chunks_[k];
            results_[k] =
                parseRows(plan_, source_.text, chunk.start, chunk.end, chunk.firstLine, targets_, chunk.firstRow);
            if (results_[k].change) {
                std::size_t before = last;
                while (k < before && !last.compare_exchange_weak(before, k)) {
                }
            }
            if (source_.mapped) releasePages(source_.text.substr(chunk.start, chunk.end - chunk.start));
            done += chunk.end - chunk.start;
            if (onCaller && progress) progress(done);
        });
        if (last < results_.size()) results_.resize(last + 1);
    }

    void closeHoles() {
        forEachColumn([this](auto& column) { compact(column, chunks_, results_); });
        for (std::size_t c = 0; c < plan_.columns.size(); ++c)
            if (plan_.columns[c].role == ColumnRole::SessionText)
                renumberTexts(rows_.columns[c], results_, rows_.totals.texts);
    }

    const RowPlan& plan_;
    const SurveyedText& source_;
    std::vector<Chunk> chunks_;
    std::vector<ChunkResult> results_;
    ColumnTargets targets_;
    SectionRows rows_;
};

} // namespace

SectionRows readSection(const RowPlan& plan, const SurveyedText& source, std::size_t start, std::size_t firstLine,
                        std::size_t end, const std::function<void(std::size_t)>& progress) {
    return SectionReader(plan, source).read(start, firstLine, end, progress);
}

} // namespace rw
