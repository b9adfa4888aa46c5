#include "core/log/log_builder.h"

#include "core/log/channel_finish.h"
#include "core/log/time_axis.h"
#include "core/parallel.h"

#include <algorithm>
#include <fmt/format.h>
#include <limits>
#include <utility>

namespace rw {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::string stepBackText(double seconds) { return fmt::format("the time steps back by {:.4g} s", seconds); }

// Takes the rows (rising) out of a column.
template<class Value>
void eraseRows(std::vector<Value>& column, const std::vector<std::uint32_t>& rows) {
    if (column.empty() || rows.empty()) return;
    std::size_t to = rows[0];
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const std::size_t from = rows[k] + 1UL, end = k + 1 < rows.size() ? rows[k + 1] : column.size();
        std::move(column.begin() + static_cast<std::ptrdiff_t>(from), column.begin() + static_cast<std::ptrdiff_t>(end),
                  column.begin() + static_cast<std::ptrdiff_t>(to));
        to += end - from;
    }
    column.resize(to);
}

} // namespace

LogBuilder::LogBuilder(const std::string& fileName, const ImportOptions& options)
    : options_(options) {
    log_.file = fileName;
}

void LogBuilder::begin(const SectionPlan& plan, TextEncoding encoding) {
    ImportReport& report = log_.report;
    report.encoding = encodingName(encoding);
    report.separator = plan.rows.dialect.format.separator;
    report.decimal = plan.decimal;
    if (plan.thousands != '\0') report.thousands = plan.thousands;
    report.headerLine = plan.rows.dialect.headerLine;
    report.timeForm = timeFormName(plan.time.form);
    report.separatorConfidence = plan.rows.dialect.separatorConfidence;
    report.decimalConfidence = plan.decimalConfidence;
    report.timeConfidence = plan.time.confidence;
    timeForm_ = plan.time.form;
    unit_s_ = plan.time.unit.factor / plan.time.unit.divisor;
    addColumns(plan);
}

void LogBuilder::change(const SectionPlan& plan) {
    addColumns(plan);
    if (log_.rows() == 0) return; // nothing stands before it
    if (!log_.marks.empty() && log_.marks.back().row == log_.rows()) log_.marks.pop_back();
    log_.marks.push_back({RowMark::Kind::ColumnsChanged, log_.rows()});
}

// Columns of the same name are one column of the report.
void LogBuilder::addColumns(const SectionPlan& plan) {
    reportColumn_.clear();
    for (const ColumnMeaning& meaning : plan.meaning.columns) {
        const auto same = std::ranges::find_if(
            log_.report.columns, [&](const ImportColumn& column) { return column.name == meaning.report.name; });
        reportColumn_.push_back(static_cast<std::size_t>(same - log_.report.columns.begin()));
        if (same != log_.report.columns.end() && !meaning.report.name.empty()) continue;
        reportColumn_.back() = log_.report.columns.size();
        log_.report.columns.push_back(meaning.report);
        meanings_.push_back(meaning);
    }
    for (const std::string& note : plan.meaning.notes)
        if (std::ranges::find(log_.notes, note) == log_.notes.end()) log_.notes.push_back(note);
}

void LogBuilder::append(const SectionPlan& plan, SectionRows rows) {
    ImportReport& report = log_.report;
    const ChunkResult& totals = rows.totals;
    for (const std::size_t row : totals.repeatedHeaders) {
        const std::size_t at = log_.rows() + row;
        if (at > 0 && (log_.marks.empty() || log_.marks.back().row != at))
            log_.marks.push_back({RowMark::Kind::HeaderRepeated, at});
    }
    for (const RefusedRow& refused : totals.refused)
        refuse(refused);
    report.refusedCount += totals.refusedCount - totals.refused.size();
    report.commentLines += totals.commentLines;
    report.emptyLines += totals.emptyLines;
    report.headerLines += totals.headerLines;
    for (std::size_t c = 0; c < totals.unreadable.size(); ++c)
        report.columns[reportColumn_[c]].unreadable += totals.unreadable[c];
    for (std::size_t c = 0; c < rows.columns.size(); ++c)
        if (!rows.columns[c].empty()) takeChannel(plan.rows.columns[c].quantity, c, std::move(rows.columns[c]), rows);
    const std::size_t all = log_.rows() + rows.rows();
    for (Channel& channel : log_.channels)
        if (channel.present()) channel.values.resize(all, nan);
    if (log_.time.empty()) {
        log_.time = std::move(rows.time);
        log_.line = std::move(rows.line);
        return;
    }
    log_.time.insert(log_.time.end(), rows.time.begin(), rows.time.end());
    log_.line.insert(log_.line.end(), rows.line.begin(), rows.line.end());
}

