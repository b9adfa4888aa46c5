#include "core/system/input_file.h"

#include "core/error.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <fcntl.h>
#include <poll.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace rw {
namespace {

constexpr std::size_t mostStreamBytes = 64'000'000; // a pipe is held in memory
constexpr int streamPatience_ms = 3000;

std::string reason(int error) { return std::generic_category().message(error); }

class Descriptor {
public:
    explicit Descriptor(int fd)
        : fd_(fd) {}
    ~Descriptor() {
        if (fd_ > STDERR_FILENO) ::close(fd_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    [[nodiscard]] int get() const { return fd_; }

private:
    int fd_;
};

std::string megabytes(std::size_t bytes) { return std::to_string(bytes / 1'000'000) + " MB"; }

// Of the pages of one size that lie wholly inside.
void advise(char* memory, std::size_t bytes, std::uintptr_t page, int advice) {
    const auto from = reinterpret_cast<std::uintptr_t>(memory);
    const std::uintptr_t first = (from + page - 1) / page * page, last = (from + bytes) / page * page;
    if (last > first) ::madvise(memory + (first - from), last - first, advice);
}

} // namespace

InputFile::InputFile(const std::string& path, std::size_t mostBytes)
    : path_(path) {
    // Without blocking: a named pipe that nobody writes to would hold the program forever.
    const Descriptor file(path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    if (file.get() < 0) throw InputError(path, "cannot be opened: " + reason(errno));
    struct stat info = {};
    if (::fstat(file.get(), &info) != 0) throw InputError(path, "cannot be read: " + reason(errno));
    if (S_ISDIR(info.st_mode)) throw InputError(path, "is a folder; a file is needed");
    if (S_ISBLK(info.st_mode) || (S_ISCHR(info.st_mode) && path != "-"))
        throw InputError(path, "is a device; a file is needed");
    const auto size = static_cast<std::size_t>(std::max<off_t>(info.st_size, 0));
    if (!S_ISREG(info.st_mode) || size == 0) {
        readStream(file.get(), std::min(mostBytes, mostStreamBytes), path == "-");
        return;
    }
    if (size > mostBytes) {
        throw InputError(path,
                         "is larger (" + megabytes(size) + ") than the " + megabytes(mostBytes) + " that are read");
    }
    void* const mapping = ::mmap(nullptr, size, PROT_READ, MAP_PRIVATE, file.get(), 0);
    if (mapping == MAP_FAILED) throw InputError(path, "cannot be read: " + reason(errno));
    mapping_ = mapping;
    ::madvise(mapping_, size, MADV_SEQUENTIAL);
    bytes_ = {static_cast<const char*>(mapping_), size};
}

InputFile::~InputFile() {
    if (mapping_ != nullptr) ::munmap(mapping_, bytes_.size());
}

void InputFile::readStream(int descriptor, std::size_t mostBytes, bool patient) {
    std::array<char, 65536> block{};
    while (true) {
        pollfd waiting{descriptor, POLLIN, 0};
        const int ready = ::poll(&waiting, 1, patient ? -1 : streamPatience_ms);
        if (ready == 0) throw InputError(path_, "is a pipe through which nothing comes; give it a writer or a file");
        const ssize_t got = ready < 0 ? -1 : ::read(descriptor, block.data(), block.size());
        if (got < 0 && (errno == EINTR || errno == EAGAIN)) continue;
        if (got < 0) throw InputError(path_, "cannot be read: " + reason(errno));
        if (got == 0) break;
        if (held_.size() + static_cast<std::size_t>(got) > mostBytes)
            throw InputError(path_, "holds more than the " + megabytes(mostBytes) + " that are read from a stream");
        held_.append(block.data(), static_cast<std::size_t>(got));
    }
    bytes_ = held_;
}

void releasePages(std::string_view mappedBytes) {
    static const auto page = static_cast<std::uintptr_t>(::sysconf(_SC_PAGESIZE));
    advise(const_cast<char*>(mappedBytes.data()), mappedBytes.size(), page, MADV_DONTNEED);
}

void askForLargePages(void* memory, std::size_t bytes) {
    advise(static_cast<char*>(memory), bytes, 2U << 20U, MADV_HUGEPAGE);
}

} // namespace rw
