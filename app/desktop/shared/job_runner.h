// Long work, one piece at a time, beside the interface thread: it stands at the foot of the window with how far it is,
// can be stopped there, and ends on the interface thread. For work where only the latest question matters see
// latest_worker.h. Interface thread only.
#pragma once

#include "core/plan/parallel.h"

#include <QObject>
#include <QString>

#include <functional>
#include <stop_token>
#include <thread>

namespace rw {

class Jobs;

class JobRunner : public QObject {
    Q_OBJECT
public:
    // Runs in the other thread and takes what it needs by value; what it returns is called on the interface thread.
    using Done = std::function<void()>;
    using Work = std::function<Done(const WorkOptions&)>;
    // How it ended where it threw: after a stop was asked for, nothing that it says counts.
    struct Ends {
        std::function<void(const QString& sentence)> failed;
        std::function<void()> stopped = [] {};
    };
    // A window that closes asks the work to stop, or lets it be finished.
    enum class AtClose { Stop, Finish };

    explicit JobRunner(Jobs& jobs, QObject* parent = nullptr, AtClose atClose = AtClose::Stop);
    ~JobRunner() override;

    // False, and nothing begins, while something runs.
    bool run(const QString& text, Work work, Ends ends);
    void stop();
    [[nodiscard]] bool busy() const { return job_ != 0; }

signals:
    void busyChanged();

private:
    void end(const Done& last);

    Jobs& jobs_;
    AtClose atClose_;
    int job_ = 0;
    std::stop_source source_;
    std::jthread worker_; // last: joins before the rest goes
};

} // namespace rw
