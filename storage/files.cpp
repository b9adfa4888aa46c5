#include "storage/files.h"

#include "storage/schema.h"

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>

namespace rw {

namespace fs = std::filesystem;

namespace {

GarageError::Kind kindOfFileError(int error) {
    switch (error) {
    case ENOENT:
    case ENOTDIR:
        return GarageError::Kind::NotFound;
    case EACCES:
    case EPERM:
    case EROFS:
        return GarageError::Kind::ReadOnly;
    case ENOSPC:
    case EDQUOT:
        return GarageError::Kind::Full;
    case EEXIST:
        return GarageError::Kind::Refused;
    default:
        return GarageError::Kind::Failed;
    }
}

[[noreturn]] void fail(const std::string& path, const std::string& what, int error) {
    throw GarageError(kindOfFileError(error), path + ": " + what + ": " + disk::reason(error));
}

int bigEndian(const unsigned char* bytes) {
    return static_cast<int>(std::uint32_t{bytes[0]} << 24 | std::uint32_t{bytes[1]} << 16 |
                            std::uint32_t{bytes[2]} << 8 | bytes[3]);
}

void syncFolderOf(const std::string& path) {
    const std::string folder = folderOf(path);
    if (const int error = disk::syncFolder(folder)) fail(folder, "cannot be synced", error);
}

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

GarageHeader readGarageHeader(const std::string& path) {
    const disk::Head head = disk::readHead(path);
    if (head.error != 0) fail(path, "cannot be read", head.error);
    if (!head.regular)
        throw GarageError(GarageError::Kind::NotAGarage, path + ": is no garage but a folder or a device");
    // SQLite database file format 1.3: magic at 0, user version at 60, application
    // id at 68.
    GarageHeader out;
    out.sqlite = head.length == head.bytes.size() && std::memcmp(head.bytes.data(), "SQLite format 3", 16) == 0;
    out.schema = bigEndian(&head.bytes[60]);
    out.applicationId = bigEndian(&head.bytes[68]);
    return out;
}

void requireGarageHeader(const std::string& path, int newestSchema) {
    const GarageHeader head = readGarageHeader(path);
    if (!head.sqlite || head.applicationId != garageApplicationId || head.schema < 1)
        throw GarageError(GarageError::Kind::NotAGarage, path + ": is no garage file");
    if (head.schema > newestSchema)
        throw GarageError(GarageError::Kind::Newer, path + ": was made by a newer version (garage version " +
                                                        std::to_string(head.schema) + ", this program knows " +
                                                        std::to_string(newestSchema) +
                                                        "); it was left untouched, use the newer program");
}

std::string folderOf(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
}

bool putInPlace(const std::string& from, const std::string& to) {
    const int error = disk::giveName(from, to);
    if (error == EEXIST) return false;
    if (error != 0) fail(to, "cannot be put in place", error);
    syncFolderOf(to);
    return true;
}

void makeFolder(const std::string& path) {
    const int error = disk::makeFolder(path);
    if (error == EEXIST) return;
    if (error != 0) fail(path, "cannot be made", error);
    syncFolderOf(path);
}

void copyFile(const std::string& from, const std::string& to) {
    std::error_code error;
    fs::copy_file(from, to, fs::copy_options::overwrite_existing, error);
    if (error) fail(from, "cannot be copied", error.value());
}

MakingFile::MakingFile(const std::string& place)
    : place_(place) {
    removeAbandoned(place);
    static std::atomic<int> counter{0};
    while (!lock_.held()) {
        name_ = place + std::string(mark) + std::to_string(disk::ownProcess()) + "-" + std::to_string(++counter);
        lock_ = disk::Lock::onNewFile(name_);
        if (const int error = lock_.error(); error != 0 && error != EEXIST) fail(place, "cannot be made", error);
    }
}

MakingFile::~MakingFile() {
    if (lock_.held()) removeWithParts(name_);
}

void MakingFile::putInPlace() {
    static_cast<void>(putInPlace([this](int) { return place_; }));
}

std::string MakingFile::putInPlace(const std::function<std::string(int)>& name) {
    if (const int error = disk::syncFile(name_)) fail(name_, "cannot be synced", error);
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
