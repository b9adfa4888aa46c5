// The open garage of this window, and the way to open another. Interface thread only; long work opens the file anew
// in its own thread (storage/garage.h: one Garage object a thread).
#pragma once

#include "app/desktop/shared/jobs.h"
#include "storage/garage.h"

#include <QObject>
#include <QString>
#include <QTimer>

#include <functional>
#include <optional>
#include <type_traits>

namespace rw {

class Settings;

class GarageSession : public QObject {
    Q_OBJECT
public:
    GarageSession(Settings& settings, Jobs& jobs);

    [[nodiscard]] bool isOpen() const { return garage_.has_value(); }
    [[nodiscard]] Garage& garage() { return *garage_; } // only while isOpen()
    [[nodiscard]] QString path() const;                 // empty: none open
    // Not: open for reading only, or the file is no longer where it was.
    [[nodiscard]] bool writable() const;
    // Whether the open file is still the one at path(); where not, only what this window holds is left of it.
    [[nodiscard]] bool inPlace() const { return !garage_ || garage_->inPlace(); }

    // Each says false and emits complained() where it cannot; what was open stays open then. A large file is checked
    // beside the interface thread: opened() comes when that is done.
    bool open(const QString& path);
    bool create(const QString& path);
    bool openDefault(); // at defaultPath(); made there where it is not yet
    // In the background with progress; opens it when done. There already: only opens it.
    void openSample(const QString& path);
    void close();

    // Does something with the garage and tells all views; false and complained() where the garage says no.
    // what: "Saving the plan", the head of the complaint.
    bool attempt(const QString& what, const std::function<void(Garage&)>& action);
    // The same, of an action that makes a step which can be undone.
    bool change(const QString& what, const std::function<void(Garage&)>& action);

    // Reads for a view. False where the garage does not answer now (busy, damaged): said once, and changed() comes
    // again when it answers. What is not in the garage is the caller's matter (GarageError NotFound).
    bool look(const std::function<void(Garage&)>& question);
    // The same, of a question with an answer; none where it does not answer.
    template<class Question>
    auto answer(const Question& question) {
        std::optional<std::invoke_result_t<Question, Garage&>> told;
        look([&](Garage& garage) { told = question(garage); });
        return told;
    }
    // Has anyone changed it? Asked every second, and when the window is looked at again.
    void poll();

    [[nodiscard]] static QString defaultPath(); // in the platform's application-data folder
    [[nodiscard]] static QString samplePath();
    // Whether a file begins as an SQLite database does.
    [[nodiscard]] static bool looksLikeGarage(const QString& path);

signals:
    void opened();   // another garage is open, or none
    void stepMade(); // the garage has a newest step to undo
    void changed();  // something in it changed, by this window or by another
    void complained(const QString& title, const QString& sentence);

private:
    [[nodiscard]] bool openBeside(const QString& path);
    void adopt(Garage garage);
    void tellCondition();
    [[nodiscard]] bool noteWhetherInPlace(); // whether that is news

    Settings& settings_;
    std::optional<Garage> garage_;
    std::uint64_t seen_ = 0;
    bool stale_ = false; // a view could not be filled
    QString trouble_;    // why, as it was said
    bool wasInPlace_ = true;
    QTimer timer_;
    JobRunner runner_; // last: ends before the rest goes
};

} // namespace rw
