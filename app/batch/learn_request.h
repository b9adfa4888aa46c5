// What `learn` and `next` are asked: logs read and reviewed, plans, and options in words turned into values.
#pragma once

#include "core/learn/learn.h"

#include <span>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace rw::batch {

struct LearnWords {
    std::vector<std::string> logs, plans, passes, reverse, noted;
    std::string map, gps;
    bool coast = false, trustSensors = false;
};

void addLearnOptions(CLI::App& command, LearnWords& words);

// Logs with their reviews, kept where the learn calls can point at them.
struct LearnRequest {
    std::vector<Log> held;
    std::vector<LogReview> reviews;
    std::vector<LearnLog> logs;
    LearnOptions options;
};

// Throws InputError, or CLI::ValidationError where words are no SESSION:PASS.
[[nodiscard]] LearnRequest readRequest(const LearnWords& words);

class Ink;

// What learning found, as a good engineer would write it down: learn_text.cpp.
[[nodiscard]] std::string learnText(const LearnReport& report, std::span<const LearnLog> logs, const Ink& ink);
[[nodiscard]] std::string nextText(const NextReport& report, const Ink& ink);

} // namespace rw::batch
