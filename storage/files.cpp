#include "storage/files.h"

#include "storage/garage_error.h"
#include "storage/schema.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <ctime>
#include <filesystem>

namespace rw {

namespace {

namespace fs = std::filesystem;

} // namespace

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
    throw GarageError(kindOfFileError(error), path + ": " + what + ": " + std::strerror(error));
}

class Descriptor {
public:
    Descriptor(const std::string& path, int flags, const char* what)
        : number_(::open(path.c_str(), flags | O_CLOEXEC)) {
        if (number_ < 0) fail(path, what, errno);
    }
    ~Descriptor() { ::close(number_); }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    [[nodiscard]] int get() const { return number_; }

private:
    int number_;
};

int bigEndian(const unsigned char* bytes) {
    return static_cast<int>(std::uint32_t{bytes[0]} << 24 | std::uint32_t{bytes[1]} << 16 |
                            std::uint32_t{bytes[2]} << 8 | bytes[3]);
}

void sync(const std::string& path, int flags) {
    const Descriptor file(path, flags, "cannot be opened to be synced");
    if (::fsync(file.get()) != 0) fail(path, "cannot be synced", errno);
}

} // namespace

GarageHeader readGarageHeader(const std::string& path) {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) fail(path, "cannot be read", errno);
    if (!S_ISREG(status.st_mode))
        throw GarageError(GarageError::Kind::NotAGarage, path + ": is no garage but a folder or a device");
    const Descriptor file(path, O_RDONLY, "cannot be read");
    std::array<unsigned char, 100> head{};
    const ssize_t got = ::pread(file.get(), head.data(), head.size(), 0);
    if (got < 0) fail(path, "cannot be read", errno);
    // SQLite database file format 1.3: magic at 0, file format versions at 18 and 19, user version at 60, application
    // id at 68.
    GarageHeader out;
    out.sqlite = got == static_cast<ssize_t>(head.size()) && std::memcmp(head.data(), "SQLite format 3", 16) == 0;
    out.writeAhead = head[18] == 2 || head[19] == 2;
    out.schema = bigEndian(&head[60]);
    out.applicationId = bigEndian(&head[68]);
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

std::optional<FileIdentity> identityOf(const std::string& path) noexcept {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) return std::nullopt;
    return FileIdentity(status.st_dev, status.st_ino);
}

bool fileExists(const std::string& path) {
    struct stat status {};
    return ::lstat(path.c_str(), &status) == 0;
}

std::string folderOf(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
}

bool mayWrite(const std::string& path) {
    return ::faccessat(AT_FDCWD, path.c_str(), W_OK, AT_EACCESS) == 0 &&
           ::faccessat(AT_FDCWD, folderOf(path).c_str(), W_OK, AT_EACCESS) == 0;
}

void syncFile(const std::string& path) { sync(path, O_RDWR); }
void syncFolder(const std::string& path) { sync(path, O_RDONLY | O_DIRECTORY); }

bool putInPlace(const std::string& from, const std::string& to) {
    // link() fails where the name is taken, in one step; file systems without links get the check and a rename.
    if (::link(from.c_str(), to.c_str()) == 0)
        ::unlink(from.c_str());
    else if (errno == EEXIST || fileExists(to))
        return false;
    else if (::rename(from.c_str(), to.c_str()) != 0)
        fail(to, "cannot be put in place", errno);
    syncFolder(folderOf(to));
    return true;
}

void removeFile(const std::string& path) noexcept { ::unlink(path.c_str()); }

void makeFolder(const std::string& path) {
    if (::mkdir(path.c_str(), 0777) != 0) {
        if (errno == EEXIST) return;
        fail(path, "cannot be made", errno);
    }
    syncFolder(folderOf(path));
}

void copyFile(const std::string& from, const std::string& to) {
    std::error_code error;
    fs::copy_file(from, to, fs::copy_options::overwrite_existing, error);
    if (error) fail(from, "cannot be copied", error.value());
}

std::string utcNow() {
    const std::time_t now = std::time(nullptr);
    std::tm parts{};
    ::gmtime_r(&now, &parts);
    std::array<char, 32> text{};
    const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &parts);
    return {text.data(), length};
}

} // namespace rw
