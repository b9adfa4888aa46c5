// Corrections of boundaries as values: each function returns the edits with one more correction. core/review/review.h
// says how edits are applied. Lines are physical lines of the file.
#pragma once

#include "core/review/review.h"

namespace rw {

// The session that begins at line "from" begins at "to" instead. Moving a moved or an added start again replaces the
// earlier correction; moving it home removes it.
[[nodiscard]] ReviewEdits withMovedSession(ReviewEdits edits, std::uint32_t from, std::uint32_t to);
[[nodiscard]] ReviewEdits withAddedSession(ReviewEdits edits, std::uint32_t line);
[[nodiscard]] ReviewEdits withoutSession(ReviewEdits edits, std::uint32_t line);
[[nodiscard]] ReviewEdits withMovedPass(ReviewEdits edits, LineSpan from, LineSpan to);
[[nodiscard]] ReviewEdits withAddedPass(ReviewEdits edits, LineSpan span);
[[nodiscard]] ReviewEdits withoutPass(ReviewEdits edits, LineSpan span);

} // namespace rw
