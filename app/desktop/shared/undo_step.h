// One step of undo in two functions.
#pragma once

#include <QUndoCommand>

#include <functional>
#include <utility>

namespace rw {

class UndoStep : public QUndoCommand {
public:
    // redo is called when the step is pushed, too.
    UndoStep(const QString& words, std::function<void()> undo, std::function<void()> redo)
        : QUndoCommand(words)
        , undo_(std::move(undo))
        , redo_(std::move(redo)) {}
    void undo() override { undo_(); }
    void redo() override { redo_(); }

private:
    std::function<void()> undo_, redo_;
};

} // namespace rw
