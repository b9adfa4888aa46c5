// Why the garage said no. what() is one sentence for a person; bad input from outside is InputError instead.
#pragma once

#include <stdexcept>
#include <string>

namespace rw {

class GarageError : public std::runtime_error {
public:
    enum class Kind {
        Busy,       // another program holds the file: wait and try again
        Full,       // no room on the disk; nothing was changed
        ReadOnly,   // file or folder may not be written to
        Damaged,    // the file's content does not hold together
        Newer,      // made by a newer version of the program; untouched
        NotAGarage, // another kind of file
        NotFound,   // no such file or no such thing in the garage
        Refused,    // would break a promise: referred to by something, changed meanwhile, already there
        Gone,       // the file was moved, deleted or replaced while it was open; nothing was changed
        Failed      // the operating system said no in another way
    };

    GarageError(Kind kind, const std::string& sentence)
        : std::runtime_error(sentence)
        , kind_(kind) {}
    [[nodiscard]] Kind kind() const noexcept { return kind_; }

private:
    Kind kind_;
};

} // namespace rw
