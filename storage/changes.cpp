#include "storage/changes.h"

#include "storage/schema.h"

// The declarations of the session extension stand under these switches in sqlite3.h; Debian's library is built with
// both.
#ifndef SQLITE_ENABLE_SESSION
#define SQLITE_ENABLE_SESSION
#endif
#ifndef SQLITE_ENABLE_PREUPDATE_HOOK
#define SQLITE_ENABLE_PREUPDATE_HOOK
#endif
#include <sqlite3.h>

#include <algorithm>
#include <array>

namespace rw {

namespace {

constexpr std::size_t mostSteps = 100;
constexpr std::size_t mostBytes = 256'000'000; // of all steps: a few large logs

// Tables whose rows hold nothing that is searched for.
constexpr std::array<std::string_view, 7> withoutWords{"session",   "pass_noted", "pass_figures", "log_bytes",
                                                       "log_track", "log_review", "fit_value"};

void check(int code, Connection& connection) {
    if (code != SQLITE_OK) throw SQLite::Exception(connection.database().getHandle(), code);
}

// The value in the row's column 0, which in all our tables is the row's own number or its owner's.
std::int64_t firstColumn(sqlite3_changeset_iter* iterator, int operation) {
    sqlite3_value* value = nullptr;
    if (operation == SQLITE_INSERT)
        sqlite3changeset_new(iterator, 0, &value);
    else
        sqlite3changeset_old(iterator, 0, &value);
    return value == nullptr ? 0 : sqlite3_value_int64(value);
}

int refuse(void* conflicted, int, sqlite3_changeset_iter*) {
    *static_cast<bool*>(conflicted) = true;
    return SQLITE_CHANGESET_ABORT;
}

} // namespace

void ChangeSet::Free::operator()(void* bytes) const { sqlite3_free(bytes); }

store::Touched ChangeSet::touched() const {
    store::Touched out;
    if (empty()) return out;
    sqlite3_changeset_iter* iterator = nullptr;
    if (sqlite3changeset_start(&iterator, size_, bytes_.get()) != SQLITE_OK) return out;
    while (sqlite3changeset_next(iterator) == SQLITE_ROW) {
        const char* name = nullptr;
        int columns = 0, operation = 0, indirect = 0;
        sqlite3changeset_op(iterator, &name, &columns, &operation, &indirect);
        const std::string_view table = name;
        if (table == "pass")
            out.passes.insert(firstColumn(iterator, operation));
        else if (std::ranges::find(withoutWords, table) == withoutWords.end())
            out.items.insert(firstColumn(iterator, operation));
    }
    sqlite3changeset_finalize(iterator);
    return out;
}

ChangeSet ChangeSet::inverted() const {
    void* bytes = nullptr;
    int size = 0;
    if (!empty() && sqlite3changeset_invert(size_, bytes_.get(), &size, &bytes) != SQLITE_OK) throw std::bad_alloc();
    return {bytes, size};
}

bool ChangeSet::apply(Connection& connection) const {
    if (empty()) return true;
    bool conflicted = false;
    const int code =
        sqlite3changeset_apply(connection.database().getHandle(), size_, bytes_.get(), nullptr, refuse, &conflicted);
    if (conflicted) return false;
    check(code, connection);
    return true;
}

ChangeRecorder::ChangeRecorder(Connection& connection)
    : connection_(connection) {
    check(sqlite3session_create(connection.database().getHandle(), "main", &session_), connection);
    for (const std::string_view table : allTables) // but the counters: a number is never used twice, undone or not
        if (table != "counter") check(sqlite3session_attach(session_, table.data()), connection);
}

ChangeRecorder::~ChangeRecorder() {
    if (session_ != nullptr) sqlite3session_delete(session_);
}

ChangeSet ChangeRecorder::changes() {
    int size = 0;
    void* bytes = nullptr;
    check(sqlite3session_changeset(session_, &size, &bytes), connection_);
    return {bytes, size};
}

void UndoStack::done(std::string text, ChangeSet forward) {
    redo.clear();
    undo.push_back({std::move(text), std::move(forward)});
    std::size_t bytes = 0;
    std::size_t kept = 0;
    while (kept < undo.size() && kept < mostSteps && bytes + undo[undo.size() - 1 - kept].forward.size() <= mostBytes)
        bytes += undo[undo.size() - 1 - kept++].forward.size();
    undo.erase(undo.begin(), undo.end() - static_cast<std::ptrdiff_t>(kept));
}

} // namespace rw
