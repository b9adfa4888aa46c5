// A loop over independent pieces of work, shared by the calling thread and some helpers.
// Results go to the place of their own piece, so their order never depends on threads.
#pragma once

#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace rw {

// 0 asks for as many as the machine has, at most 16.
[[nodiscard]] inline unsigned threadCount(unsigned wished) {
    const unsigned machine = std::thread::hardware_concurrency();
    const unsigned count = wished != 0 ? wished : (machine != 0 ? machine : 1);
    return count < 16 ? count : 16;
}

// work(index, onCaller) for every index below count, each once, in rising order of start. onCaller tells the calling
// thread. The first exception stops the loop and is thrown here.
template<class Work>
void parallelFor(unsigned threads, std::size_t count, const Work& work) {
    std::atomic<std::size_t> next{0};
    std::exception_ptr failure;
    std::mutex guard;
    const auto loop = [&](bool onCaller) {
        try {
            for (std::size_t i = next++; i < count; i = next++)
                work(i, onCaller);
        } catch (...) {
            const std::scoped_lock lock(guard);
            if (!failure) failure = std::current_exception();
            next = count;
        }
    };
    {
        std::vector<std::jthread> helpers;
        const std::size_t useful = count < threads ? count : threads;
        for (std::size_t t = 1; t < useful; ++t)
            helpers.emplace_back(loop, false);
        loop(true);
    }
    if (failure) std::rethrow_exception(failure);
}

} // namespace rw
