// Progress of long work on standard error: only on a terminal, only after a second.
#pragma once

#include "core/plan/parallel.h"

#include <chrono>
#include <functional>
#include <mutex>
#include <string>

namespace rw::batch {

class Progress {
public:
    explicit Progress(std::string what); // "spread"
    ~Progress();                         // clears the line
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void operator()(double fraction); // 0..1, from any thread
    [[nodiscard]] WorkOptions work() { return {.stop = {}, .progress = std::ref(*this)}; }

private:
    using Clock = std::chrono::steady_clock;
    std::string what_;
    bool terminal_;
    bool drawn_ = false;
    Clock::time_point begin_ = Clock::now();
    Clock::time_point last_ = begin_;
    std::mutex mutex_;
};

} // namespace rw::batch
