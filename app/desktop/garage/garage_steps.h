// The garage's own history in this window: what can be undone there and done again. A step that holds a large log comes
// and goes beside the interface thread; what is asked meanwhile follows in its order. Interface thread only.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"
#include "storage/garage.h"

#include <QObject>

#include <deque>
#include <functional>
#include <string>

class QUndoStack;

namespace rw {

class GarageSteps : public QObject {
    Q_OBJECT
public:
    GarageSteps(const Desk& desk, QObject* parent);

    [[nodiscard]] QUndoStack* undoStack() const { return undo_; }
    [[nodiscard]] bool busy() const { return runner_.busy(); }
    void note(); // the garage's newest change, wherever it was made, can be undone here
    void forget();
    void take(const std::string& words, bool forward); // undoes the step of these words, or does it again
    // A change that moves much, made on a garage object of its own; refused while another runs.
    void changeBeside(const QString& what, const std::function<void(Garage&)>& action);

private:
    struct Asked {
        std::string words;
        bool forward;
    };
    void goOn();
    void beside(const Asked& asked);

    Desk desk_;
    GarageSession& session_;
    QUndoStack* undo_;
    std::deque<Asked> asked_; // while the runner is busy
    JobRunner runner_;        // last: its work ends before the rest goes
};

} // namespace rw
