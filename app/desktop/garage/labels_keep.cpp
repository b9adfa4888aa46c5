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

} // namespace

PlanIds keepLabels(Garage& garage, const LabelsPlan& estimated, const std::string& name) {
    PlanParts parts;
    parts.setup = parts.vehicle = name;
    parts.motor = named(QObject::tr("motor"), name), parts.controller = named(QObject::tr("controller"), name);
    parts.pack = named(QObject::tr("pack"), name), parts.tyre = named(QObject::tr("tyres"), name);
    parts.venue = named(QObject::tr("strip"), name);
    parts.source = Source::Label;
    for (const LabelsValue& value : estimated.values) {
        const bool rule = value.origin == ValueOrigin::Estimated;
        parts.sources[value.key] = {sourceOf(value.origin), rule ? value.from : std::string()};
    }
    return garage.addSetupFromPlan(estimated.plan, parts);
}

} // namespace rw
