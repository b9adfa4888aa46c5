#include "storage/making_file.h"

#include "core/system/disk.h"
#include "storage/files.h"
#include "storage/garage_error.h"

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <filesystem>

namespace rw {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view mark = ".making-";

void removeWithParts(const std::string& name) noexcept {
    try {
        for (const char* const part : {"", "-journal", "-wal", "-shm"})
            disk::removeFile(name + part);
    } catch (const std::bad_alloc&) {
        disk::removeFile(name);
    }
}

// "-PROCESS-NUMBER" in digits alone.
bool isOwnMark(std::string_view text) {
    const auto digits = [&text] {
        const std::size_t end = std::min(text.find_first_not_of("0123456789"), text.size());
        text.remove_prefix(end);
        return end > 0;
    };
    if (!digits() || !text.starts_with('-')) return false;
    text.remove_prefix(1);
    return digits() && text.empty();
}

void removeIfAbandoned(const std::string& name) {
    if (disk::Lock::onAbandoned(name).held()) removeWithParts(name);
}

} // namespace

MakingFile::MakingFile(const std::string& place)
    : place_(place) {
    removeAbandoned(place);
    static std::atomic<int> counter{0};
    while (!lock_.held()) {
        name_ = place + std::string(mark) + std::to_string(disk::ownProcess()) + "-" + std::to_string(++counter);
        lock_ = disk::Lock::onNewFile(name_);
        if (const int error = lock_.error(); error != 0 && error != EEXIST)
            throw GarageError(kindOfFileError(error), place + ": cannot be made: " + disk::reason(error));
    }
}

MakingFile::~MakingFile() {
    if (lock_.held()) removeWithParts(name_);
}

void MakingFile::putInPlace() {
    static_cast<void>(putInPlace([this](int) { return place_; }));
}

std::string MakingFile::putInPlace(const std::function<std::string(int)>& name) {
    syncFile(name_);
    std::string taken;
    for (int number = 1;; ++number) {
        std::string wanted = name(number);
        if (rw::putInPlace(name_, wanted)) {
            lock_ = {};
            return wanted;
        }
        if (wanted == taken)
            throw GarageError(GarageError::Kind::Refused, wanted + ": is already there; choose another name");
        taken = wanted;
    }
}

void removeAbandoned(const std::string& place) noexcept {
    try {
        const std::string stem = fs::path(place).filename().string() + std::string(mark);
        for (const auto& entry : fs::directory_iterator(folderOf(place))) {
            const std::string name = entry.path().filename().string();
            if (name.starts_with(stem) && isOwnMark(std::string_view(name).substr(stem.size())))
                removeIfAbandoned(entry.path().string());
        }
    } catch (const std::exception&) { // a folder that cannot be read keeps what lies in it
        return;
    }
}

} // namespace rw
