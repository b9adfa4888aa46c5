// The one bridge between the plan workspace and the core: the input under work with its undo, and what was computed of
// it. Panels know this session and no other panel. Interface thread only; computing happens beside it.
#pragma once

#include "app/desktop/plan/plan_outcome.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/latest_worker.h"
#include "app/desktop/shared/units.h"
#include "core/plan/plan_fields.h"

#include <QObject>
#include <QString>
#include <QUndoStack>

#include <memory>
#include <vector>

namespace rw {

class PlanSession : public QObject {
    Q_OBJECT
public:
    explicit PlanSession(const Desk& desk, QObject* parent = nullptr);
    ~PlanSession() override;

    [[nodiscard]] bool empty() const { return input_ == nullptr; }
    [[nodiscard]] const PlanInput& input() const { return *input_; } // not while empty
    [[nodiscard]] std::shared_ptr<const PlanInput> shared() const { return input_; }
    [[nodiscard]] const PlanInput& kept() const { return *kept_; } // as opened, saved or revised last
    [[nodiscard]] std::vector<const PlanField*> changes() const;   // fields that differ from it
    [[nodiscard]] bool modified() const;
    [[nodiscard]] Desk& desk() { return desk_; }
    [[nodiscard]] const Units& units() const { return desk_.units; }
    [[nodiscard]] QUndoStack& undoStack() { return undo_; }

    // What was computed last; may be of an earlier input while current() is false. Null: nothing yet.
    [[nodiscard]] std::shared_ptr<const PlanOutcome> outcome() const { return outcome_; }
    [[nodiscard]] bool current() const { return current_; }
    [[nodiscard]] QString problem() const { return problem_; } // why this input cannot be planned with; "" if it can

    // One step of undo. Steps of the same field while it has the focus become one (see endEdit).
    void edit(const QString& what, const QString& key, PlanInput next);
    void endEdit() { ++editSerial_; }
    void putBack(const PlanField& field);
    void putBackAll();
    // The input as it stands is kept now, under a file, a plan or a revision.
    void markKept();
    void markKept(PlanInput kept); // only this of it is kept

    // A second plan beside this one.
    [[nodiscard]] std::shared_ptr<const PlanOutcome> rival() const { return rival_; }
    [[nodiscard]] QString rivalName() const { return rivalName_; }
    void compareWith(const QString& name, const PlanInput& input);
    void stopComparing();

signals:
    void replaced(); // another thing on the bench
    void inputChanged();
    void keptChanged();
    void outcomeChanged(); // outcome(), current() or problem()
    void rivalChanged();
    void complained(const QString& title, const QString& sentence);

private:
    friend class SetInput;
    void apply(std::shared_ptr<const PlanInput> input);
    void takeBench();
    void tellBench();
    void compute();
    void deliver(std::shared_ptr<const PlanOutcome> outcome);

    Desk desk_;
    std::shared_ptr<const PlanInput> input_, kept_;
    std::shared_ptr<const PlanOutcome> outcome_, rival_;
    QString problem_, rivalName_;
    bool current_ = false;
    int editSerial_ = 0;
    QUndoStack undo_;
    LatestWorker<PlanOutcome> worker_, rivalWorker_;
};

} // namespace rw
