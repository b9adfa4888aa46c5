#include "core/log/import.h"

#include "core/error.h"
#include "core/log/import_refusal.h"
#include "core/log/log_builder.h"
#include "core/log/row_plan.h"
#include "core/log/text_encoding.h"
#include "core/log/text_survey.h"
#include "core/parallel.h"
#include "core/stopped.h"
#include "core/system/input_file.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

namespace rw {
namespace {

constexpr std::size_t mostBytes = 2'000'000'000;
constexpr std::size_t fewestRows = 5;
constexpr std::size_t rowsAStepBack = 10;       // no log restarts more often: its time runs backwards
constexpr std::size_t mostHeaderChanges = 1000; // more are no log; each costs a start
constexpr std::size_t firstWindow = 1'000'000;  // bytes read below a changed header before it is known to last

// A log cut off by power loss often ends in zero bytes. Blocks of nothing else are passed over whole.
std::size_t lengthWithoutNuls(std::string_view bytes, std::size_t unit, bool mapped) {
    static constexpr std::array<char, 65536> zeros{};
    std::size_t length = bytes.size() / unit * unit;
    while (length >= zeros.size()) {
        const std::string_view block = bytes.substr(length - zeros.size(), zeros.size());
        if (std::memcmp(block.data(), zeros.data(), zeros.size()) != 0) break;
        if (mapped) releasePages(block);
        length -= zeros.size();
    }
    while (length > 0 && std::memcmp(bytes.data() + length - unit, zeros.data(), unit) == 0)
        length -= unit;
    return length;
}

// The text as UTF-8 or Latin-1, what of it is whole lines, and what hangs on behind.
struct Text {
    TextEncoding encoding = TextEncoding::Utf8;
    std::string converted;  // of UTF-16
    std::string_view whole; // without mark and trailing NULs
    std::string_view body;  // up to the last line end
    bool nulEnd = false;
    [[nodiscard]] bool latin1() const { return encoding == TextEncoding::Latin1; }
};

// Before the text is converted: converting takes memory.
void refuseLongWideLines(std::string_view bytes, bool bigEndian, const std::string& fileName) {
    std::size_t line = 1, length = 0;
    for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) {
        const char low = bytes[i + (bigEndian ? 1 : 0)], high = bytes[i + (bigEndian ? 0 : 1)];
        const bool ends = high == '\0' && (low == '\n' || low == '\r');
        line += ends && low == '\n';
        length = ends ? 0 : length + 1;
        if (length > mostLineBytes) refuseLongLine(fileName, line);
    }
}

void openText(Text& text, std::string_view bytes, const std::string& fileName, const ImportOptions& options,
              bool& mapped) {
    if (bytes.size() > mostBytes) throw InputError(fileName, "is larger than the 2 GB that are read");
    if (bytes.empty()) throw InputError(fileName, "is empty; a log in text form is expected");
    text.encoding = options.text.encoding.value_or(detectEncoding(bytes));
    bytes.remove_prefix(bomLength(bytes, text.encoding));
    const bool wide = text.encoding == TextEncoding::Utf16Le || text.encoding == TextEncoding::Utf16Be;
    if (bytes.size() > 1 && bytes[0] == '\0' && bytes[1] == '\0')
        throw InputError(fileName + ":1", "begins with NUL bytes; a log in text form is expected");
    const std::size_t length = lengthWithoutNuls(bytes, wide ? 2 : 1, mapped);
    text.nulEnd = length + (wide ? 1 : 0) < bytes.size();
    text.whole = bytes.substr(0, length);
    if (wide) {
        refuseLongWideLines(text.whole, text.encoding == TextEncoding::Utf16Be, fileName);
        text.converted = utf8FromUtf16(text.whole, text.encoding == TextEncoding::Utf16Be);
        text.whole = text.converted;
        mapped = false;
    }
    // No further back than a line may be long: the survey refuses what lies beyond.
    const std::size_t from = text.whole.size() - std::min(text.whole.size(), mostLineBytes + 2);
    const std::size_t last = text.whole.substr(from).find_last_of("\r\n");
    text.body = text.whole.substr(0, last == std::string_view::npos ? 0 : from + last + 1);
}

class Importer {
public:
    Importer(const std::string& fileName, const ImportOptions& options, std::stop_token stop,
             const ImportProgress& progress)
        : file_(fileName)
        , options_(mergedOptions(options))
        , stop_(std::move(stop))
        , progress_(progress) {
        if (options_.rate_Hz && !(std::isfinite(*options_.rate_Hz) && *options_.rate_Hz > 0.0))
            throw InputError(file_, "the rate must be a number of rows a second over 0");
        if (options_.polePairs && *options_.polePairs < 1)
            throw InputError(file_, "the pole pairs must be a whole number from 1");
    }

