// Work off the interface thread where only the latest question matters: a newer one stops the running one, late answers
// are dropped. Made, asked and destroyed on the interface thread, on which answers are delivered too.
#pragma once

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

namespace rw {

template<class Result>
class LatestWorker {
public:
    using Work = std::function<Result(std::stop_token)>;

    // home: lives on the interface thread and outlives the worker.
    LatestWorker(QObject* home, std::function<void(std::shared_ptr<const Result>)> deliver,
                 std::function<void(const QString& sentence)> failed)
        : home_(home)
        , deliver_(std::move(deliver))
        , failed_(std::move(failed)) {}

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
                if (result)
                    deliver_(result);
                else
                    failed_(trouble);
            });
        }
    }

    QObject* home_;
    std::function<void(std::shared_ptr<const Result>)> deliver_;
    std::function<void(const QString&)> failed_;
    std::mutex mutex_;
    std::condition_variable_any wake_;
    Work pending_;
    std::stop_source source_;
    int run_ = 0, pendingRun_ = 0; // run_ changes on the interface thread only
    bool waiting_ = false;         // interface thread only
    std::jthread thread_;          // last: joins before the rest goes
};

} // namespace rw
