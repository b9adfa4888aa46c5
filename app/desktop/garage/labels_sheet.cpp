#include "app/desktop/garage/labels_sheet.h"

#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_text.h"

#include <QObject>

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

constexpr double nominalCell_V = 3.7;

std::string named(const QString& what, const std::string& name) {
    return QObject::tr("%1 of %2").arg(what, QString::fromStdString(name)).toStdString();
}

Source sourceOf(ValueOrigin origin) {
    switch (origin) {
    case ValueOrigin::Label:
        return Source::Label;
    case ValueOrigin::Measured:
        return Source::Measured;
    case ValueOrigin::Estimated:
        break;
    }
    return Source::Estimated;
}

PlanParts originsOf(const LabelsPlan& estimated, const LabelsInput& labels) {
    PlanParts out;
    out.source = Source::Label;
    out.labels = writeLabels(labels);
    for (const LabelsValue& value : estimated.values) {
        const bool rule = value.origin == ValueOrigin::Estimated;
        out.sources[value.key] = {sourceOf(value.origin), rule ? value.from : std::string()};
    }
    return out;
}

} // namespace

QStringList choiceWords(const FieldInfo& field) {
    if (field.kind == FieldKind::Flag) return {LabelsSheet::tr("no"), LabelsSheet::tr("yes")};
    QStringList out;
    for (const std::string_view word : field.choices)
        out << QString::fromUtf8(word);
    return out;
}

LabelsSheet::LabelsSheet(const Units& units, QObject* parent)
    : QObject(parent)
    , units_(units) {
    groups_ = {
        {tr("Car"),
         tr("scale and ruler"),
         {labelRow("vehicle.mass_kg"), labelRow("vehicle.wheelbase_m"), labelRow("vehicle.width_m"),
          labelRow("vehicle.height_m"), labelRow("vehicle.body"), labelRow("vehicle.driven"),
          labelRow("vehicle.internal_ratio"), labelRow("vehicle.front_axle_kg", "vehicle.cg_behind_front_m"),
          beyondRow("vehicle.drag_area_m2")},
         {labelRow("vehicle.mesh_min_m"), labelRow("vehicle.mesh_max_m"), beyondRow("vehicle.rolling_c0"),
          beyondRow("vehicle.cg_height_m")}},
        {tr("Tyres and gears"),
         tr("ruler, box, side of the gear"),
         {labelRow("tyre.diameter_m"), labelRow("tyre.kind"), labelRow("gears.module_m"), labelRow("gears.pinions"),
          labelRow("gears.spurs")},
         {labelRow("tyre.max_speed_radps"), labelRow("gears.pinion_teeth"), labelRow("gears.spur_teeth"),
          beyondRow("tyre.growth")}},
        {tr("Motor"),
         tr("its label"),
         {labelRow("motor.kv_rpm_per_V"), labelRow("motor.mass_kg"), beyondRow("motor.resistance_ohm"),
          beyondRow("motor.no_load_current_A")},
         {beyondRow("motor.no_load_voltage_V"), labelRow("motor.max_speed_rpm"), labelRow("motor.poles"),
          labelRow("motor.timing_deg"), labelRow("motor.can_diameter_m"), labelRow("motor.can_length_m"),
          labelRow("motor.comfort_C"), labelRow("motor.limit_C"), labelRow("motor.winding_limit_C")}},
        {tr("Controller and pack"),
         tr("their labels"),
         {labelRow("controller.continuous_A"), labelRow("pack.series"), labelRow("pack.capacity_Ah"),
          labelRow("pack.continuous_c_rate"), beyondRow("pack.cell_resistance_ohm")},
         {labelRow("controller.burst_A"), labelRow("controller.mass_kg"), labelRow("controller.fan"),
          labelRow("controller.max_electrical_rpm"), labelRow("controller.cutoff.mode"),
          labelRow("controller.cutoff.cell_V"), labelRow("controller.cutoff.delay_s"), labelRow("pack.parallel"),
          labelRow("pack.burst_c_rate"), labelRow("pack.mass_kg", "pack.mass_kg")}},
        {tr("Where it runs"),
         tr("the strip, paced or taped"),
         {labelRow("venue.length_m"), labelRow("venue.run_up_m"), labelRow("venue.timed_m"), labelRow("venue.surface"),
          labelRow("venue.temperature_C", "air.temperature_C"), labelRow("target_mps")},
         {labelRow("venue.elevation_m"), beyondRow("venue.friction")}},
    };
}

