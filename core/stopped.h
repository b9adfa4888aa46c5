// The one way in which long work stops: it is asked through a std::stop_token, throws Stopped, and leaves nothing of
// what it did. No error: whoever asked wants no answer.
#pragma once

#include <stop_token>

namespace rw {

struct Stopped {};

inline void throwIfStopped(const std::stop_token& stop) {
    if (stop.stop_requested()) throw Stopped{};
}

} // namespace rw
