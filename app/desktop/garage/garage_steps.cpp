#include "app/desktop/garage/garage_steps.h"

#include "app/desktop/shared/garage_session.h"

#include <QUndoStack>

#include <utility>

namespace rw {

namespace {

constexpr std::size_t writtenAtOnce = 1'000'000; // bytes: within a few milliseconds

QString nameOf(bool forward) { return forward ? GarageSteps::tr("Redo") : GarageSteps::tr("Undo"); }

void stepIn(Garage& garage, bool forward) { forward ? garage.redo() : garage.undo(); }

// The change itself is made before the command is pushed.
class GarageStep : public QUndoCommand {
public:
    GarageStep(GarageSteps& steps, const std::string& words)
        : QUndoCommand(QString::fromStdString(words))
        , steps_(steps)
        , words_(words) {}
    void redo() override {
        if (std::exchange(pushed_, true)) steps_.take(words_, true);
    }
    void undo() override { steps_.take(words_, false); }

private:
    GarageSteps& steps_;
    std::string words_;
    bool pushed_ = false;
};

} // namespace

GarageSteps::GarageSteps(GarageSession& session, Jobs& jobs, QObject* parent)
    : QObject(parent)
    , session_(session)
    , undo_(new QUndoStack(this))
    , runner_(jobs, nullptr, JobRunner::AtClose::Finish) {
    connect(&session_, &GarageSession::opened, this, &GarageSteps::forget);
    connect(&session_, &GarageSession::stepMade, this, &GarageSteps::note);
}

void GarageSteps::note() {
    if (const auto words = session_.garage().undoText()) undo_->push(new GarageStep(*this, *words));
}

void GarageSteps::forget() {
    asked_.clear();
    undo_->clear();
}

void GarageSteps::take(const std::string& words, bool forward) {
    asked_.push_back({words, forward});
    if (!busy()) goOn();
}

void GarageSteps::goOn() {
    while (!asked_.empty() && !busy()) {
        const Asked asked = asked_.front();
        asked_.pop_front();
        if (!session_.isOpen()) continue;
        Garage& garage = session_.garage();
        const auto next = asked.forward ? garage.redoText() : garage.undoText();
        if (!next || *next != asked.words) {
            emit complained(nameOf(asked.forward),
                            tr("Something else in the garage changed meanwhile, so this step is left as it is."));
        } else if (garage.stepSize(!asked.forward) > writtenAtOnce) {
            beside(asked);
        } else {
            session_.attempt(nameOf(asked.forward), [&](Garage& own) { stepIn(own, asked.forward); });
        }
    }
}

void GarageSteps::beside(const Asked& asked) {
    const std::string path = session_.garage().path();
    const std::shared_ptr<UndoStack> steps = session_.garage().releaseSteps();
    const bool forward = asked.forward;
    const auto work = [this, path, steps, forward](const WorkOptions&) -> JobRunner::Done {
        std::string trouble;
        std::shared_ptr<UndoStack> left = steps;
        try {
            Garage garage = Garage::open(path);
            garage.giveSteps(steps);
            try {
                stepIn(garage, forward);
            } catch (const std::exception& error) {
                trouble = error.what();
            }
            left = garage.releaseSteps();
        } catch (const std::exception& error) {
            trouble = error.what();
        }
        return [this, path, left, trouble, forward] {
            if (session_.isOpen() && session_.garage().path() == path) session_.garage().giveSteps(left);
            session_.poll();
            if (!trouble.empty()) emit complained(nameOf(forward), QString::fromStdString(trouble));
            goOn();
        };
    };
    (void)runner_.run(tr("%1: %2").arg(nameOf(forward), QString::fromStdString(asked.words)), work, {});
}

void GarageSteps::changeBeside(const QString& what, const std::function<void(Garage&)>& action) {
    const auto work = [this, what, action, path = session_.garage().path()](const WorkOptions&) -> JobRunner::Done {
        const auto own = std::make_shared<Garage>(Garage::open(path));
        action(*own);
        return [this, what, own] {
            session_.change(what, [&](Garage& garage) { garage.takeSteps(*own); });
            goOn();
        };
    };
    const bool begun = runner_.run(what, work,
                                   {[this, what](const QString& sentence) {
                                        emit complained(what, sentence);
                                        goOn();
                                    },
                                    [] {}});
    if (!begun) emit complained(what, tr("The garage is still at work on the step before: wait for it."));
}

} // namespace rw
