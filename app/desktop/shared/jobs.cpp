#include "app/desktop/shared/jobs.h"

#include <algorithm>
#include <utility>

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
    const auto job =
        std::find_if(jobs_.begin(), jobs_.end(), [id](const Job& candidate) { return candidate.id == id; });
    if (job == jobs_.end() || !job->stop) return;
    const auto ask = std::exchange(job->stop, nullptr);
    ask();
    emit changed();
}

} // namespace rw
