// Texts of logs for the tests, and short ways to read them.
#pragma once

#include "core/log/import.h"
#include "core/log/log.h"

#include <string>
#include <vector>

namespace rw::test {

// The text's rows: time from 0 in steps, voltage, current; numbered lines end with the mark given.
struct PlainLog {
    std::string header = "time,voltage,current";
    int rows = 20;
    double step = 0.1;
    std::string separator = ",";
    std::string lineEnd = "\n";
    bool decimalComma = false;
};
[[nodiscard]] std::string plainLog(const PlainLog& form = {});

// One line each, LF behind every one.
[[nodiscard]] std::string lines(const std::vector<std::string>& text);

[[nodiscard]] Log read(const std::string& text, const ImportOptions& options = {});
// The complaint with which the text is refused; fails the test if it is not.
[[nodiscard]] std::string complaint(const std::string& text, const ImportOptions& options = {});
[[nodiscard]] const ImportColumn& column(const Log& log, const std::string& name);
[[nodiscard]] bool notesHold(const Log& log, const std::string& words);

} // namespace rw::test
