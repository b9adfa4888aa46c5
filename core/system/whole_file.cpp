#include "core/system/whole_file.h"

#include "core/error.h"

#include <cerrno>
#include <csignal>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

namespace rw {

namespace {

// Interrupts wait until the file is either renamed or removed.
class InterruptsHeld {
public:
    InterruptsHeld() {
        sigset_t held;
        sigemptyset(&held);
        for (const int signal : {SIGINT, SIGTERM, SIGHUP})
            sigaddset(&held, signal);
        pthread_sigmask(SIG_BLOCK, &held, &before_);
    }
    ~InterruptsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
    InterruptsHeld(const InterruptsHeld&) = delete;
    InterruptsHeld& operator=(const InterruptsHeld&) = delete;

private:
    sigset_t before_{};
};

[[noreturn]] void refuse(const std::string& path, int reason) {
    throw InputError(path, std::string("cannot be written: ") + std::strerror(reason));
}

bool writeAll(int file, std::string_view content) {
    while (!content.empty()) {
        const ssize_t written = ::write(file, content.data(), content.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        content.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

void writeDirectly(const std::string& path, std::string_view content) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
    if (file < 0) refuse(path, errno);
    const bool ok = writeAll(file, content);
    const int reason = errno;
    ::close(file);
    if (!ok) refuse(path, reason);
}

} // namespace

void writeWholeFile(const std::string& path, std::string_view content) {
    std::error_code none;
    const auto real = std::filesystem::weakly_canonical(path, none); // a link keeps pointing where it did
    const std::string target = none ? path : real.string();
    struct stat info {};
    const bool exists = ::stat(target.c_str(), &info) == 0;
    if (exists && S_ISDIR(info.st_mode)) refuse(path, EISDIR);
    if (exists && !S_ISREG(info.st_mode)) return writeDirectly(path, content);

    const InterruptsHeld held;
    std::string beside = target + ".XXXXXX";
    const int file = ::mkstemp(beside.data());
    if (file < 0) refuse(path, errno);
    const mode_t mask = ::umask(0);
    ::umask(mask);
    ::fchmod(file, exists ? info.st_mode & 0777U : 0666U & ~mask);
    const bool written = writeAll(file, content) && ::fsync(file) == 0;
    int reason = errno;
    ::close(file);
    if (written && ::rename(beside.c_str(), target.c_str()) == 0) return;
    if (written) reason = errno;
    ::unlink(beside.c_str());
    refuse(path, reason);
}

} // namespace rw
