// Long work under way: what it is, how far it is, how to stop it. The foot of the window shows it.
#pragma once

#include "core/plan/parallel.h"
#include "core/stopped.h"

#include <QMetaObject>
#include <QObject>
#include <QString>

#include <condition_variable>
#include <exception>
#include <functional>
#include <memory>
#include <mutex>
#include <stop_token>
#include <thread>
#include <utility>
#include <vector>

namespace rw {

class Jobs : public QObject {
    Q_OBJECT
public:
    struct Job {
        int id = 0;
        QString text;
        double share = -1.0; // 0..1; negative: not known
        std::function<void()> stop;
    };

    using QObject::QObject;

    // Interface thread only, as all of this class. stop is called at most once, when the person asks.
    int begin(const QString& text, std::function<void()> stop);
    void progress(int id, double share);
    void end(int id); // done, stopped or failed; unknown ids are ignored
    void stop(int id);

    [[nodiscard]] const std::vector<Job>& running() const { return jobs_; }

signals:
    void changed();

private:
    std::vector<Job> jobs_;
    int last_ = 0;
};

// Long work, one piece at a time, beside the interface thread: it stands at the foot of the window with how far it is,
// can be stopped there, and ends on the interface thread. For work where only the latest question matters see
// LatestWorker. Interface thread only.
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

    explicit JobRunner(Jobs& jobs, AtClose atClose = AtClose::Stop);
    ~JobRunner() override;

    // False, and nothing begins, while something runs.
    bool run(const QString& text, Work work, Ends ends);
    void stop() { source_.request_stop(); }
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

// Work off the interface thread where only the latest question matters: a newer one stops the running one, late answers
// are dropped. Made, asked and destroyed on the interface thread, on which answers are delivered too.
template<class Result>
class LatestWorker {
public:
    using Work = std::function<Result(std::stop_token)>;

    // Gets null where there is no answer, and why in a sentence.
    using Deliver = std::function<void(std::shared_ptr<const Result>, const QString& why)>;

    // home: lives on the interface thread and outlives the worker.
    LatestWorker(QObject* home, Deliver deliver)
        : home_(home)
        , deliver_(std::move(deliver)) {}

    ~LatestWorker() {
        cancel();
        thread_.request_stop();
        wake_.notify_all();
    }
    LatestWorker(const LatestWorker&) = delete;
    LatestWorker& operator=(const LatestWorker&) = delete;

    void ask(Work work) {
        cancel();
        {
            const std::lock_guard lock(mutex_);
            pending_ = std::move(work);
            source_ = std::stop_source();
            pendingRun_ = ++run_;
        }
        waiting_ = true;
        if (!thread_.joinable()) thread_ = std::jthread([this](std::stop_token stop) { loop(stop); });
        wake_.notify_one();
    }

    // Nothing more is delivered of what was asked.
    void cancel() {
        const std::lock_guard lock(mutex_);
        ++run_;
        source_.request_stop();
        pending_ = nullptr;
        waiting_ = false;
    }

    [[nodiscard]] bool busy() const { return waiting_; }

private:
    void loop(const std::stop_token& stop) {
        for (;;) {
            Work work;
            std::stop_token token;
            int run = 0;
            {
                std::unique_lock lock(mutex_);
                wake_.wait(lock, stop, [this] { return pending_ != nullptr; });
                if (stop.stop_requested()) return;
                work = std::exchange(pending_, nullptr);
                token = source_.get_token();
                run = pendingRun_;
            }
            QString trouble;
            std::shared_ptr<const Result> result;
            try {
                result = std::make_shared<const Result>(work(token));
            } catch (const Stopped&) {
                continue; // it was asked to because its answer is stale
            } catch (const std::exception& error) {
                trouble = QString::fromUtf8(error.what());
            }
            // run_ is compared on the interface thread: whatever was asked since makes this answer stale.
            QMetaObject::invokeMethod(home_, [this, run, result, trouble] {
                if (run != run_) return;
                waiting_ = false;
                deliver_(result, trouble);
            });
        }
    }

    QObject* home_;
    Deliver deliver_;
    std::mutex mutex_;
    std::condition_variable_any wake_;
    Work pending_;
    std::stop_source source_;
    int run_ = 0, pendingRun_ = 0; // run_ changes on the interface thread only
    bool waiting_ = false;         // interface thread only
    std::jthread thread_;          // last: joins before the rest goes
};

} // namespace rw
