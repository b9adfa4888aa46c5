#include "core/log/time_form.h"

#include "core/log/time_text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace rw {
namespace {

constexpr double unitGuessed = 0.7;     // confidence where the size of the steps decides
constexpr double millisecondStep = 5.0; // whole numbers with at least this median step
constexpr double microsecondStep = 5000.0;

Unit scaled(double divisor) { return {"", UnitKind::Time, 1.0, divisor, 0.0, false}; }

TimeForm formOf(const Unit& unit) {
    if (unit.divisor == 1e3) return TimeForm::Milliseconds;
    return unit.divisor == 1e6 ? TimeForm::Microseconds : TimeForm::Seconds;
}

// Median of the positive steps between neighbouring rows; 0 where a number is not whole or there are none.
double wholeMedianStep(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                       const NumberStyle& style) {
    std::vector<double> steps;
    double before = std::nan("");
    std::size_t run = 0;
    for (std::size_t row = 0; row < cells.size(); ++row) {
        if (run < runs.size() && runs[run] == row) {
            before = std::nan("");
            ++run;
        }
        const Cell cell = readCell(cells[row], style);
        if (cell.kind != CellKind::Value) continue;
        if (cell.value != std::floor(cell.value) || cells[row].find(style.decimal) != std::string::npos) return 0.0;
        if (cell.value > before) steps.push_back(cell.value - before);
        before = cell.value;
    }
    if (steps.empty()) return 0.0;
    std::nth_element(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2), steps.end());
    return steps[steps.size() / 2];
}

} // namespace

std::optional<double> parseTime(std::string_view text, TimeForm form) {
    text = trimBlanks(text);
    switch (form) {
    case TimeForm::MinutesSeconds:
        return parseMinutesSeconds(text);
    case TimeForm::Clock:
        return parseClock(text);
    case TimeForm::Iso8601:
        return parseIso8601(text);
    case TimeForm::Seconds:
    case TimeForm::Milliseconds:
    case TimeForm::Microseconds:
    case TimeForm::Rate:
        break;
    }
    return std::nullopt;
}

TimeReading findTimeForm(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                         const NumberStyle& style, const Unit* header, std::optional<TimeForm> told) {
    if (told) {
        const bool milli = *told == TimeForm::Milliseconds, micro = *told == TimeForm::Microseconds;
        return {*told, scaled(milli ? 1e3 : (micro ? 1e6 : 1.0)), 1.0};
    }
    std::size_t numbers = 0;
    for (const std::string& cell : cells)
        numbers += readCell(cell, style).kind == CellKind::Value;
    TimeForm best = TimeForm::Seconds;
    std::size_t most = numbers;
    for (const TimeForm form : {TimeForm::MinutesSeconds, TimeForm::Clock, TimeForm::Iso8601}) {
        const auto fit = static_cast<std::size_t>(std::count_if(
            cells.begin(), cells.end(), [form](const std::string& cell) { return parseTime(cell, form).has_value(); }));
        if (fit <= most) continue;
        most = fit;
        best = form;
    }
    if (best != TimeForm::Seconds) return {best, scaled(1.0), 1.0};
    if (header != nullptr && header->dimension == UnitKind::Time) return {formOf(*header), *header, 1.0};
    const double step = wholeMedianStep(cells, runs, style);
    if (step >= microsecondStep) return {TimeForm::Microseconds, scaled(1e6), unitGuessed};
    if (step >= millisecondStep) return {TimeForm::Milliseconds, scaled(1e3), unitGuessed};
    return {TimeForm::Seconds, scaled(1.0), 1.0};
}

} // namespace rw
