#include "app/desktop/garage/labels_sheet.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/teeth_list.h"

#include <algorithm>

namespace rw {

namespace {

LabelRowInfo labelRow(std::string_view key, std::string_view planKey = {}) {
    LabelRowInfo row;
    row.label = findLabelField(key);
    static_cast<FieldInfo&>(row.field) = *row.label;
    row.planKey = planKey;
    return row;
}

LabelRowInfo beyondRow(std::string_view key) {
    LabelRowInfo row;
    static_cast<FieldInfo&>(row.field) = *findPlanField(key);
    row.planKey = key;
    return row;
}

} // namespace

LabelsSheet::LabelsSheet(const Units& units, QObject* parent)
    : QObject(parent)
    , units_(units) {
    groups_ = {
        {tr("Car"),
         tr("scale and ruler"),
         {labelRow("vehicle.mass_kg"), labelRow("vehicle.wheelbase_m"), labelRow("vehicle.width_m"),
          labelRow("vehicle.height_m"), labelRow("vehicle.body"), labelRow("vehicle.driven"),
          labelRow("vehicle.internal_ratio"), labelRow("vehicle.front_axle_kg", "vehicle.cg_behind_front_m"),
          beyondRow("vehicle.drag_area_m2")}},
        {tr("Tyres and gears"),
         tr("ruler, box, side of the gear"),
         {labelRow("tyre.diameter_m"), labelRow("tyre.kind"), labelRow("gears.module_m"), labelRow("gears.pinions"),
          labelRow("gears.spurs")}},
        {tr("Motor"),
         tr("its label"),
         {labelRow("motor.kv_rpm_per_V"), labelRow("motor.mass_kg"), beyondRow("motor.resistance_ohm"),
          labelRow("motor.max_speed_rpm")}},
        {tr("Controller and pack"),
         tr("their labels"),
         {labelRow("controller.continuous_A"), labelRow("pack.series"), labelRow("pack.capacity_Ah"),
          labelRow("pack.continuous_c_rate"), beyondRow("pack.cell_resistance_ohm")}},
        {tr("Where it runs"),
         tr("the strip, paced or taped"),
         {labelRow("venue.length_m"), labelRow("venue.run_up_m"), labelRow("venue.timed_m"), labelRow("venue.surface"),
          labelRow("venue.temperature_C", "air.temperature_C"), labelRow("target_mps")}},
    };
}

void LabelsSheet::setLabels(const LabelsInput& labels) {
    labels_ = labels;
    emit changed({});
}

std::optional<double> LabelsSheet::value(const LabelRowInfo& row) const {
    if (row.label != nullptr) return row.label->get ? row.label->get(labels_) : std::nullopt;
    const auto given = labels_.beyond.find(row.planKey);
    return given == labels_.beyond.end() ? std::nullopt : std::optional(given->second);
}

QString LabelsSheet::text(const LabelRowInfo& row) const {
    if (row.label != nullptr && row.label->list != nullptr) {
        QStringList words;
        for (const int teeth : row.label->listOf(labels_))
            words << QString::number(teeth);
        return words.join(u' ');
    }
    return valueText(row.field, units_, value(row));
}

void LabelsSheet::setText(const LabelRowInfo& row, const QString& text) {
    const QString typed = text.trimmed();
    if (typed == this->text(row)) return;
    const LabelsInput before = labels_;
    if (row.label != nullptr && row.label->list != nullptr) {
        row.label->list(labels_) =
            typed.isEmpty() ? std::vector<int>() : typedTeeth(*findPlanField(row.field.key()), typed);
    } else if (typed.isEmpty()) {
        row.label != nullptr ? row.label->set(labels_, std::nullopt) : void(labels_.beyond.erase(row.planKey));
    } else {
        const UnitView unit = fieldUnit(row.field, units_);
        const double inside = unit.inside(typedNumber(typed));
        checkTyped(row.field, unit, inside);
        row.label != nullptr ? row.label->set(labels_, inside) : void(labels_.beyond[row.planKey] = inside);
    }
    if (!(labels_ == before)) emit changed(fieldLabel(row.field));
}

void LabelsSheet::choose(const LabelRowInfo& row, int index) {
    if (value(row) == static_cast<double>(index)) return;
    row.label->set(labels_, static_cast<double>(index));
    const std::string_view word = row.field.choices[static_cast<std::size_t>(index)];
    emit changed(fieldLabel(row.field) + QStringLiteral(": ") +
                 QString::fromUtf8(word.data(), static_cast<qsizetype>(word.size())));
}

bool LabelsSheet::needed(const LabelRowInfo& row) const {
    const auto missing = missingLabels(labels_);
    return row.label != nullptr && std::find(missing.begin(), missing.end(), row.label) != missing.end();
}

QStringList LabelsSheet::missing() const {
    QStringList out;
    for (const LabelField* field : missingLabels(labels_)) {
        PlanField info;
        static_cast<FieldInfo&>(info) = *field;
        out << fieldLabel(info);
    }
    return out;
}

int LabelsSheet::typed() const {
    int count = 0;
    for (const LabelRowGroup& group : groups_)
        for (const LabelRowInfo& row : group.rows)
            count += text(row).isEmpty() ? 0 : 1;
    return count;
}

} // namespace rw
