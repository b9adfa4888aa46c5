// The one bridge between the plan workspace and the core: the input under work with its undo, and what was computed of
// it. Panels know this session and no other panel. Interface thread only; computing happens beside it.
#pragma once

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/units.h"
#include "core/plan/plan_curves.h"
#include "core/plan/plan_fields.h"

#include <QObject>
#include <QString>
#include <QUndoStack>

#include <functional>
#include <memory>
#include <vector>

namespace rw {

// Air, wind and venue belong to the place and the day, not to a setup.
[[nodiscard]] bool belongsToSetup(const PlanField& field);

class PlanSession : public QObject {
    Q_OBJECT
public:
    explicit PlanSession(const Desk& desk);

    [[nodiscard]] bool empty() const { return input_ == nullptr; }
    [[nodiscard]] const PlanInput& input() const { return *input_; } // not while empty
    [[nodiscard]] std::shared_ptr<const PlanInput> shared() const { return input_; }
    [[nodiscard]] const PlanInput& kept() const { return *kept_; } // as opened, saved or revised last
    [[nodiscard]] std::shared_ptr<const PlanInput> sharedKept() const { return kept_; }
    [[nodiscard]] std::vector<const PlanField*> changes() const; // fields that differ from it
    [[nodiscard]] bool differs() const;  // from what is kept of the setup or plan that it began with
    [[nodiscard]] bool modified() const; // and is kept nowhere else either
    [[nodiscard]] Desk& desk() { return desk_; }
    [[nodiscard]] const Units& units() const { return desk_.units; }
    [[nodiscard]] QUndoStack& undoStack() { return undo_; }

    // What was computed last; may be of an earlier input while current() is false. Null: nothing yet.
    [[nodiscard]] std::shared_ptr<const PlanOutcome> outcome() const { return outcome_; }
    [[nodiscard]] bool current() const { return current_; }
    [[nodiscard]] QString problem() const { return problem_; } // why this input cannot be planned with; "" if it can

    // One step of undo. Steps of the same field while it has the focus become one (see endEdit).
    void edit(const QString& what, const QString& key, PlanInput next);
    // A step of no field, whatever is being typed.
    void step(const QString& what, PlanInput next) {
        endEdit();
        edit(what, {}, std::move(next));
    }
    // The same where one field's value changes: what was measured is a guess from then on, with the key's usual width
    // (guessWidth); back at the kept value it has the kept uncertainty again.
    void editValue(const PlanField& field, const QString& what, PlanInput next);
    // Correlations hold between uncertainties as they were given; with another ± of one of the two nothing is known.
    void settleCorrelations(PlanInput& next) const;
    void endEdit() { ++editSerial_; }
    // Where a value comes from, for people: as kept, or that it is a guess since it was changed here; "" if not known.
    [[nodiscard]] QString sourceOf(const PlanField& field) const;
    void putBack(const PlanField& field);
    void putBackAll();
    // The input as it stands is kept now, under a file, a plan or a revision.
    void markKept() { markKept(*input_); }
    void markKept(PlanInput kept); // only this of it is kept
    // Kept beside the setup that it changes, as a plan or a file: nothing is lost any more, the setup stays as it was.
    void markKeptAs(const QString& name);
    // Other parts on the same bench, with their names: one step of undo. fit: puts the parts' values into an input.
    void exchange(const QString& what, BenchContent content, const std::function<void(PlanInput&)>& fit);

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

private:
    friend class SetInput;
    struct State { // what lies on the bench, whole
        BenchContent content;
        std::shared_ptr<const PlanInput> input, kept, given;
    };
    void show(const State& state);
    void push(const QString& what, const State& next); // onto the undo stack, which shows it
    [[nodiscard]] QString keptSource(const PlanField& field) const;
    [[nodiscard]] bool wasMeasured(const PlanField& field) const;
    void apply(std::shared_ptr<const PlanInput> input);
    void takeBench();
    void startAnew(); // nothing that was computed is of this input
    void tellBench();
    void compute();
    void deliver(std::shared_ptr<const PlanOutcome> outcome);

    Desk desk_;
    std::shared_ptr<const PlanInput> input_, kept_, keptElsewhere_;
    std::shared_ptr<const PlanInput> given_; // what is kept, with the parts that were exchanged: sources belong to it
    QString keptAs_;
    BenchContent content_; // as told last: what a replacement replaces
    bool showing_ = false; // the bench is replaced by this session
    std::shared_ptr<const PlanOutcome> outcome_, rival_;
    QString problem_, rivalName_;
    bool current_ = false;
    int editSerial_ = 0;
    QUndoStack undo_;
    LatestWorker<PlanOutcome> worker_, rivalWorker_;
};

} // namespace rw
