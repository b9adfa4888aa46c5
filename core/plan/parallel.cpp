#include "core/plan/parallel.h"

#include "core/parallel.h"
#include "core/stopped.h"

#include <atomic>

namespace rw {

WorkOptions partOf(const WorkOptions& work, double from, double to) {
    WorkOptions out = work;
    if (work.progress)
        out.progress = [told = work.progress, from, to](double done) { told(from + (to - from) * done); };
    return out;
}

void parallelFor(std::size_t count, const WorkOptions& options, const std::function<void(std::size_t)>& item) {
    std::atomic<std::size_t> done{0};
    parallelFor(threadCount(options.threads), count, [&](std::size_t index, bool) {
        throwIfStopped(options.stop);
        item(index);
        const std::size_t soFar = ++done;
        if (options.progress) options.progress(static_cast<double>(soFar) / static_cast<double>(count));
    });
}

} // namespace rw
