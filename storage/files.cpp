#include "storage/files.h"

#include "core/system/disk.h"
#include "storage/garage_error.h"
#include "storage/schema.h"

#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>

namespace rw {

namespace fs = std::filesystem;

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

namespace {

[[noreturn]] void fail(const std::string& path, const std::string& what, int error) {
    throw GarageError(kindOfFileError(error), path + ": " + what + ": " + disk::reason(error));
}

int bigEndian(const unsigned char* bytes) {
    return static_cast<int>(std::uint32_t{bytes[0]} << 24 | std::uint32_t{bytes[1]} << 16 |
                            std::uint32_t{bytes[2]} << 8 | bytes[3]);
}

} // namespace

GarageHeader readGarageHeader(const std::string& path) {
    const disk::Head head = disk::readHead(path);
    if (head.error != 0) fail(path, "cannot be read", head.error);
    if (!head.regular)
        throw GarageError(GarageError::Kind::NotAGarage, path + ": is no garage but a folder or a device");
    // SQLite database file format 1.3: magic at 0, file format versions at 18 and 19, user version at 60, application
    // id at 68.
    GarageHeader out;
    out.sqlite = head.length == head.bytes.size() && std::memcmp(head.bytes.data(), "SQLite format 3", 16) == 0;
    out.writeAhead = head.bytes[18] == 2 || head.bytes[19] == 2;
    out.schema = bigEndian(&head.bytes[60]);
    out.applicationId = bigEndian(&head.bytes[68]);
    return out;
}

GarageHeader requireGarageHeader(const std::string& path, int newestSchema) {
    const GarageHeader head = readGarageHeader(path);
    if (!head.sqlite || head.applicationId != garageApplicationId || head.schema < 1)
        throw GarageError(GarageError::Kind::NotAGarage, path + ": is no garage file");
    if (head.schema > newestSchema)
        throw GarageError(GarageError::Kind::Newer, path + ": was made by a newer version (garage version " +
                                                        std::to_string(head.schema) + ", this program knows " +
                                                        std::to_string(newestSchema) +
                                                        "); it was left untouched, use the newer program");
    return head;
}

std::string folderOf(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
}

void syncFile(const std::string& path) {
    if (const int error = disk::syncFile(path)) fail(path, "cannot be synced", error);
}

namespace {

void syncFolderOf(const std::string& path) {
    const std::string folder = folderOf(path);
    if (const int error = disk::syncFolder(folder)) fail(folder, "cannot be synced", error);
}

} // namespace

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

} // namespace rw
