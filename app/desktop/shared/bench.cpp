#include "app/desktop/shared/bench.h"

#include <utility>

namespace rw {

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

void Bench::expect(Expectation expectation) {
    expectation_ = std::move(expectation);
    emit expectationChanged();
}

} // namespace rw
