// A folder in memory where there is one, removed at the end: garage files of the fuzz targets.
#pragma once

#include "core/error.h"
#include "storage/garage_error.h"
#include "tests/fuzz/fuzz_target.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <unistd.h>

namespace rw::fuzz {

class GarageFolder {
public:
    GarageFolder()
        : path_(base() / ("runwright-fuzz-" + std::to_string(::getpid()))) {
        std::filesystem::create_directory(path_);
    }
    ~GarageFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    GarageFolder(const GarageFolder&) = delete;
    GarageFolder& operator=(const GarageFolder&) = delete;
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
    void empty() const {
        for (const auto& entry : std::filesystem::directory_iterator(path_))
            std::filesystem::remove_all(entry.path());
    }

private:
    static std::filesystem::path base() {
        const std::filesystem::path memory = "/dev/shm";
        return std::filesystem::is_directory(memory) ? memory : std::filesystem::temp_directory_path();
    }
    std::filesystem::path path_;
};

[[nodiscard]] inline std::string bytesOf(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}
inline void writeBytes(const std::string& path, std::string_view bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

// True where the action was done, false where it was refused in one line.
template<class Action>
bool doneOrRefused(Action action) {
    try {
        action();
        return true;
    } catch (const GarageError& error) {
        promiseOneLine(error.what());
    } catch (const InputError& error) {
        promiseOneLine(error.what());
    }
    return false;
}

} // namespace rw::fuzz
