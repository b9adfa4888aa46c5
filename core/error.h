// The one exception type for bad input: where it stands, what was found, what was expected.
// Caught at the edge that can say it to a person; what() is one clear sentence without a line break.
#pragma once

#include <stdexcept>
#include <string>
#include <utility>

namespace rw {

class InputError : public std::runtime_error {
public:
    // place: "FILE:line:column", "FILE: group.key" or "row 17"; message: what was found and what was expected.
    InputError(std::string place, std::string message)
        : std::runtime_error(place.empty() ? message : place + ": " + message)
        , place_(std::move(place))
        , message_(std::move(message)) {}

    [[nodiscard]] const std::string& place() const noexcept { return place_; }
    [[nodiscard]] const std::string& message() const noexcept { return message_; }

private:
    std::string place_;
    std::string message_;
};

} // namespace rw