    Log import(std::string_view bytes, bool mapped) {
        openText(text_, bytes, file_, options_, mapped);
        const unsigned threads = threadCount(options_.threads);
        const TextSurvey survey = surveyText(text_.whole, file_, threads, mapped);
        if (text_.encoding == TextEncoding::Utf8 && !options_.text.encoding && !survey.utf8.plausible())
            text_.encoding = TextEncoding::Latin1;
        if (text_.body.empty())
            throw InputError(file_, "is a single line; a header line and rows below it are expected");
        const std::optional<Dialect> found = findDialect(text_.body, file_, text_.latin1(), options_.text, map());
        if (!found) refuseHeader();
        const Dialect& dialect = *found;
        const SurveyedText source{text_.body, survey, threads, mapped, stop_};
        LogBuilder builder(file_, options_);
        readSections(source, dialect, builder);
        countHead(dialect, builder.report());
        refuseTail(survey, builder);
        builder.finish(threads);
        checkRows(builder);
        tell(1.0);
        return std::move(builder).take();
    }

private:
    [[nodiscard]] const ColumnMap* map() const { return options_.map ? &*options_.map : nullptr; }
    void tell(double share) const {
        if (progress_) progress_(share);
    }

    // The rows below the header, and below every header with other columns.
    void readSections(const SurveyedText& source, const Dialect& first, LogBuilder& builder) {
        SectionPlan plan = planSection(source.text, first, text_.latin1(), options_);
        if (!plan.hasTime) refuseTimeless(plan);
        builder.begin(plan, text_.encoding);
        std::size_t start = first.dataStart, line = first.dataLine, window = source.text.size(), changes = 0;
        while (start < source.text.size()) {
            throwIfStopped(stop_);
            const std::size_t end = windowEnd(source, start, window);
            plan.rows.mayChange = plan.rows.mayChange && changes < mostHeaderChanges;
            SectionRows rows = readSection(plan.rows, source, start, line, end, [&](std::size_t done) {
                tell(0.9 * static_cast<double>(start + done) / static_cast<double>(source.text.size()));
            });
            const std::optional<HeaderChange> change = rows.totals.change;
            builder.append(plan, std::move(rows));
            if (!change) {
                start = end;
                line = source.survey.lineOf(source.text, end);
                window *= 2;
                continue;
            }
            const Dialect next = readHeaderAt(source.text, change->start, change->line, first.format, text_.latin1());
            SectionPlan changed = planSection(source.text, next, text_.latin1(), options_);
            if (!changed.hasTime || next.names.size() > mostColumns) {
                // Such a header cannot be followed: from here on it is one more line that is no row.
                plan.rows.mayChange = false;
                start = change->start;
                line = change->line;
                continue;
            }
            ++changes;
            plan = std::move(changed);
            builder.change(plan);
            builder.report().headerLines += next.units.empty() ? 1 : 2;
            start = next.dataStart;
            line = next.dataLine;
            window = firstWindow;
        }
    }

    [[noreturn]] void refuseHeader() const {
        const std::string why = "has no header with two known columns in its first 200 lines; names such as time, "
                                "voltage, current, throttle or rpm are expected, separated by comma, semicolon, tab or "
                                "blanks";
        const std::optional<Dialect> likely = likelyDialect(text_.body, text_.latin1(), options_.text);
        if (!likely) throw InputError(file_, why);
        const SectionPlan plan = planSection(text_.body, *likely, text_.latin1(), options_);
        throw ImportRefusal(file_,
                            why + "; line " + std::to_string(likely->headerLine) +
                                " looks like a header: a column map can say what its columns are",
                            survey(plan));
    }

