#include "app/desktop/shared/bench.h"

#include "app/desktop/shared/figure_text.h"

#include <QStringList>

#include <utility>

namespace rw {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(BenchTitle)
};

QString changesText(const BenchContent& content) {
    const QString count = content.changes == 1 ? Words::tr("one change") : Words::tr("%1 changes").arg(content.changes);
    return content.keptAs.isEmpty() ? Words::tr("%1 not kept").arg(count)
                                    : Words::tr("%1 kept as “%2”").arg(count, content.keptAs);
}

} // namespace

QString packText(const BenchContent& content) {
    const auto& pack = content.input->pack;
    const bool same =
        content.packSeries == 0 || (content.packSeries == pack.series && content.packParallel == pack.parallel &&
                                    content.packCapacity_Ah == pack.capacity_Ah);
    if (same && !content.pack.isEmpty()) return content.pack;
    const QString cells = pack.parallel > 1 ? QStringLiteral("%1S%2P").arg(pack.series).arg(pack.parallel)
                                            : QStringLiteral("%1S").arg(pack.series);
    return QStringLiteral("%1, %2 Ah").arg(cells, meantText(pack.capacity_Ah));
}

void Bench::put(BenchContent content) {
    content_ = std::move(content);
    expectation_ = {};
    emit replaced();
    emit changed();
    emit expectationChanged();
}

void Bench::change(BenchContent content) {
    content_ = std::move(content);
    emit changed();
}

void Bench::suggest(const PlanInput& input, const QString& what) {
    if (!empty()) emit suggested(input, what);
}

void Bench::expect(Expectation expectation) {
    expectation_ = expectation;
    emit expectationChanged();
}

BenchTitle benchTitle(const Bench& bench) {
    const BenchContent& content = bench.content();
    if (!content.input)
        return {Words::tr("Nothing on the bench"), Words::tr(" · open a plan, or take a setup from the garage")};
    QStringList parts;
    parts << packText(content);
    parts << QStringLiteral("%1/%2").arg(content.input->gears.pinion_teeth).arg(content.input->gears.spur_teeth);
    QString kept = content.revision > 0 ? Words::tr("revision %1").arg(content.revision) : QString();
    if (content.changes > 0) kept += (kept.isEmpty() ? QString() : QStringLiteral(", ")) + changesText(content);
    if (!kept.isEmpty()) parts << kept;
    const QString name = content.name.isEmpty() ? Words::tr("Unnamed plan") : content.name;
    return {name, QStringLiteral(" · ") + parts.join(QStringLiteral(" · "))};
}

} // namespace rw
