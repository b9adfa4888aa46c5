#include "app/desktop/plan/pack_choice.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shared/garage_session.h"

#include <utility>

namespace rw {

PackChoice::PackChoice(PlanSession& session, QWidget* parent)
    : QComboBox(parent)
    , session_(session) {
    setObjectName(QStringLiteral("packChoice"));
    setAccessibleName(tr("Pack in the car"));
    setToolTip(tr("Another pack of the garage in the car: one step, and Ctrl+Z takes it back"));
    setFocusPolicy(Qt::StrongFocus);
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    setMinimumContentsLength(8);
    connect(this, &QComboBox::activated, this, [this](int index) { take(itemData(index).toString()); });
    connect(&session_, &PlanSession::replaced, this, &PackChoice::fill);
    connect(&session_.desk().garage, &GarageSession::opened, this, &PackChoice::fill);
    connect(&session_.desk().garage, &GarageSession::changed, this, &PackChoice::fill);
    fill();
}

void PackChoice::fill() {
    clear();
    if (session_.desk().garage.isOpen())
        session_.desk().garage.look([this](Garage& garage) {
            for (const Part& pack : garage.parts(ItemKind::Pack))
                addItem(QString::fromStdString(pack.name), QString::fromStdString(toString(pack.id)));
        });
    const BenchContent& content = session_.desk().bench.content();
    setCurrentIndex(content.packId.isEmpty() ? -1 : findData(content.packId));
    setPlaceholderText(session_.empty() ? QString()
                                        : tr("%1 cells, not of the garage").arg(session_.input().pack.series));
    setEnabled(count() > 0);
}

void PackChoice::take(const QString& packId) {
    if (session_.empty() || packId == session_.desk().bench.content().packId) return;
    session_.desk().garage.look([&](Garage& garage) {
        const Part pack = garage.part(parseId(packId.toStdString(), "pack"));
        BenchContent content = session_.desk().bench.content();
        const auto fit = [&pack](PlanInput& input) {
            const std::optional<double> was = input.pack.mass_kg;
            fitPack(pack.values, input);
            const double change = was && input.pack.mass_kg ? *input.pack.mass_kg - *was : 0.0;
            if (input.vehicle.mass_kg + change > 0.0) input.vehicle.mass_kg += change;
        };
        content.pack = QString::fromStdString(pack.name);
        content.packId = packId;
        addSources(pack.values, content);
        describePack(pack.values, content);
        const double mass = session_.input().vehicle.mass_kg;
        const bool known = session_.input().pack.mass_kg.has_value();
        const QString step = tr("fit %1").arg(content.pack);
        session_.exchange(step, std::move(content), fit);
        const double now = session_.input().vehicle.mass_kg;
        const QString name = session_.desk().bench.content().pack;
        const auto weight = [this](double kg) { return session_.units().text(Dimension::Mass, kg); };
        emit session_.said(
            !known || !session_.input().pack.mass_kg
                ? tr("%1 is in the car; the vehicle's mass stays %2, for what the packs weigh is not known.")
                      .arg(name, weight(now))
            : now == mass ? tr("%1 is in the car; it weighs the same.").arg(name)
                          : tr("%1 is in the car; the vehicle's mass is %2 now.").arg(name, weight(now)));
    });
}

} // namespace rw
