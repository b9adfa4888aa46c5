// The texts of findings in one place: id, title, what it usually means, what to try.
#pragma once

#include <span>
#include <string_view>

namespace rw {

struct FindingKind {
    std::string_view id;
    std::string_view title;   // a few words
    std::string_view whether; // "cannot judge …": "whether the output reaches full"
    std::string_view meaning; // what it usually means
    std::string_view advice;  // what to try
};

[[nodiscard]] std::span<const FindingKind> findingKinds();
[[nodiscard]] const FindingKind& findingKind(std::string_view id); // id must be one of the table

} // namespace rw
