#include "storage/making_file.h"

#include "storage/files.h"
#include "storage/garage_error.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <filesystem>

namespace rw {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view mark = ".making-";

void removeWithParts(const std::string& name) noexcept {
    try {
        for (const char* const part : {"", "-journal", "-wal", "-shm"})
            removeFile(name + part);
    } catch (const std::bad_alloc&) {
        removeFile(name);
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

// The lock of a file that this process made anew; below 0 where somebody took the file for abandoned meanwhile.
int lockOf(const std::string& name, const std::string& place) {
    constexpr mode_t mode = 0644; // as SQLite makes its files
    const int lock = ::open(name.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (lock < 0) {
        const int error = errno;
        if (error == EEXIST) return -1;
        throw GarageError(kindOfFileError(error), place + ": cannot be made: " + std::strerror(error));
    }
    struct stat status {};
    // File systems without locks: made all the same, only never taken for abandoned.
    const bool locked = ::flock(lock, LOCK_EX | LOCK_NB) == 0 || (errno != EWOULDBLOCK && errno != EINTR);
    if (locked && ::fstat(lock, &status) == 0 && status.st_nlink > 0) return lock;
    ::close(lock);
    return -1;
}

void removeIfAbandoned(const std::string& name) {
    const int lock = ::open(name.c_str(), O_RDWR | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
    if (lock < 0) return;
    struct stat status {};
    if (::fstat(lock, &status) == 0 && S_ISREG(status.st_mode) && ::flock(lock, LOCK_EX | LOCK_NB) == 0)
        removeWithParts(name);
    ::close(lock);
}

} // namespace

MakingFile::MakingFile(const std::string& place)
    : place_(place) {
    removeAbandoned(place);
    static std::atomic<int> counter{0};
    while (lock_ < 0) {
        name_ = place + std::string(mark) + std::to_string(::getpid()) + "-" + std::to_string(++counter);
        lock_ = lockOf(name_, place);
    }
}

MakingFile::~MakingFile() {
    if (lock_ < 0) return;
    removeWithParts(name_);
    ::close(lock_);
}

void MakingFile::putInPlace() {
    static_cast<void>(putInPlace([this](int) { return place_; }));
}

std::string MakingFile::putInPlace(const std::function<std::string(int)>& name) {
    syncFile(name_);
    std::string taken;
    for (int number = 1;; ++number) {
        const std::string wanted = name(number);
        if (rw::putInPlace(name_, wanted)) {
            ::close(lock_);
            lock_ = -1;
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
