#include "app/desktop/shared/bench_source.h"

#include "app/desktop/shared/ocv_dialog.h"
#include "core/error.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"

#include <QCoreApplication>
#include <QFile>
#include <QFileInfo>

namespace rw {

namespace {

constexpr qint64 largestPlan = qint64{4} * 1024 * 1024; // bytes; a plan has a few thousand

QString id(Id id) { return QString::fromStdString(toString(id)); }

QString partName(Garage& garage, Id part) {
    return part.stored() ? QString::fromStdString(garage.part(part).name) : QString();
}

void nameParts(Garage& garage, const Setup& setup, BenchContent& content) {
    content.setupId = id(setup.id);
    content.revision = setup.revision;
    content.vehicleId = id(setup.vehicle);
    content.motorId = id(setup.motor);
    content.packId = id(setup.pack);
    content.vehicle = partName(garage, setup.vehicle);
    content.motor = partName(garage, setup.motor);
    content.controller = partName(garage, setup.controller);
    content.pack = partName(garage, setup.pack);
    content.tyre = partName(garage, setup.tyre);
    content.name = content.vehicle.isEmpty() ? QString::fromStdString(setup.name) : content.vehicle;
    addSources(setup.values, content);
    describePack(setup.values, content);
}

} // namespace

void describePack(const Values& values, BenchContent& content) {
    const auto number = [&values](const char* key, double otherwise) {
        const auto found = values.find(key);
        return found == values.end() || !found->second.number ? otherwise : *found->second.number;
    };
    content.packSeries = static_cast<int>(number("pack.series", 0.0));
    content.packParallel = static_cast<int>(number("pack.parallel", 1.0));
    content.packCapacity_Ah = number("pack.capacity_Ah", 0.0);
}

void addSources(const Values& values, BenchContent& content) {
    for (const auto& [key, value] : values) {
        QString words = QString::fromUtf8(sourceName(value.source));
        if (!value.note.empty()) words += QStringLiteral(", ") + QString::fromUtf8(value.note);
        content.sources[QString::fromUtf8(key)] = words;
    }
}

void fitPack(const Values& pack, PlanInput& input) {
    for (const PlanField& field : planFields()) {
        if (field.group != "pack" || field.name == "charge") continue;
        const std::string key = field.key();
        const auto value = pack.find(key);
        input.uncertainty.erase(key);
        if (field.kind == FieldKind::OcvTable)
            input.pack.ocv =
                value == pack.end() || value->second.text.empty() ? defaultOcv() : ocvFromText(value->second.text);
        else if (value != pack.end() && value->second.number)
            field.set(input, value->second.number);
        else if (!field.required)
            field.set(input, std::nullopt);
        if (value != pack.end() && value->second.uncertainty) input.uncertainty[key] = *value->second.uncertainty;
    }
    std::erase_if(input.correlation, [](const KeyCorrelation& pair) { // what is known of the pack before
        return pair.first.starts_with("pack.") || pair.second.starts_with("pack.");
    });
}

BenchContent benchFromSetup(Garage& garage, Id setup, Id venue) {
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(garage.planInput(setup, venue));
    nameParts(garage, garage.setup(setup), content);
    const Part place = garage.part(venue);
    content.venue = QString::fromStdString(place.name);
    content.venueId = id(venue);
    addSources(place.values, content);
    return content;
}

BenchContent benchFromPlan(Garage& garage, Id plan) {
    const StoredPlan stored = garage.plan(plan);
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(readPlanInput(stored.input, toString(plan)));
    if (stored.setup) nameParts(garage, garage.setup(*stored.setup), content);
    if (stored.venue) {
        content.venue = partName(garage, *stored.venue);
        content.venueId = id(*stored.venue);
    }
    content.name = QString::fromStdString(stored.name);
    return content;
}

BenchContent benchFromFile(const QString& path) {
    QFile file(path);
    const QString name = QFileInfo(path).fileName();
    if (!file.open(QIODevice::ReadOnly))
        throw InputError(name.toStdString(),
                         QCoreApplication::translate("bench", "cannot be read; is it still there?").toStdString());
    if (file.size() > largestPlan)
        throw InputError(
            name.toStdString(),
            QCoreApplication::translate("bench", "is far larger than any plan; choose a plan file").toStdString());
    BenchContent content;
    content.input = std::make_shared<const PlanInput>(readPlanInput(file.readAll().toStdString(), name.toStdString()));
    content.name = QFileInfo(path).completeBaseName();
    if (!path.startsWith(u':')) content.file = path;
    return content;
}

} // namespace rw
