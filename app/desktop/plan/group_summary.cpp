// One line on each folded group of the setup.
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/setup_panel.h"

#include <QCoreApplication>

namespace rw {

namespace {

QString tr(const char* text) { return QCoreApplication::translate("summary", text); }

QString courseSummary(const PlanInput& in, const Units& units, const PlanOutcome* outcome) {
    if (!outcome) return units.text(Dimension::Distance, in.venue.length_m);
    return tr("air %1").arg(units.text(Dimension::Density, outcome->result.airDensity));
}

QString controllerSummary(const PlanInput& in) {
    if (in.controller.cutoff.mode == CutoffMode::Off || !in.controller.cutoff.cell_V) return tr("cutoff off");
    const QString mode = in.controller.cutoff.mode == CutoffMode::Soft ? tr("soft cutoff") : tr("hard cutoff");
    return tr("%1 %2 V a cell").arg(mode).arg(*in.controller.cutoff.cell_V, 0, 'f', 2);
}

QString drivenSummary(DrivenAxle axle) {
    switch (axle) {
    case DrivenAxle::Front:
        return tr("front drive");
    case DrivenAxle::Rear:
        return tr("rear drive");
    case DrivenAxle::All:
        break;
    }
    return tr("all-wheel drive");
}

QString packSummary(const PlanInput& in) {
    const QString cells =
        in.pack.parallel > 1 ? tr("%1S%2P").arg(in.pack.series).arg(in.pack.parallel) : tr("%1S").arg(in.pack.series);
    return tr("%1, %2 Ah").arg(cells).arg(in.pack.capacity_Ah, 0, 'f', 1);
}

} // namespace

QString groupSummary(const QString& group, const PlanSession& session) {
    const PlanInput& in = session.input();
    const Units& units = session.units();
    const PlanOutcome* outcome = session.outcome().get();
    if (group == QLatin1String("course")) return courseSummary(in, units, outcome);
    if (group == QLatin1String("vehicle"))
        return tr("%1, %2").arg(units.text(Dimension::Mass, in.vehicle.mass_kg, 2), drivenSummary(in.vehicle.driven));
    if (group == QLatin1String("tyre"))
        return tr("%1, grows %2 %")
            .arg(units.text(Dimension::Length, in.tyre.radius_m))
            .arg(100.0 * in.tyre.growth, 0, 'g', 2);
    if (group == QLatin1String("gearing"))
        return outcome ? tr("rollout %1").arg(units.text(Dimension::Length, outcome->result.rollout)) : QString();
    if (group == QLatin1String("motor")) return tr("%1 rpm/V").arg(in.motor.kv_rpm_per_V, 0, 'f', 0);
    if (group == QLatin1String("controller")) return controllerSummary(in);
    if (group == QLatin1String("pack")) return packSummary(in);
    return in.drive.passes == 1 ? tr("1 pass") : tr("%1 passes").arg(in.drive.passes);
}

} // namespace rw
