#include "app/desktop/shared/bench.h"

#include "app/desktop/shared/meant_text.h"

#include <utility>

namespace rw {

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
    expectation_ = std::move(expectation);
    emit expectationChanged();
}

} // namespace rw
