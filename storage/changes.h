// What a transaction changed, row by row, as SQLite's session extension records it: for undo, redo and the search
// index. sqlite.org/sessionintro.html. Private to storage.
#pragma once

#include "storage/connection.h"
#include "storage/item_store.h"

#include <memory>
#include <string>
#include <vector>

struct sqlite3_session;

namespace rw {

// The rows before and after, whole: enough to go back and forth, and to notice that another window changed them
// meanwhile.
class ChangeSet {
public:
    ChangeSet() = default;
    ChangeSet(void* bytes, int size) // from sqlite3_malloc, taken over
        : bytes_(bytes)
        , size_(size) {}

    [[nodiscard]] std::size_t size() const { return static_cast<std::size_t>(size_); }
    [[nodiscard]] bool empty() const { return size_ == 0; }
    [[nodiscard]] store::Touched touched() const;
    [[nodiscard]] ChangeSet inverted() const;
    // Within the caller's transaction. False where rows are not as they were left: nothing is applied then.
    [[nodiscard]] bool apply(Connection& connection) const;

private:
    struct Free {
        void operator()(void* bytes) const;
    };
    std::unique_ptr<void, Free> bytes_;
    int size_ = 0;
};

class ChangeRecorder {
public:
    explicit ChangeRecorder(Connection& connection);
    ~ChangeRecorder();
    ChangeRecorder(const ChangeRecorder&) = delete;
    ChangeRecorder& operator=(const ChangeRecorder&) = delete;
    [[nodiscard]] ChangeSet changes();

private:
    Connection& connection_;
    sqlite3_session* session_ = nullptr;
};

// What can be undone and redone, newest last.
class UndoStack {
public:
    struct Step {
        std::string text;
        ChangeSet forward;
    };
    void done(std::string text, ChangeSet forward); // forgets what could be redone

    std::vector<Step> undo, redo;
};

} // namespace rw
