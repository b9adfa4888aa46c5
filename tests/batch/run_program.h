// Runs runwright-batch and catches what it says.
#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace rw::testing {

struct ProgramRun {
    int status = -1; // exit status; -1: ended by a signal
    std::string out, err;
};

// Neither stream is a terminal. `environment` adds "NAME=value" entries.
[[nodiscard]] ProgramRun runBatch(const std::vector<std::string>& arguments, const std::string& standardInput = {},
                                  const std::vector<std::string>& environment = {});

// The same, killed (SIGKILL) after so long unless it has ended by then.
[[nodiscard]] ProgramRun runBatchKilled(const std::vector<std::string>& arguments, std::chrono::microseconds after);

// A folder of its own that is removed at the end.
class ScratchFolder {
public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    [[nodiscard]] std::string path(const std::string& name) const { return folder_ + "/" + name; }
    [[nodiscard]] std::string write(const std::string& name, const std::string& content) const; // returns its path

private:
    std::string folder_;
};

[[nodiscard]] std::string readFile(const std::string& path);

} // namespace rw::testing
