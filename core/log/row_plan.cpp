#include "core/log/row_plan.h"

#include "core/log/number_style.h"
#include "core/log/time_form.h"

#include <algorithm>
#include <utility>

namespace rw {
namespace {

constexpr double rippleOfRms = 2.83; // peak to peak of a sine over its effective value: 2√2

bool isShare(Quantity quantity) {
    return quantity == Quantity::Throttle || quantity == Quantity::Brake || quantity == Quantity::Output;
}

ColumnRole roleOf(Quantity quantity, bool stampText) {
    switch (quantity) {
    case Quantity::Time:
        return stampText ? ColumnRole::StampText : ColumnRole::StampNumber;
    case Quantity::SessionMark:
        return ColumnRole::SessionText;
    case Quantity::EventMark:
        return ColumnRole::EventText;
    default:
        return ColumnRole::Number;
    }
}

bool isText(TimeForm form) {
    return form == TimeForm::Clock || form == TimeForm::Iso8601 || form == TimeForm::MinutesSeconds;
}

class Planner {
public:
    Planner(std::string_view text, const Dialect& dialect, bool latin1, const ImportOptions& options)
        : options_(options) {
        plan_.rows.dialect = dialect;
        plan_.rows.latin1 = latin1;
        plan_.rows.map = options.map ? &*options.map : nullptr;
        plan_.meaning = matchHeader(dialect.names, dialect.units, plan_.rows.map);
        sample_ = sampleColumns(text, dialect, latin1);
        styles_ = findNumberStyles(sample_, dialect.names, options.text.decimal);
    }

    SectionPlan plan() {
        plan_.decimal = styles_.decimal;
        plan_.thousands = styles_.thousands;
        plan_.decimalConfidence = styles_.confidence;
        plan_.meaning.notes.insert(plan_.meaning.notes.end(), styles_.notes.begin(), styles_.notes.end());
        plan_.rows.stamped = !options_.rate_Hz;
        plan_.hasTime = options_.rate_Hz.has_value();
        if (options_.rate_Hz) plan_.time.form = TimeForm::Rate;
        for (std::size_t c = 0; c < plan_.meaning.columns.size(); ++c)
            plan_.rows.columns.push_back(planColumn(c));
        plan_.rows.timeForm = plan_.time.form;
        if (!plan_.hasTime) guessTime();
        constexpr std::size_t shown = 5;
        for (const std::vector<std::string>& cells : sample_.cells)
            plan_.firstCells.emplace_back(cells.begin(),
                                          cells.begin() + static_cast<std::ptrdiff_t>(std::min(shown, cells.size())));
        return std::move(plan_);
    }

private:
    void guessTime() {
        plan_.likelyTime = likelyTimeColumn(sample_, styles_, plan_.meaning);
        if (plan_.likelyTime) {
            ImportColumn& column = plan_.meaning.columns[*plan_.likelyTime].report;
            column.guess = Quantity::Time;
            column.quantity.reset();
            column.confidence = likelyTimeConfidence;
        }
    }

    ColumnPlan planColumn(std::size_t c) {
        ColumnMeaning& meaning = plan_.meaning.columns[c];
        ColumnPlan column;
        column.style = styles_.columns[c];
        unitOfCells(meaning, column.style.unit);
        if (meaning.report.quantity == Quantity::Time) planTime(c, meaning);
        if (meaning.report.quantity == Quantity::SessionMark) planSessions(c, meaning);
        meaning.report.confidence = std::min(meaning.report.confidence, styles_.sure[c]);
        if (meaning.electrical && meaning.report.quantity == Quantity::MotorSpeed) planElectrical(meaning);
        if (!meaning.report.quantity) return column;
        column.quantity = *meaning.report.quantity;
        column.role = roleOf(column.quantity, isText(plan_.time.form));
        column.unit = meaning.unit;
        if (column.quantity == Quantity::RippleVoltage && meaning.rms) {
            column.unit.factor *= rippleOfRms;
            plan_.meaning.notes.push_back("Column \"" + meaning.report.name +
                                          "\" is the effective value of the ripple; peak to "
                                          "peak is taken as 2.83 times that.");
        }
        if (isShare(column.quantity) && (column.unit.dimension == UnitKind::Time))
            column.unit = {column.unit.spelling, UnitKind::Time, 1e6, column.unit.divisor, 0.0, false};
        if (column.role != ColumnRole::Number && column.role != ColumnRole::StampNumber) column.unit = {};
        column.asWritten = column.unit.factor == 1.0 && column.unit.divisor == 1.0 && column.unit.offset == 0.0;
        return column;
    }

    // A unit that stands in the cells counts where the header tells none.
    static void unitOfCells(ColumnMeaning& meaning, std::string_view unit) {
        if (unit.empty() || meaning.unitKnown) return;
        const std::optional<Unit> known = findUnit(unit);
        meaning.unit = *known;
        meaning.unitKnown = true;
        meaning.report.unit = std::string(unit);
        meaning.electrical = meaning.electrical || known->dimension == UnitKind::Electrical;
    }

    void planTime(std::size_t c, ColumnMeaning& meaning) {
        if (options_.rate_Hz) {
            meaning.report.guess = std::exchange(meaning.report.quantity, std::nullopt);
            return;
        }
        const Unit* header = meaning.unitKnown ? &meaning.unit : nullptr;
        plan_.time = findTimeForm(sample_.cells[c], sample_.runs, styles_.columns[c], header, options_.text.timeForm);
        meaning.unit = plan_.time.unit;
        plan_.hasTime = true;
        meaning.report.confidence = std::min(meaning.report.confidence, plan_.time.confidence);
    }

    // A session's name stands for many rows: a column that nearly always changes names none.
    void planSessions(std::size_t c, ColumnMeaning& meaning) {
        const std::vector<std::string>& cells = sample_.cells[c];
        std::size_t changes = 0;
        for (std::size_t row = 1; row < cells.size(); ++row)
            changes += cells[row] != cells[row - 1];
        if (10 * changes <= cells.size() + 100) return;
        meaning.report.guess = std::exchange(meaning.report.quantity, std::nullopt);
        plan_.meaning.notes.push_back("Column \"" + meaning.report.name +
                                      "\" changes too often to name sessions; it is not used.");
    }

    void planElectrical(ColumnMeaning& meaning) {
        if (options_.polePairs) {
            meaning.unit.divisor *= *options_.polePairs;
            return;
        }
        meaning.report.guess = std::exchange(meaning.report.quantity, std::nullopt);
        plan_.meaning.notes.push_back("Column \"" + meaning.report.name +
                                      "\" is in electrical revolutions; the motor's pole pairs are needed to use it.");
    }

    const ImportOptions& options_;
    SectionPlan plan_;
    ColumnSample sample_;
    NumberStyles styles_;
};

} // namespace

SectionPlan planSection(std::string_view text, const Dialect& dialect, bool latin1, const ImportOptions& options) {
    return Planner(text, dialect, latin1, options).plan();
}

ImportOptions mergedOptions(ImportOptions options) {
    if (!options.map) return options;
    const ColumnMap& map = *options.map;
    if (!options.rate_Hz) options.rate_Hz = map.rate_Hz;
    if (!options.polePairs) options.polePairs = map.polePairs;
    if (!options.text.encoding) options.text.encoding = map.text.encoding;
    if (!options.text.separator) options.text.separator = map.text.separator;
    if (!options.text.decimal) options.text.decimal = map.text.decimal;
    if (!options.text.timeForm) options.text.timeForm = map.text.timeForm;
    return options;
}

} // namespace rw
