// The loop of core/parallel.h for long work: it can be stopped and tells how far it is.
#pragma once

#include <cstddef>
#include <functional>
#include <stop_token>

namespace rw {

using ProgressFunction = std::function<void(double)>; // 0..1, called from any of the threads

struct WorkOptions {
    std::stop_token stop;      // polled between items (core/stopped.h)
    ProgressFunction progress; // may be empty
    unsigned threads = 0;      // 0: as many as the machine has
};

// The same work as the part of a longer one from `from` to `to`, of 0..1: its progress is told there.
[[nodiscard]] WorkOptions partOf(const WorkOptions& work, double from, double to);

// Calls item(0) … item(count - 1), each once. An exception from an item ends the loop and is thrown here; so is
// Stopped.
void parallelFor(std::size_t count, const WorkOptions& options, const std::function<void(std::size_t)>& item);

} // namespace rw
