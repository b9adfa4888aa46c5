#include "app/desktop/shared/job_runner.h"

#include "app/desktop/shared/jobs.h"
#include "core/stopped.h"

#include <QMetaObject>

#include <exception>
#include <utility>

namespace rw {

JobRunner::JobRunner(Jobs& jobs, QObject* parent, AtClose atClose)
    : QObject(parent)
    , jobs_(jobs)
    , atClose_(atClose) {}

JobRunner::~JobRunner() {
    if (atClose_ == AtClose::Stop) source_.request_stop();
    if (worker_.joinable()) worker_.join(); // what it still tells is for nobody
    if (busy()) jobs_.end(job_);
}

bool JobRunner::run(const QString& text, Work work, Ends ends) {
    if (busy()) return false;
    source_ = std::stop_source();
    job_ = jobs_.begin(text, [this] { stop(); });
    const auto told = [this, job = job_](double share) {
        QMetaObject::invokeMethod(this, [this, job, share] { jobs_.progress(job, share); });
    };
    worker_ = std::jthread([this, work = std::move(work), ends = std::move(ends), told, stop = source_.get_token()] {
        Done last;
        try {
            last = work({.stop = stop, .progress = told, .threads = 0});
        } catch (const std::exception& error) {
            if (!stop.stop_requested())
                last = [failed = ends.failed, sentence = QString::fromUtf8(error.what())] { failed(sentence); };
        } catch (const Stopped&) {
            last = ends.stopped;
        }
        if (!last) last = ends.stopped;
        QMetaObject::invokeMethod(this, [this, last] { end(last); });
    });
    emit busyChanged();
    return true;
}

void JobRunner::stop() { source_.request_stop(); }

void JobRunner::end(const Done& last) {
    jobs_.end(std::exchange(job_, 0));
    emit busyChanged();
    last();
}

} // namespace rw