void LogBuilder::takeChannel(Quantity quantity, std::size_t column, std::vector<double> values,
                             const SectionRows& rows) {
    if (quantity == Quantity::SessionMark) {
        std::vector<double> number;
        for (const std::string& text : rows.totals.texts.texts())
            number.push_back(static_cast<double>(sessions_.number(text)));
        for (double& value : values)
            if (value >= 0.0) value = number[static_cast<std::size_t>(value)];
    }
    Channel& channel = log_[quantity];
    if (channel.column < 0) {
        channel.column = static_cast<int>(reportColumn_[column]);
        channel.confidence = log_.report.columns[reportColumn_[column]].confidence;
    }
    if (log_.rows() == 0) {
        channel.values = std::move(values);
        return;
    }
    channel.values.resize(log_.rows(), nan);
    channel.values.insert(channel.values.end(), values.begin(), values.end());
}

// The first hundred by line; all are counted.
void LogBuilder::refuse(RefusedRow row) {
    std::vector<RefusedRow>& refused = log_.report.refused;
    ++log_.report.refusedCount;
    const auto place = std::ranges::upper_bound(
        refused, row, [](const RefusedRow& a, const RefusedRow& b) { return a.line < b.line; });
    if (refused.size() >= mostRefusedListed && place == refused.end()) return;
    refused.insert(place, std::move(row));
    if (refused.size() > mostRefusedListed) refused.pop_back();
}

void LogBuilder::finish(unsigned threads) {
    settleStamps(threads);
    log_.report.rows = log_.rows();
    // A header at the very end begins nothing.
    while (!log_.marks.empty() && log_.marks.back().row >= log_.rows())
        log_.marks.pop_back();
    if (log_.rows() == 0) return;
    settleCurrentSign(log_);
    settleShares(log_, meanings_);
    parallelFor(threads, quantityCount, [&](std::size_t q, bool) {
        Channel& channel = log_.channels[q];
        if (channel.present() && static_cast<Quantity>(q) != Quantity::EventMark)
            finishChannel(channel, log_.time, log_.marks);
    });
    addSpeedFromPlaces(log_);
    sayMatches();
    doubtImplausible(log_);
}

void LogBuilder::settleStamps(unsigned threads) {
    if (options_.rate_Hz) {
        for (std::size_t row = 0; row < log_.time.size(); ++row)
            log_.time[row] = static_cast<double>(row) / *options_.rate_Hz;
        log_.report.stampStep_s = 1.0 / *options_.rate_Hz;
        return;
    }
    SettledTime settled = settleTime(log_.time, log_.marks, timeForm_, unit_s_);
    for (std::size_t k = 0; k < settled.removed.size(); ++k)
        refuse({log_.line[settled.removed[k]], stepBackText(settled.stepsBack[k])});
    log_.marks = std::move(settled.marks);
    removeRows(settled.removed, threads);
    log_.notes.insert(log_.notes.end(), settled.notes.begin(), settled.notes.end());
    const SpreadStamps spread = spreadEqualStamps(log_.time, log_.marks);
    log_.report.stampStep_s = spread.clockStep;
    if (spread.equal == 0) return;
    log_.notes.push_back(fmt::format(
        "{} rows have the same stamp as the row before: the clock steps by {:.4g} s; they are spread evenly.",
        spread.equal, spread.clockStep));
}

void LogBuilder::removeRows(const std::vector<std::uint32_t>& rows, unsigned threads) {
    if (rows.empty()) return;
    parallelFor(threads, quantityCount + 2, [&](std::size_t i, bool) {
        if (i == quantityCount)
            eraseRows(log_.time, rows);
        else if (i == quantityCount + 1)
            eraseRows(log_.line, rows);
        else
            eraseRows(log_.channels[i].values, rows);
    });
    for (RowMark& mark : log_.marks) {
        const auto before = std::ranges::lower_bound(rows, mark.row);
        mark.row -= static_cast<std::size_t>(before - rows.begin());
    }
}

std::size_t LogBuilder::stepsBack() const {
    return static_cast<std::size_t>(std::ranges::count_if(
        log_.marks, [](const RowMark& mark) { return mark.kind == RowMark::Kind::TimeSteppedBack; }));
}

void LogBuilder::sayMatches() {
    // A channel without a single value is none.
    for (Channel& channel : log_.channels)
        if (channel.present() && channel.missing == channel.values.size()) channel = Channel();
    if (log_.report.decimalConfidence < 0.8)
        log_.notes.push_back("Whether \"" + log_.report.decimal +
                             "\" is the decimal mark is not sure; it can be overruled.");
    if (log_.report.timeConfidence < 0.8)
        log_.notes.push_back("The time column tells no unit; by the size of its steps it is taken for " +
                             log_.report.timeForm + ".");
}

} // namespace rw
