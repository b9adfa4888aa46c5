// The loop of core/parallel.h for long work: it can be stopped and tells how far it is.
#pragma once

#include "core/parallel.h"
#include "core/stopped.h"

#include <functional>

namespace rw {

using ProgressFunction = std::function<void(double)>; // 0..1, called from any of the threads

struct WorkOptions {
    std::stop_token stop;      // polled between items (core/stopped.h)
    ProgressFunction progress; // may be empty
    unsigned threads = 0;      // 0: as many as the machine has
};

// The same work as the part of a longer one from `from` to `to`, of 0..1: its progress is told there.
[[nodiscard]] inline WorkOptions partOf(const WorkOptions& work, double from, double to) {
    WorkOptions out = work;
    if (work.progress)
        out.progress = [told = work.progress, from, to](double done) { told(from + (to - from) * done); };
    return out;
}
// The same without telling.
[[nodiscard]] inline WorkOptions quiet(const WorkOptions& work) { return {work.stop, {}, work.threads}; }

// Calls item(0) … item(count - 1), each once. An exception from an item ends the loop and is thrown here; so is
// Stopped.
template<class Item>
void parallelFor(std::size_t count, const WorkOptions& options, const Item& item) {
    std::atomic<std::size_t> done{0};
    parallelFor(threadCount(options.threads), count, [&](std::size_t index, bool) {
        throwIfStopped(options.stop);
        item(index);
        const std::size_t soFar = ++done;
        if (options.progress) options.progress(static_cast<double>(soFar) / static_cast<double>(count));
    });
}

} // namespace rw
