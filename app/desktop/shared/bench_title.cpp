#include "app/desktop/shared/bench_title.h"

#include "app/desktop/shared/bench.h"

#include <QCoreApplication>
#include <QStringList>

namespace rw {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(BenchTitle)
};

QString changesText(int changes) {
    if (changes == 1) return Words::tr("one change not kept");
    return Words::tr("%1 changes not kept").arg(changes);
}

} // namespace

BenchTitle benchTitle(const Bench& bench) {
    const BenchContent& content = bench.content();
    if (!content.input)
        return {Words::tr("Nothing on the bench"), Words::tr(" · open a plan, or take a setup from the garage")};
    QStringList parts;
    if (!content.pack.isEmpty())
        parts << content.pack;
    else
        parts << Words::tr("%1S pack").arg(content.input->pack.series);
    parts << QStringLiteral("%1/%2").arg(content.input->gears.pinion_teeth).arg(content.input->gears.spur_teeth);
    QString kept = content.revision > 0 ? Words::tr("revision %1").arg(content.revision) : QString();
    if (content.changes > 0) kept += (kept.isEmpty() ? QString() : QStringLiteral(", ")) + changesText(content.changes);
    if (!kept.isEmpty()) parts << kept;
    const QString name = content.name.isEmpty() ? Words::tr("Unnamed plan") : content.name;
    return {name, QStringLiteral(" · ") + parts.join(QStringLiteral(" · "))};
}

} // namespace rw
