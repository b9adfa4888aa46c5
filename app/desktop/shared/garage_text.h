// Words of the garage's screens: kinds, dates, values with unit and uncertainty. Plain text for people.
#pragma once

#include "app/desktop/shared/figure_table.h"
#include "app/desktop/shared/units.h"
#include "core/plan/plan_fields.h"
#include "storage/values.h"

#include <QString>

#include <optional>
#include <vector>

class QComboBox;

namespace rw {

[[nodiscard]] QString counted(std::size_t count, const QString& one, const QString& many); // "1 pass", "14 passes"
[[nodiscard]] QString kindTitle(ItemKind kind);                                            // "Vehicles"
[[nodiscard]] QString kindSingular(ItemKind kind);                                         // "vehicle"
// "21 November 2026" from the garage's date text; the text itself where it is none.
[[nodiscard]] QString dateText(const std::string& when);
[[nodiscard]] std::optional<double> secondsOf(const std::string& when); // since 1970-01-01 UTC
// The garage marks finds with two control characters; here they become quotation marks.
[[nodiscard]] QString excerptText(const std::string& excerpt);

[[nodiscard]] QString keyLabel(const std::string& key); // "drag area" for "vehicle.drag_area_m2"
[[nodiscard]] QString keyHelp(const std::string& key, const Units& units);
// Whether a part of this kind may carry the field's value.
[[nodiscard]] bool keyFits(const PlanField& field, ItemKind kind);
[[nodiscard]] QString valueText(const std::string& key, const Value& value, const Units& units); // with unit
[[nodiscard]] QString valueText(const std::string& key, const std::optional<Value>& value, const Units& units);
// Rows of "what, is, uncertainty, source" in the order of the field table.
[[nodiscard]] ValueRows valueRows(const Values& values, const Units& units);
// The keys in the order of those rows.
[[nodiscard]] std::vector<std::string> keysInOrder(const Values& values);

// A thing of the garage among choices, and the one that is chosen; none where nothing is, or none of the garage.
void addItem(QComboBox& box, const std::string& name, Id id);
[[nodiscard]] std::optional<Id> chosenId(const QComboBox& box);

// As high as its rows: the page scrolls, not the table.
void fitToRows(FigureTable& table, std::optional<int> wide = {});

} // namespace rw
