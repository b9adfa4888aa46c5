#include "core/plan/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace rw {

namespace {

struct Shared {
    std::atomic<std::size_t> next{0}, done{0};
    std::atomic<bool> failed{false};
    std::exception_ptr failure;
    std::mutex mutex;
};

void work(std::size_t count, const WorkOptions& options, const std::function<void(std::size_t)>& item, Shared& shared) {
    try {
        while (!shared.failed && !options.stop.stop_requested()) {
            const std::size_t index = shared.next++;
            if (index >= count) return;
            item(index);
            const std::size_t done = ++shared.done;
            if (options.progress) options.progress(static_cast<double>(done) / static_cast<double>(count));
        }
    } catch (...) {
        const std::scoped_lock lock(shared.mutex);
        if (!shared.failure) shared.failure = std::current_exception();
        shared.failed = true;
    }
}

} // namespace

bool parallelFor(std::size_t count, const WorkOptions& options, const std::function<void(std::size_t)>& item) {
    const unsigned wanted = options.threads > 0 ? options.threads : std::max(1U, std::thread::hardware_concurrency());
    const std::size_t threads = std::min<std::size_t>(wanted, count);
    Shared shared;
    {
        std::vector<std::jthread> helpers;
        for (std::size_t i = 1; i < threads; ++i)
            helpers.emplace_back([&] { work(count, options, item, shared); });
        work(count, options, item, shared);
    }
    if (shared.failure) std::rethrow_exception(shared.failure);
    return shared.done == count;
}

} // namespace rw
