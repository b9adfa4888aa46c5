// A log of any size as text, and a file to keep it in, for the benchmarks of what reads it.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

namespace rw::test {

// Nine columns at 50 Hz, one pass a minute, another pack every ten minutes. Plausible numbers, invented.
// coarse: the same rows as sensors with few distinct values write them, with long flat stretches; as many bytes a row.
[[nodiscard]] std::string longLogText(std::size_t bytes, bool coarse = false);

// GPX 1.1 of a receiver that gives ten fixes a second and tells no speed. Invented.
[[nodiscard]] std::string longTrackText(std::size_t fixes);

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
