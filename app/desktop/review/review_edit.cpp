#include "app/desktop/review/review_edit.h"

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

// Place: a line, or a pass's first and last.
template<class Place, class Moved>
void move(std::vector<Place>& added, std::vector<Moved>& all, Place from, Place to) {
    if (from == to) return;
    if (erase(added, from)) return added.push_back(to);
    const auto moved = std::ranges::find(all, from, &Moved::to);
    if (moved == all.end())
        all.push_back({from, to});
    else if (moved->from == to)
        all.erase(moved);
    else
        moved->to = to;
}

template<class Place, class Moved>
void remove(std::vector<Place>& added, std::vector<Moved>& all, std::vector<Place>& removed, Place place) {
    if (erase(added, place)) return;
    const auto moved = std::ranges::find(all, place, &Moved::to);
    if (moved != all.end()) {
        place = moved->from;
        all.erase(moved);
    }
    removed.push_back(place);
}

} // namespace

ReviewEdits withMovedSession(ReviewEdits edits, std::uint32_t from, std::uint32_t to) {
    move(edits.addedSessions, edits.movedSessions, from, to);
    return edits;
}

ReviewEdits withAddedSession(ReviewEdits edits, std::uint32_t line) {
    if (!erase(edits.removedSessions, line)) edits.addedSessions.push_back(line);
    return edits;
}

ReviewEdits withoutSession(ReviewEdits edits, std::uint32_t line) {
    remove(edits.addedSessions, edits.movedSessions, edits.removedSessions, line);
    return edits;
}

ReviewEdits withMovedPass(ReviewEdits edits, LineSpan from, LineSpan to) {
    move(edits.addedPasses, edits.movedPasses, from, to);
    return edits;
}

ReviewEdits withAddedPass(ReviewEdits edits, LineSpan span) {
    edits.addedPasses.push_back(span);
    return edits;
}

ReviewEdits withoutPass(ReviewEdits edits, LineSpan span) {
    remove(edits.addedPasses, edits.movedPasses, edits.removedPasses, span);
    return edits;
}

} // namespace rw