void LabelsSheet::setLabels(const LabelsInput& labels) {
    labels_ = labels;
    emit replaced();
    emit changed({});
}

LabelsInput LabelsSheet::complete() const {
    LabelsInput out = labels_;
    const bool current = out.beyond.contains("motor.no_load_current_A");
    if (current && out.pack.series) out.beyond.try_emplace("motor.no_load_voltage_V", nominalCell_V * *out.pack.series);
    return out;
}

bool LabelsSheet::measurable(const LabelRowInfo& row) { return measurableLabels().contains(row.field.key()); }

void LabelsSheet::setMeasured(const LabelRowInfo& row, bool measured) {
    if (!measurable(row) || measured == this->measured(row)) return;
    if (measured)
        labels_.measured.insert(row.field.key());
    else
        labels_.measured.erase(row.field.key());
    emit changed(fieldLabel(row.field) + (measured ? tr(", measured") : tr(", its label")));
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
    if (typed.isEmpty()) labels_.measured.erase(row.field.key());
    const LabelsInput before = labels_;
    if (typed.isEmpty()) {
        take(row, std::nullopt);
    } else if (row.label != nullptr && row.label->list != nullptr) {
        row.label->list(labels_) = typedTeeth(*findPlanField(row.field.key()), typed);
    } else {
        const UnitView unit = fieldUnit(row.field, units_);
        const double inside = unit.inside(typedNumber(typed));
        checkTyped(row.field, unit, inside);
        take(row, inside);
    }
    if (!(labels_ == before)) emit changed(fieldLabel(row.field));
}

void LabelsSheet::forget(const LabelRowInfo& row) {
    const LabelsInput before = labels_;
    take(row, std::nullopt);
    if (!(labels_ == before)) emit changed(fieldLabel(row.field));
}

void LabelsSheet::take(const LabelRowInfo& row, std::optional<double> inside) {
    if (row.label != nullptr && row.label->list != nullptr)
        row.label->list(labels_).clear();
    else if (row.label != nullptr)
        row.label->set(labels_, inside);
    else if (inside)
        labels_.beyond[row.planKey] = *inside;
    else
        labels_.beyond.erase(row.planKey);
}

void LabelsSheet::choose(const LabelRowInfo& row, int index) {
    if (value(row) == static_cast<double>(index)) return;
    row.label->set(labels_, static_cast<double>(index));
    emit changed(fieldLabel(row.field) + QStringLiteral(": ") + choiceWords(row.field)[index]);
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
        for (const auto* rows : {&group.rows, &group.more})
            for (const LabelRowInfo& row : *rows) {
                const bool usual =
                    row.label != nullptr && row.label->get && value(row) == row.label->get(LabelsInput{});
                count += text(row).isEmpty() || usual ? 0 : 1;
            }
    return count;
}

PlanIds keepLabels(Garage& garage, const LabelsInput& labels, const std::string& name) {
    const LabelsPlan estimated = estimatePlan(labels);
    PlanParts parts = originsOf(estimated, labels);
    parts.setup = parts.vehicle = name;
    parts.motor = named(QObject::tr("motor"), name), parts.controller = named(QObject::tr("controller"), name);
    parts.pack = named(QObject::tr("pack"), name), parts.tyre = named(QObject::tr("tyres"), name);
    parts.venue = named(QObject::tr("strip"), name);
    return garage.addSetupFromPlan(estimated.plan, parts);
}

std::optional<LabelledCar> labelledCar(Garage& garage, Id vehicle) {
    const Part part = garage.part(vehicle);
    const std::vector<Setup> setups = garage.setups(vehicle);
    if (part.document.empty() || setups.empty()) return std::nullopt;
    LabelledCar out{part.name, readLabels(part.document, part.name), setups.front().id, {}};
    for (const Part& venue : garage.parts(ItemKind::Venue))
        if (venue.document == part.document) out.venue = venue.id;
    return out;
}

Id keepChangedLabels(Garage& garage, const LabelledCar& car, const LabelsInput& labels) {
    const LabelsPlan estimated = estimatePlan(labels);
    return garage.relabel({car.setup, car.venue, estimated.plan, originsOf(estimated, labels),
                           QObject::tr("other labels").toStdString()});
}

} // namespace rw
