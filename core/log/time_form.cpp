#include "core/log/time_form.h"

#include "core/log/number_text.h"
#include "core/log/time_text.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <vector>

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

constexpr double mostlyReadable = 0.9, oftenRising = 0.2, hardlyFalling = 0.02;
constexpr double steady = 0.25; // half of the steps lie within this share of their median

// What rows tell of a column, whatever its form.
struct Course {
    std::size_t cells = 0, read = 0, rises = 0, falls = 0, equal = 0;
    std::vector<double> steps; // positive ones
};

template<class Read>
Course courseOf(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs, Read read) {
    Course course;
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    double before = none;
    std::size_t run = 0;
    for (std::size_t row = 0; row < cells.size(); ++row) {
        if (run < runs.size() && runs[run] == row) {
            before = none;
            ++run;
        }
        ++course.cells;
        const double now = read(cells[row]).value_or(none);
        if (std::isnan(now)) continue;
        ++course.read;
        course.rises += now > before;
        course.falls += now < before;
        course.equal += now == before;
        if (now > before) course.steps.push_back(now - before);
        before = now;
    }
    return course;
}

// Median of the positive steps between neighbouring rows; 0 where a number is not whole or there are none.
double wholeMedianStep(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                       const NumberStyle& style) {
    bool whole = true;
    std::vector<double> steps =
        courseOf(cells, runs, [&](const std::string& text) -> std::optional<double> {
            const Cell cell = readCell(text, style);
            if (cell.kind != CellKind::Value) return std::nullopt;
            whole &= cell.value == std::floor(cell.value) && text.find(style.decimal) == std::string::npos;
            return cell.value;
        }).steps;
    if (!whole || steps.empty()) return 0.0;
    const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
    std::nth_element(steps.begin(), middle, steps.end());
    return *middle;
}

double quantile(std::vector<double>& values, double share) {
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

// 0: no time; the larger the likelier.
double likeness(Course course, bool text) {
    const auto steps = static_cast<double>(course.rises + course.falls + course.equal);
    if (course.steps.empty() || static_cast<double>(course.read) < mostlyReadable * static_cast<double>(course.cells))
        return 0.0;
    if (static_cast<double>(course.rises) < oftenRising * steps && !text) return 0.0;
    if (static_cast<double>(course.falls) > hardlyFalling * steps + 1.0) return 0.0;
    if (text) return 4.0;
    const double median = quantile(course.steps, 0.5), low = quantile(course.steps, 0.25),
                 high = quantile(course.steps, 0.75);
    if (low == 1.0 && high == 1.0) return 1.0; // may count the rows
    return std::max(high - median, median - low) <= steady * median ? 3.0 : 2.0;
}

double likenessOf(const std::vector<std::string>& cells, const std::vector<std::size_t>& runs,
                  const NumberStyle& style) {
    double best = likeness(courseOf(cells, runs,
                                    [&](const std::string& cell) -> std::optional<double> {
                                        const Cell read = readCell(cell, style);
                                        if (read.kind != CellKind::Value) return std::nullopt;
                                        return read.value;
                                    }),
                           false);
    for (const TimeForm form : {TimeForm::MinutesSeconds, TimeForm::Clock, TimeForm::Iso8601})
        best = std::max(
            best,
            likeness(courseOf(cells, runs, [form](const std::string& cell) { return parseTime(cell, form); }), true));
    return best;
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
        const auto fit = static_cast<std::size_t>(std::ranges::count_if(
            cells, [form](const std::string& cell) { return parseTime(cell, form).has_value(); }));
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

std::optional<std::size_t> likelyTimeColumn(const ColumnSample& sample, const NumberStyles& styles,
                                            const HeaderMeaning& meaning) {
    std::optional<std::size_t> likeliest;
    double most = 0.0;
    for (std::size_t c = 0; c < sample.cells.size(); ++c) {
        const ImportColumn& column = meaning.columns[c].report;
        if (column.quantity && column.quantity != Quantity::Time) continue;
        const double here = likenessOf(sample.cells[c], sample.runs, styles.columns[c]);
        if (here <= most) continue;
        most = here;
        likeliest = c;
    }
    return likeliest;
}

} // namespace rw
