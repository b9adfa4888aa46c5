#include "app/desktop/garage/garage_steps.h"

#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/undo_step.h"

#include <QUndoStack>

#include <utility>

namespace rw {

namespace {

constexpr std::size_t writtenAtOnce = 1'000'000; // bytes: within a few milliseconds

QString nameOf(bool forward) { return forward ? GarageSteps::tr("Redo") : GarageSteps::tr("Undo"); }

void stepIn(Garage& garage, bool forward) { forward ? garage.redo() : garage.undo(); }

} // namespace

GarageSteps::GarageSteps(const Desk& desk, QObject* parent)
    : QObject(parent)
    , desk_(desk)
    , session_(desk.garage)
    , undo_(new QUndoStack(this))
    , runner_(desk.jobs, JobRunner::AtClose::Finish) {
    connect(&session_, &GarageSession::opened, this, &GarageSteps::forget);
    connect(&session_, &GarageSession::stepMade, this, &GarageSteps::note);
}

void GarageSteps::note() {
    const auto words = session_.garage().undoText();
    if (!words) return;
    undo_->push(new UndoStep(
        QString::fromStdString(*words), [this, words = *words] { take(words, false); },
        [this, words = *words, pushed = false]() mutable { // the change itself is made before
            if (std::exchange(pushed, true)) take(words, true);
        }));
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
            emit desk_.voice.complained(
                nameOf(asked.forward),
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
            if (!trouble.empty()) emit desk_.voice.complained(nameOf(forward), QString::fromStdString(trouble));
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
                                        emit desk_.voice.complained(what, sentence);
                                        goOn();
                                    },
                                    [] {}});
    if (!begun) emit desk_.voice.complained(what, tr("The garage is still at work on the step before: wait for it."));
}

} // namespace rw