    [[noreturn]] void refuseTimeless(const SectionPlan& plan) const {
        std::string likely;
        if (plan.likelyTime) likely = "; \"" + plan.meaning.columns[*plan.likelyTime].report.name + "\" reads like one";
        throw ImportRefusal(file_ + ":" + std::to_string(plan.rows.dialect.headerLine),
                            "names no time column" + likely + ": map one, or tell how many rows there are a second",
                            survey(plan));
    }

    [[nodiscard]] ImportSurvey survey(const SectionPlan& plan) const {
        LogBuilder builder(file_, options_);
        builder.begin(plan, text_.encoding);
        std::optional<std::size_t> time = plan.likelyTime;
        for (std::size_t c = 0; c < plan.meaning.columns.size() && !time; ++c)
            if (plan.meaning.columns[c].report.quantity == Quantity::Time) time = c;
        return {std::move(builder.report()), time, plan.firstCells};
    }

    [[nodiscard]] static std::size_t windowEnd(const SurveyedText& source, std::size_t start, std::size_t window) {
        // Quoted fields may span lines, so with quotes the text is not cut.
        if (source.survey.quotes > 0 || window >= source.text.size() - start) return source.text.size();
        return nextLineStart(source.text, start + window);
    }

    // Lines up to the header: comments, whatever they say.
    void countHead(const Dialect& dialect, ImportReport& report) const {
        for (std::size_t at = 0; at < dialect.headerStart;) {
            const std::string_view line = lineAt(text_.body, at);
            ++(isBlankLine(line, dialect.format.separator) ? report.emptyLines : report.commentLines);
            at = nextLineStart(text_.body, at + line.size());
        }
        report.headerLines += dialect.units.empty() ? 1 : 2;
    }

    // What stands behind the last line end: an interrupted write.
    void refuseTail(const TextSurvey& survey, LogBuilder& builder) const {
        const std::string_view tail = text_.whole.substr(text_.body.size());
        const std::size_t line = survey.lineOf(text_.whole, text_.body.size());
        if (text_.nulEnd)
            builder.refuse({line, "NUL bytes up to the end of the file: an interrupted write"});
        else if (!tail.empty() && isBlankLine(tail, builder.report().separator[0]))
            ++builder.report().emptyLines;
        else if (!tail.empty())
            builder.refuse({line, "the last line has no line end: an interrupted write"});
    }

    void checkRows(LogBuilder& builder) const {
        const ImportReport& report = builder.report();
        std::string first;
        if (!report.refused.empty())
            first = "; line " + std::to_string(report.refused[0].line) + ": " + report.refused[0].why;
        if (report.rows < fewestRows) {
            throw InputError(file_, "holds " + std::to_string(report.rows) + (report.rows == 1 ? " row" : " rows") +
                                        " that can be read; at least 5 are needed" + first);
        }
        if (report.refusedCount > report.rows) {
            throw InputError(file_, "has more rows that cannot be read (" + std::to_string(report.refusedCount) +
                                        ") than rows that can (" + std::to_string(report.rows) + ")" + first);
        }
        const std::size_t back = builder.stepsBack();
        if (back > 2 && back > report.rows / rowsAStepBack) {
            throw InputError(file_, "steps back in time on " + std::to_string(back) + " of its " +
                                        std::to_string(report.rows) + " rows; rows in the order of time are expected");
        }
    }

    const std::string& file_;
    ImportOptions options_;
    std::stop_token stop_;
    const ImportProgress& progress_;
    Text text_;
};

} // namespace

Log importLog(std::string_view bytes, const std::string& fileName, const ImportOptions& options, std::stop_token stop,
              const ImportProgress& progress) {
    return Importer(fileName, options, std::move(stop), progress).import(bytes, false);
}

Log importLogFile(const std::string& path, const ImportOptions& options, std::stop_token stop,
                  const ImportProgress& progress) {
    const InputFile file(path, mostBytes);
    return Importer(path, options, std::move(stop), progress).import(file.bytes(), file.mapped());
}

} // namespace rw
