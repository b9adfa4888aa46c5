// How a field of the plan input is shown and typed: short label, display unit, figures; and the groups of the panel.
// Names, ranges and texts are the core's (core/plan/plan_fields.h); only what a narrow column needs is added here.
#pragma once

#include "app/desktop/shared/units.h"
#include "core/plan/plan_fields.h"

#include <QString>

#include <optional>
#include <vector>

namespace rw {

struct FieldGroup {
    QString name, title;                  // "gearing", "Gearing"
    std::vector<const PlanField*> fields; // those that are looked at before every pass
    std::vector<const PlanField*> more;   // the rest, folded away
};
[[nodiscard]] const std::vector<FieldGroup>& fieldGroups();

[[nodiscard]] QString fieldLabel(const PlanField& field); // short enough for the panel
[[nodiscard]] UnitView fieldUnit(const FieldInfo& field, const Units& units);

// The value as it is typed, without unit; "" where it is not set.
[[nodiscard]] QString fieldText(const PlanField& field, const Units& units, const PlanInput& input);
// Rounded to what it means (figure_text.h); uncertainty: its standard uncertainty in the key's unit, 0 where not known.
[[nodiscard]] QString valueText(const PlanField& field, const Units& units, std::optional<double> value,
                                double uncertainty = 0.0);
// With its unit, for differences and lists: "26", "3.40 V", "off", "none".
[[nodiscard]] QString valueWithUnit(const PlanField& field, const Units& units, const PlanInput& input);
// What stands in a field that is not set: the value that takes its place, else "none".
[[nodiscard]] QString placeholderText(const PlanField& field, const Units& units, const PlanInput& input);

// A figure as people type it: decimal comma or point, either minus, spaces between groups. Throws InputError.
[[nodiscard]] double typedNumber(QString text);
// Throws InputError without a place where the field does not allow the value; says what is allowed in the unit shown.
void checkTyped(const PlanField& field, const UnitView& unit, double value);
// Sets what was typed. Throws InputError without a place: one sentence in the units shown.
void setFieldText(const PlanField& field, const Units& units, const QString& text, PlanInput& input);
// One step of the arrow keys: one of the last digit shown, a whole tooth or cell.
[[nodiscard]] QString steppedText(const PlanField& field, const Units& units, const PlanInput& input, int steps);

// Standard uncertainty in the unit shown, "" where none; and from what was typed ("" takes it away).
[[nodiscard]] QString uncertaintyText(const PlanField& field, const Units& units, const PlanInput& input);
void setUncertaintyText(const PlanField& field, const Units& units, const QString& text, PlanInput& input);

// What the core says of an input names keys of the plan file; here they become the labels that a person reads.
[[nodiscard]] QString withLabels(const QString& sentence);

// "250 to 600 mm. Streamliners are the longest.": the table's range in the unit shown, and what words add.
[[nodiscard]] QString usualText(const PlanField& field, const Units& units);
// Hover help: meaning, usual range, how to measure. Plain text.
[[nodiscard]] QString fieldHelp(const PlanField& field, const Units& units);

[[nodiscard]] bool fieldEqual(const PlanField& field, const PlanInput& a, const PlanInput& b);
void copyField(const PlanField& field, const PlanInput& from, PlanInput& to);
// Fields whose value differs, in the order of the groups; uncertainty does not count.
[[nodiscard]] std::vector<const PlanField*> differences(const PlanInput& a, const PlanInput& b);

} // namespace rw
