#include "storage/garage_impl.h"

namespace rw {

bool Garage::Impl::inPlace() const { return !opened || disk::identityOf(path) == opened; }

void Garage::Impl::requireWritable() const {
    if (access == Access::Damaged)
        throw GarageError(
            GarageError::Kind::Damaged,
            path + ": is damaged and open for reading only; save what can be read with salvage, or restore a backup");
    if (access == Access::ReadOnly)
        throw GarageError(GarageError::Kind::ReadOnly,
                          path + ": is open for reading only; the file or its folder may not be written to");
    // What is written to a file that has lost its name is lost with it.
    if (!inPlace())
        throw GarageError(GarageError::Kind::Gone,
                          path + ": was moved, deleted or replaced while it was open; nothing was changed");
}

void Garage::Impl::commit(Transaction& transaction, ChangeRecorder& recorder, const std::string& text) {
    ChangeSet changes = recorder.changes();
    if (changes.empty()) return transaction.commit();
    store::reindex(*connection, changes.touched());
    transaction.commit();
    ++ownChanges;
    steps.done(text, std::move(changes));
}

void Garage::Impl::stepBack(bool redo) {
    requireWritable();
    std::vector<UndoStack::Step>& from = redo ? steps.redo : steps.undo;
    std::vector<UndoStack::Step>& to = redo ? steps.undo : steps.redo;
    const char* const word = redo ? "redo" : "undo";
    if (from.empty()) throw GarageError(GarageError::Kind::Refused, std::string("there is nothing to ") + word);
    translated(path, [&] {
        Transaction transaction(*connection, Transaction::Kind::Write);
        const UndoStack::Step& step = from.back();
        const bool applied = redo ? step.forward.apply(*connection) : step.forward.inverted().apply(*connection);
        if (!applied) {
            const std::string text = step.text;
            from.clear();
            throw GarageError(GarageError::Kind::Refused,
                              std::string("cannot ") + word + " '" + text +
                                  "': another window or program changed the same things meanwhile");
        }
        store::reindex(*connection, step.forward.touched());
        transaction.commit();
        ++ownChanges;
        to.push_back(std::move(from.back()));
        from.pop_back();
    });
}

} // namespace rw
