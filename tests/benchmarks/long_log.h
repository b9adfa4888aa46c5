// A log of any size as text, and a file to keep it in, for the benchmarks of what reads it.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

namespace rw::test {

// Nine columns at 50 Hz, one pass a minute, another pack every ten minutes. Plausible numbers, invented.
[[nodiscard]] std::string longLogText(std::size_t bytes);

// A file that is gone with the program.
class TemporaryFile {
public:
    explicit TemporaryFile(const std::string& content);
    ~TemporaryFile() { std::filesystem::remove(path_); }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    [[nodiscard]] std::string path() const { return path_.string(); }

private:
    std::filesystem::path path_;
};

} // namespace rw::test
