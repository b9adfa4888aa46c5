#include "app/desktop/shared/jobs.h"

#include <algorithm>

namespace rw {

int Jobs::begin(const QString& text, std::function<void()> stop) {
    jobs_.push_back({++last_, text, -1.0, std::move(stop)});
    emit changed();
    return last_;
}

void Jobs::progress(int id, double share) {
    for (Job& job : jobs_) {
        // A tenth of a percent is the smallest step that anyone can see.
        if (job.id != id || share - job.share < 0.001) continue;
        job.share = share;
        emit changed();
    }
}

void Jobs::end(int id) {
    if (std::erase_if(jobs_, [id](const Job& job) { return job.id == id; }) != 0) emit changed();
}

void Jobs::stop(int id) {
    const auto job = std::ranges::find(jobs_, id, &Job::id);
    if (job == jobs_.end() || !job->stop) return;
    const auto ask = std::exchange(job->stop, nullptr);
    ask();
    emit changed();
}

JobRunner::JobRunner(Jobs& jobs, AtClose atClose)
    : jobs_(jobs)
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

void JobRunner::end(const Done& last) {
    jobs_.end(std::exchange(job_, 0));
    emit busyChanged();
    last();
}

} // namespace rw
