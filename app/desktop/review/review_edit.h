// Corrections of boundaries as values: each function returns the edits with one more correction. core/review/review.h
// says how edits are applied. Lines are physical lines of the file.
#pragma once

#include "core/review/review.h"

#include <QUndoCommand>

namespace rw {

class ReviewDesk;

// The session that begins at line "from" begins at "to" instead. Moving a moved or an added start again replaces the
// earlier correction; moving it home removes it.
[[nodiscard]] ReviewEdits withMovedSession(ReviewEdits edits, std::uint32_t from, std::uint32_t to);
[[nodiscard]] ReviewEdits withAddedSession(ReviewEdits edits, std::uint32_t line);
[[nodiscard]] ReviewEdits withoutSession(ReviewEdits edits, std::uint32_t line);
[[nodiscard]] ReviewEdits withMovedPass(ReviewEdits edits, LineSpan from, LineSpan to);
[[nodiscard]] ReviewEdits withAddedPass(ReviewEdits edits, LineSpan span);
[[nodiscard]] ReviewEdits withoutPass(ReviewEdits edits, LineSpan span);

// One step of undo: the edits of one open log before and after.
class EditCommand : public QUndoCommand {
public:
    EditCommand(ReviewDesk& desk, int log, ReviewEdits before, ReviewEdits after, const QString& text);
    void undo() override;
    void redo() override;

private:
    ReviewDesk& desk_;
    int log_;
    ReviewEdits before_, after_;
};

} // namespace rw
