// The garage's inside: the connection, how it was opened, what can be undone. Private to storage.
#pragma once

#include "core/system/disk.h"
#include "storage/changes.h"
#include "storage/connection.h"
#include "storage/files.h"
#include "storage/garage.h"

#include <type_traits>

namespace rw {

struct Garage::Impl {
    std::string path;
    GarageOptions options;
    Access access = Access::ReadWrite;
    std::vector<std::string> problems;
    std::unique_ptr<Connection> connection;
    UndoStack steps;
    std::uint64_t ownChanges = 0;
    std::optional<disk::Identity> opened; // none: still being made, or a file layer without such

    // work(connection, args…) on one state of the file, whatever others write meanwhile.
    template<class Work, class... Args>
    auto read(Work&& work, const Args&... args) {
        return translated(path, [&] {
            Transaction transaction(*connection, Transaction::Kind::Read);
            auto out = work(*connection, args...);
            transaction.commit();
            return out;
        });
    }

    // One change: whole and on the disk, or not at all. `text` makes the words for the undo menu.
    template<class Work, class... Args>
    auto write(const std::string& text, Work&& work, const Args&... args) {
        requireWritable();
        return translated(path, [&] {
            Transaction transaction(*connection, Transaction::Kind::Write);
            ChangeRecorder recorder(*connection);
            if constexpr (std::is_void_v<decltype(work(*connection, args...))>) {
                work(*connection, args...);
                commit(transaction, recorder, text);
            } else {
                auto out = work(*connection, args...);
                commit(transaction, recorder, text);
                return out;
            }
        });
    }

    [[nodiscard]] bool inPlace() const;
    void requireWritable() const; // throws GarageError ReadOnly, Damaged or Gone
    void commit(Transaction& transaction, ChangeRecorder& recorder, const std::string& text);
    void stepBack(bool redo);
};

} // namespace rw
