#include "app/desktop/review/review_edit.h"

#include "app/desktop/review/review_desk.h"

#include <algorithm>

namespace rw {

namespace {

template<class T>
bool erase(std::vector<T>& values, const T& value) {
    const auto at = std::find(values.begin(), values.end(), value);
    if (at == values.end()) return false;
    values.erase(at);
    return true;
}

} // namespace

ReviewEdits withMovedSession(ReviewEdits edits, std::uint32_t from, std::uint32_t to) {
    if (from == to) return edits;
    if (erase(edits.addedSessions, from)) {
        edits.addedSessions.push_back(to);
        return edits;
    }
    const auto moved = std::find_if(edits.movedSessions.begin(), edits.movedSessions.end(),
                                    [from](const ReviewEdits::MovedStart& m) { return m.to == from; });
    if (moved == edits.movedSessions.end()) {
        edits.movedSessions.push_back({from, to});
    } else if (moved->from == to) {
        edits.movedSessions.erase(moved);
    } else {
        moved->to = to;
    }
    return edits;
}

ReviewEdits withAddedSession(ReviewEdits edits, std::uint32_t line) {
    if (!erase(edits.removedSessions, line)) edits.addedSessions.push_back(line);
    return edits;
}

ReviewEdits withoutSession(ReviewEdits edits, std::uint32_t line) {
    if (erase(edits.addedSessions, line)) return edits;
    const auto moved = std::find_if(edits.movedSessions.begin(), edits.movedSessions.end(),
                                    [line](const ReviewEdits::MovedStart& m) { return m.to == line; });
    if (moved != edits.movedSessions.end()) {
        line = moved->from;
        edits.movedSessions.erase(moved);
    }
    edits.removedSessions.push_back(line);
    return edits;
}

ReviewEdits withMovedPass(ReviewEdits edits, LineSpan from, LineSpan to) {
    if (from == to) return edits;
    if (erase(edits.addedPasses, from)) {
        edits.addedPasses.push_back(to);
        return edits;
    }
    const auto moved = std::find_if(edits.movedPasses.begin(), edits.movedPasses.end(),
                                    [from](const ReviewEdits::MovedPass& m) { return m.to == from; });
    if (moved == edits.movedPasses.end()) {
        edits.movedPasses.push_back({from, to});
    } else if (moved->from == to) {
        edits.movedPasses.erase(moved);
    } else {
        moved->to = to;
    }
    return edits;
}

ReviewEdits withAddedPass(ReviewEdits edits, LineSpan span) {
    edits.addedPasses.push_back(span);
    return edits;
}

ReviewEdits withoutPass(ReviewEdits edits, LineSpan span) {
    if (erase(edits.addedPasses, span)) return edits;
    const auto moved = std::find_if(edits.movedPasses.begin(), edits.movedPasses.end(),
                                    [span](const ReviewEdits::MovedPass& m) { return m.to == span; });
    if (moved != edits.movedPasses.end()) {
        span = moved->from;
        edits.movedPasses.erase(moved);
    }
    edits.removedPasses.push_back(span);
    return edits;
}

EditCommand::EditCommand(ReviewDesk& desk, int log, ReviewEdits before, ReviewEdits after, const QString& text)
    : QUndoCommand(text)
    , desk_(desk)
    , log_(log)
    , before_(std::move(before))
    , after_(std::move(after)) {}

void EditCommand::undo() { desk_.setEdits(log_, before_); }
void EditCommand::redo() { desk_.setEdits(log_, after_); }

} // namespace rw
