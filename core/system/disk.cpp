#include "core/system/disk.h"

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace rw::disk {

namespace {

int sync(const std::string& path, int flags) {
    const int file = ::open(path.c_str(), flags | O_CLOEXEC);
    if (file < 0) return errno;
    const int error = ::fsync(file) == 0 ? 0 : errno;
    ::close(file);
    return error;
}

} // namespace

Head readHead(const std::string& path) {
    Head out;
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) return out.error = errno, out;
    out.regular = S_ISREG(status.st_mode);
    if (!out.regular) return out;
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) return out.error = errno, out;
    const ssize_t got = ::pread(file, out.bytes.data(), out.bytes.size(), 0);
    if (got < 0)
        out.error = errno;
    else
        out.length = static_cast<std::size_t>(got);
    ::close(file);
    return out;
}

std::optional<Identity> identityOf(const std::string& path) noexcept {
    struct stat status {};
    if (::stat(path.c_str(), &status) != 0) return std::nullopt;
    return Identity(status.st_dev, status.st_ino);
}

bool exists(const std::string& path) {
    struct stat status {};
    return ::lstat(path.c_str(), &status) == 0;
}

bool mayWrite(const std::string& path) { return ::faccessat(AT_FDCWD, path.c_str(), W_OK, AT_EACCESS) == 0; }

int syncFile(const std::string& path) { return sync(path, O_RDWR); }
int syncFolder(const std::string& path) { return sync(path, O_RDONLY | O_DIRECTORY); }

int giveName(const std::string& from, const std::string& to) {
    // link() fails where the name is taken, in one step; file systems without links get the check and a rename.
    if (::link(from.c_str(), to.c_str()) == 0)
        ::unlink(from.c_str());
    else if (errno == EEXIST || exists(to))
        return EEXIST;
    else if (::rename(from.c_str(), to.c_str()) != 0)
        return errno;
    return 0;
}

int makeFolder(const std::string& path) { return ::mkdir(path.c_str(), 0777) == 0 ? 0 : errno; }
void removeFile(const std::string& path) noexcept { ::unlink(path.c_str()); }

std::string reason(int error) { return std::generic_category().message(error); }
int ownProcess() { return ::getpid(); }

Lock::Lock(int file, int error)
    : file_(file)
    , error_(error) {}

Lock Lock::onNewFile(const std::string& path) {
    constexpr mode_t mode = 0644;
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (file < 0) return {-1, errno};
    struct stat status {};
    const bool locked = ::flock(file, LOCK_EX | LOCK_NB) == 0 || (errno != EWOULDBLOCK && errno != EINTR);
    return {file, locked && ::fstat(file, &status) == 0 && status.st_nlink > 0 ? 0 : EEXIST};
}

Lock Lock::onAbandoned(const std::string& path) {
    const int file = ::open(path.c_str(), O_RDWR | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
    if (file < 0) return {-1, errno};
    struct stat status {};
    if (::fstat(file, &status) != 0 || !S_ISREG(status.st_mode)) return {file, EINVAL};
    return {file, ::flock(file, LOCK_EX | LOCK_NB) == 0 ? 0 : errno};
}

Lock Lock::onFolder(const std::string& path, bool wait) {
    const int file = ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    const bool refused = file >= 0 && ::flock(file, wait ? LOCK_EX : LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK;
    return {file, refused ? EWOULDBLOCK : 0};
}

Lock::Lock(Lock&& other) noexcept
    : file_(std::exchange(other.file_, -1))
    , error_(std::exchange(other.error_, -1)) {}

Lock& Lock::operator=(Lock&& other) noexcept {
    std::swap(file_, other.file_);
    std::swap(error_, other.error_);
    return *this;
}

Lock::~Lock() {
    if (file_ >= 0) ::close(file_);
}

} // namespace rw::disk
