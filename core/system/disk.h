// What the programs ask of the file system besides reading and writing whole files (input_file.h, whole_file.h): looked
// at, locked, synced, put in place. Functions that give an int give the system's reason (errno), 0 where all went well.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>

namespace rw::disk {

struct Head {
    int error = 0;
    bool regular = false; // no folder, no device
    std::array<unsigned char, 100> bytes{};
    std::size_t length = 0; // bytes that were there
};
[[nodiscard]] Head readHead(const std::string& path);

// Which file a name stands for: device and number. None where there is no such file.
using Identity = std::pair<std::uint64_t, std::uint64_t>;
[[nodiscard]] std::optional<Identity> identityOf(const std::string& path) noexcept;
[[nodiscard]] bool exists(const std::string& path); // a link that leads nowhere too
[[nodiscard]] bool mayWrite(const std::string& path);

[[nodiscard]] int syncFile(const std::string& path);
[[nodiscard]] int syncFolder(const std::string& path);
// Gives a file another name in one step; EEXIST where that is taken: nothing happened then.
[[nodiscard]] int giveName(const std::string& from, const std::string& to);
[[nodiscard]] int makeFolder(const std::string& path); // EEXIST where there is something of that name
void removeFile(const std::string& path) noexcept;

[[nodiscard]] std::string reason(int error); // "No such file or directory"
[[nodiscard]] int ownProcess();

// Held by one program at a time, for as long as it lives. On file systems without locks everyone holds it.
class Lock {
public:
    Lock() = default; // of nothing
    // Of a file made anew, of the mode that SQLite gives its files. EEXIST where the name is taken, or where somebody
    // took the file for abandoned meanwhile.
    [[nodiscard]] static Lock onNewFile(const std::string& path);
    // Of a file that nobody is making; only where there are locks. Not of a link, a folder, a device.
    [[nodiscard]] static Lock onAbandoned(const std::string& path);
    [[nodiscard]] static Lock onFolder(const std::string& path, bool wait);
    Lock(Lock&& other) noexcept;
    Lock& operator=(Lock&& other) noexcept;
    ~Lock();
    [[nodiscard]] bool held() const { return error_ == 0; }
    [[nodiscard]] int error() const { return error_; }

private:
    Lock(int file, int error);
    int file_ = -1;
    int error_ = -1;
};

} // namespace rw::disk
