#include "app/batch/progress.h"

#include "core/system/terminal.h"

#include <cstdio>
#include <utility>

namespace rw::batch {

using namespace std::chrono_literals;

Progress::Progress(std::string what)
    : what_(std::move(what))
    , terminal_(errorsAreTerminal()) {}

Progress::~Progress() {
    if (drawn_) std::fputs("\r\x1B[K", stderr);
}

void Progress::operator()(double fraction) {
    if (!terminal_) return;
    const std::scoped_lock lock(mutex_);
    const auto now = Clock::now();
    if (now - begin_ < 1s || now - last_ < 100ms) return;
    last_ = now;
    drawn_ = true;
    std::fprintf(stderr, "\r%s: %3.0f %%", what_.c_str(), 100.0 * fraction);
}

} // namespace rw::batch
