// The bytes of a file or pipe, mapped where that can be done.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace rw {

// Throws InputError: not there, not readable, a folder, a device, over the limit (before memory is taken), or a pipe
// through which nothing comes for three seconds ("-", standard input, may take its time).
class InputFile {
public:
    InputFile(const std::string& path, std::size_t mostBytes);
    ~InputFile();
    InputFile(const InputFile&) = delete;
    InputFile& operator=(const InputFile&) = delete;

    [[nodiscard]] std::string_view bytes() const { return bytes_; }
    // True if the bytes are mapped: pages that were read can be given back, see releasePages().
    [[nodiscard]] bool mapped() const { return mapping_ != nullptr; }

private:
    void readStream(int descriptor, std::size_t mostBytes, bool patient);
    std::string path_;
    std::string held_;
    void* mapping_ = nullptr;
    std::string_view bytes_;
};

// Pages of a file mapping that lie wholly inside these bytes leave the process's memory; read again, they come back.
void releasePages(std::string_view mappedBytes);
// Large pages spare thousands of page faults; where the system has none the call does nothing.
void askForLargePages(void* memory, std::size_t bytes);

} // namespace rw
