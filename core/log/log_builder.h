// Sections of rows → one Log: channels joined, time settled, what only the whole log tells applied.
#pragma once

#include "core/log/import.h"
#include "core/log/row_plan.h"
#include "core/log/row_reader.h"

#include <string>
#include <vector>

namespace rw {

class LogBuilder {
public:
    LogBuilder(const std::string& fileName, const ImportOptions& options);

    void begin(const SectionPlan& plan, TextEncoding encoding); // the first header
    void change(const SectionPlan& plan);                       // a header with other columns; the rows below it follow
    void append(const SectionPlan& plan, SectionRows rows);
    void refuse(RefusedRow row);
    void finish(unsigned threads);
    [[nodiscard]] ImportReport& report() { return log_.report; }
    [[nodiscard]] std::size_t stepsBack() const; // rows where the time itself starts anew
    [[nodiscard]] Log take() && { return std::move(log_); }

private:
    void addColumns(const SectionPlan& plan);
    void takeChannel(Quantity quantity, std::size_t column, std::vector<double> values, const SectionRows& rows);
    void settleStamps(unsigned threads);
    void removeRows(const std::vector<std::uint32_t>& rows, unsigned threads);
    void sayMatches();

    Log log_;
    ImportOptions options_;
    TimeForm timeForm_ = TimeForm::Seconds;
    double unit_s_ = 1.0;
    std::vector<ColumnMeaning> meanings_;   // as the report's columns
    std::vector<std::size_t> reportColumn_; // of the present header's columns
    TextNumbers sessions_;
};

} // namespace rw
