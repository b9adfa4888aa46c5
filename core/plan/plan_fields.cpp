#include "core/plan/plan_fields.h"

#include "core/error.h"
#include "core/plan/plan_field_builder.h"
#include "core/plan/uncertain.h"
#include "core/shortest_text.h"

#include <algorithm>
#include <unordered_map>

namespace rw {

namespace {

struct FieldTable {
    std::vector<PlanField> fields;
    std::unordered_map<std::string, const PlanField*> byKey;

    FieldTable() {
        fields = joined({weatherFields(), venueFields(), bodyFields(), drivelineFields(), tyreFields(), gearFields(),
                         motorElectricalFields(), motorHeatFields(), controllerLimitFields(), controllerLossFields(),
                         controllerHeatFields(), packElectricalFields(), packLimitFields(), driveFields()});
        for (const PlanField& field : fields)
            byKey.emplace(field.key(), &field);
    }
};

const FieldTable& table() {
    static const FieldTable built;
    return built;
}

void checkList(const PlanField& field, const std::vector<int>& list, const std::string& place) {
    if (list.empty()) throw InputError(place, "is empty; list at least one gear or leave the key out");
    for (const int count : list)
        checkFieldValue(field, count, place);
}

void checkTogether(const PlanInput& input, const std::string& file) {
    const auto& venue = input.venue;
    const double needed = venue.run_up_m + venue.timed_m;
    if (needed > venue.length_m)
        throw InputError(file + ": venue.length_m", shortestText(venue.length_m) +
                                                        " m is shorter than run_up_m and timed_m together (" +
                                                        shortestText(needed) + " m)");
    if (input.vehicle.cg_behind_front_m > input.vehicle.wheelbase_m)
        throw InputError(file + ": vehicle.cg_behind_front_m", shortestText(input.vehicle.cg_behind_front_m) +
                                                                   " m is over wheelbase_m (" +
                                                                   shortestText(input.vehicle.wheelbase_m) + " m)");
    if (input.controller.cutoff.mode != CutoffMode::Off && !input.controller.cutoff.cell_V)
        throw InputError(file + ": controller.cutoff.cell_V", "missing; needed unless the mode is \"off\"");
    if (input.pack.rc_resistance_ohm > 0.0 && !input.pack.rc_capacitance_F)
        throw InputError(file + ": pack.rc_capacitance_F", "missing; needed when rc_resistance_ohm is not 0");
}

void checkUncertainty(const PlanInput& input, const std::string& file) {
    for (const auto& [key, value] : input.uncertainty) {
        const std::string place = file + ": uncertainty." + key;
        const PlanField* field = findPlanField(key);
        if (field == nullptr) throw InputError(place, "unknown key; expected \"group.key\" of this document");
        if (field->kind != FieldKind::Number && field->kind != FieldKind::Whole)
            throw InputError(place, "is no number and so has no uncertainty");
        if (!std::isfinite(value) || value < 0.0)
            throw InputError(place, shortestText(value) + " is out of range; a standard uncertainty is at least 0");
    }
}

bool isDigest(const std::string& text) {
    constexpr std::size_t length = 64; // SHA-256 in hexadecimal
    return text.size() == length && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

void checkLearned(const PlanInput& input, const std::string& file) {
    if (!input.learned) return;
    const std::string place = file + ": learned.gains.";
    const auto check = [&](const char* name, const Estimate& e, bool positive) {
        if (!std::isfinite(e.value) || (positive && !(e.value > 0.0)))
            throw InputError(place + name + ".value", shortestText(e.value) + " is out of range; allowed is " +
                                                          (positive ? "over 0" : "any number"));
        if (!std::isfinite(e.uncertainty) || e.uncertainty < 0.0)
            throw InputError(place + name + ".uncertainty",
                             shortestText(e.uncertainty) + " is out of range; a standard uncertainty is at least 0");
    };
    check("current", input.learned->currentGain, true);
    check("voltage", input.learned->voltageGain, true);
    check("current_zero_A", input.learned->currentZero_A, false);
    for (const std::string& log : input.learned->logs)
        if (!isDigest(log))
            throw InputError(file + ": learned.logs", "holds a name that is no SHA-256: expected 64 digits 0-9, a-f");
}

} // namespace

double MethodUncertainty::at(double value) const { return relative * std::abs(value) + absolute; }

std::string FieldInfo::key() const {
    return group.empty() ? std::string(name) : std::string(group) + "." + std::string(name);
}

std::span<const PlanField> planFields() { return table().fields; }

const PlanField* findPlanField(std::string_view key) {
    const auto found = table().byKey.find(std::string(key));
    return found == table().byKey.end() ? nullptr : found->second;
}

std::optional<double> effectiveValue(const PlanField& field, const PlanInput& input) {
    if (field.get == nullptr) return std::nullopt;
    if (const auto value = field.get(input)) return value;
    return field.standIn ? field.standIn(input) : std::nullopt;
}

std::string rangeText(const FieldInfo& field) {
    const bool lower = std::isfinite(field.low);
    const bool upper = std::isfinite(field.high);
    const std::string low = (field.lowOpen ? "over " : "") + shortestText(field.low);
    if (lower && upper) return low + " to " + shortestText(field.high);
    if (lower) return field.lowOpen ? low : "at least " + low;
    return upper ? "at most " + shortestText(field.high) : "any number";
}

bool fieldAllows(const FieldInfo& field, double value) {
    if (!std::isfinite(value) || value < field.low || value > field.high || (field.lowOpen && value == field.low))
        return false;
    const bool whole = field.kind == FieldKind::Whole || field.kind == FieldKind::WholeList;
    return !whole || std::fmod(value, field.step) == 0.0;
}

std::optional<double> guessWidth(const FieldInfo& field, double value) {
    constexpr double timesAMeasurement = 4.0, shareOfTheRange = 0.25;
    const double width = std::min(timesAMeasurement * field.measurableTo.at(value),
                                  shareOfTheRange * (field.usualHigh - field.usualLow));
    return width > 0.0 ? std::optional(width) : std::nullopt;
}

void checkFieldValue(const FieldInfo& field, double value, const std::string& place) {
    if (fieldAllows(field, value)) return;
    const std::string unit = field.unit.empty() ? "" : " " + std::string(field.unit);
    if (!std::isfinite(value)) throw InputError(place, "is not a finite number; allowed is " + rangeText(field) + unit);
    if (value < field.low || value > field.high || (field.lowOpen && value == field.low))
        throw InputError(place, shortestText(value) + unit + " is out of range; allowed is " + rangeText(field) + unit);
    if (value != std::floor(value)) throw InputError(place, shortestText(value) + " is not a whole number");
    throw InputError(place, shortestText(value) + " is odd; " + std::string(field.label) + " come in pairs");
}

void checkOcv(const std::vector<OcvPoint>& ocv, const std::string& place) {
    if (ocv.size() < 2) throw InputError(place, "needs at least two rows of [charge, volts per cell]");
    for (std::size_t i = 0; i < ocv.size(); ++i) {
        const std::string row = place + "[" + std::to_string(i) + "]";
        const auto [charge, volts] = ocv[i];
        if (!std::isfinite(charge) || charge < 0.0 || charge > 1.0)
            throw InputError(row, "charge " + shortestText(charge) + " is out of range; allowed is 0 to 1");
        if (!std::isfinite(volts) || volts < 0.0)
            throw InputError(row, shortestText(volts) + " V is out of range; allowed is at least 0");
        if (i == 0) continue;
        if (charge <= ocv[i - 1].charge)
            throw InputError(row, "charge " + shortestText(charge) + " does not rise; it must be over " +
                                      shortestText(ocv[i - 1].charge));
        if (volts < ocv[i - 1].volts_perCell)
            throw InputError(row, shortestText(volts) + " V falls; with rising charge it must be at least " +
                                      shortestText(ocv[i - 1].volts_perCell) + " V");
    }
}

void checkPlanInput(const PlanInput& input, const std::string& fileName) {
    for (const PlanField& field : planFields()) {
        if (field.get == nullptr || field.kind == FieldKind::Choice) continue;
        const auto value = field.get(input);
        if (value && !fieldAllows(field, *value)) checkFieldValue(field, *value, fileName + ": " + field.key());
    }
    for (const PlanField& field : planFields())
        if (field.list) checkList(field, field.listOf(input), fileName + ": " + field.key());
    checkOcv(input.pack.ocv, fileName + ": pack.ocv");
    checkTogether(input, fileName);
    checkUncertainty(input, fileName);
    checkCorrelation(input, fileName);
    checkLearned(input, fileName);
}

} // namespace rw
