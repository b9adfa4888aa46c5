#include "app/desktop/garage/labels_keep.h"

#include <QObject>

namespace rw {

namespace {

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
