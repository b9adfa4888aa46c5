// The one table of plan input fields: name, unit, default, range, meaning, usual value and how to measure it.
// JSON reading and writing, complaints, help texts, screens, sensitivity and spread all read it.
#pragma once

#include "core/dimension.h"
#include "core/plan/plan_input.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

enum class FieldKind { Number, Whole, Choice, Flag, WholeList, OcvTable }; // Flag: only in labels (labels_input.h)

// Standard uncertainty of one method: a share of the value, or so much in the key's unit; the other is 0.
struct MethodUncertainty {
    double relative = 0.0, absolute = 0.0;
    [[nodiscard]] double at(double value) const;
};

// What a field of any input document is, without the way to its value.
struct FieldInfo {
    std::string_view group; // "motor"; "controller.cutoff" for the nested object
    std::string_view name;  // "kv_rpm_per_V"
    std::string_view label; // "speed constant": what a person reads
    Dimension dimension = Dimension::Number;
    std::string_view unit; // of the key, as the dimension is written: "rpm/V", "" for a pure number
    FieldKind kind = FieldKind::Number;
    bool required = false; // missing without a default is an error
    bool nullable = false; // JSON null allowed and means "none" or "derived" (see defaultText)
    std::optional<double> defaultValue;
    std::string_view defaultText; // where the default is not a number: "air temperature", "none"
    double low = 0.0, high = 0.0; // valid range; infinite where open-ended
    bool lowOpen = false;         // true: low itself is not allowed ("over 0")
    double step = 1.0;            // Whole: distance of allowed values; 2: even ones
    std::span<const std::string_view> choices;
    std::string_view meaning, measure;      // one sentence each, free of units that are switched
    std::string_view usual;                 // what the range below cannot say; may be empty beside it
    double usualLow = 0.0, usualHigh = 0.0; // where most values lie, in the key's unit; for Number and Whole
    // What the pass uses where nothing is set (of a list: its only member); null: nothing.
    std::optional<double> (*standIn)(const PlanInput&) = nullptr;
    MethodUncertainty measurableTo; // of the method that `measure` names, done with care; 0: exact, as counted

    [[nodiscard]] std::string key() const; // "motor.kv_rpm_per_V"; the bare name outside every group
};

// With the way to its value in the document.
template<class Input>
struct InputField : FieldInfo {
    // Number and Whole: value as a double in the key's unit; nullopt where not set. Choice: index into choices. Flag: 0
    // or 1. set() does not validate; it rounds for Whole, and nullopt puts the default back. Null for lists and tables.
    std::optional<double> (*get)(const Input&) = nullptr;
    void (*set)(Input&, std::optional<double>) = nullptr;
    std::vector<int>& (*list)(Input&) = nullptr; // WholeList alone
    [[nodiscard]] const std::vector<int>& listOf(const Input& input) const {
        return list(const_cast<Input&>(input)); // NOLINT(cppcoreguidelines-pro-type-const-cast): only read
    }
};
using PlanField = InputField<PlanInput>;

[[nodiscard]] std::span<const PlanField> planFields();
[[nodiscard]] const PlanField* findPlanField(std::string_view key); // "motor.kv_rpm_per_V"; null if unknown
// The value that the pass will use: what is set, else what stands in for it ("air temperature"); none where there is
// none.
[[nodiscard]] std::optional<double> effectiveValue(const PlanField& field, const PlanInput& input);
[[nodiscard]] std::string rangeText(const FieldInfo& field); // "over 0 to 1", "at least 0", "any number"
[[nodiscard]] bool fieldAllows(const FieldInfo& field, double value);
// Standard uncertainty of a guess of this size, in the key's unit: four times what a careful measurement reaches, at
// most a quarter of the usual range. Common practice, from memory. None where a value is counted or chosen.
[[nodiscard]] std::optional<double> guessWidth(const FieldInfo& field, double value);
// Throws InputError(place, …) if value is not allowed for the field.
void checkFieldValue(const FieldInfo& field, double value, const std::string& place);
// Throws InputError(place[row], …) where charge does not rise within 0…1 or voltage falls.
void checkOcv(const std::vector<OcvPoint>& ocv, const std::string& place);
// Everything beyond single fields: strip shorter than run-up and zone, CG beyond the wheelbase, cutoff without a
// voltage… Throws InputError naming the key path, prefixed with fileName.
void checkPlanInput(const PlanInput& input, const std::string& fileName);

} // namespace rw
