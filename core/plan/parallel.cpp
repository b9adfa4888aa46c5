#include "core/plan/parallel.h"

#include "core/parallel.h"

#include <atomic>

namespace rw {

bool parallelFor(std::size_t count, const WorkOptions& options, const std::function<void(std::size_t)>& item) {
    std::atomic<std::size_t> done{0};
    parallelFor(threadCount(options.threads), count, [&](std::size_t index, bool) {
        if (options.stop.stop_requested()) return;
        item(index);
        const std::size_t soFar = ++done;
        if (options.progress) options.progress(static_cast<double>(soFar) / static_cast<double>(count));
    });
    return done == count;
}

} // namespace rw
