// Any bytes as a log: refused in one line, or read with every line accounted for and every column whole.
#include "core/error.h"
#include "core/log/import.h"
#include "core/log/text_survey.h"
#include "tests/fuzz/fuzz_target.h"

#include <algorithm>
#include <cmath>

namespace {

using rw::fuzz::promise;

std::size_t physicalLines(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    std::size_t lines = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        lines += rw::closesLine(text, i);
    return lines + (!text.empty() && !rw::closesLine(text, text.size() - 1));
}

void checkColumns(const rw::Log& log) {
    promise(log.time.size() == log.report.rows && log.line.size() == log.report.rows, "rows are counted");
    for (const rw::Channel& channel : log.channels) {
        promise(channel.values.empty() || channel.values.size() == log.rows(), "columns are whole");
        for (const double value : channel.values)
            promise(!std::isinf(value), "no value is infinite");
    }
    for (const double time : log.time)
        promise(std::isfinite(time), "every row has a time");
    promise(std::is_sorted(log.line.begin(), log.line.end()), "lines rise");
    promise(
        std::is_sorted(log.marks.begin(), log.marks.end(), [](const auto& a, const auto& b) { return a.row < b.row; }),
        "marks rise");
    for (const rw::RowMark& mark : log.marks)
        promise(mark.row > 0 && mark.row < log.rows(), "marks stand between rows");
    for (std::size_t row = 1; row < log.rows(); ++row) {
        if (log.time[row] >= log.time[row - 1]) continue;
        promise(
            std::any_of(log.marks.begin(), log.marks.end(), [row](const rw::RowMark& mark) { return mark.row == row; }),
            "time steps back at marks only");
    }
}

void checkLines(const rw::Log& log, std::string_view bytes) {
    const rw::ImportReport& report = log.report;
    promise(report.refused.size() == std::min<std::size_t>(report.refusedCount, 100), "refused rows are listed");
    for (const rw::RefusedRow& row : report.refused)
        promise(row.line > 0 && !row.why.empty(), "a refused row says its line and why");
    // Quotes may join physical lines, and UTF-16 is not counted here.
    if (!report.encoding.starts_with("UTF-8") || bytes.find('"') != std::string_view::npos) return;
    promise(report.rows + report.refusedCount + report.commentLines + report.emptyLines + report.headerLines ==
                physicalLines(bytes),
            "every line is accounted for");
}

void readOnce(std::string_view bytes, const rw::ImportOptions& options) {
    try {
        const rw::Log log = rw::importLog(bytes, "log", options);
        checkColumns(log);
        checkLines(log, bytes);
    } catch (const rw::InputError& error) {
        rw::fuzz::promiseOneLine(error.what());
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    rw::ImportOptions options;
    options.threads = 1;
    readOnce(rw::fuzz::asText(data, size), options);
    options.rate_Hz = 50.0;
    options.polePairs = 2;
    readOnce(rw::fuzz::asText(data, size), options);
    return 0;
}
