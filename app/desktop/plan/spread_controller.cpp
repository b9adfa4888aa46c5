#include "app/desktop/plan/spread_controller.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/widgets.h"

#include <algorithm>
#include <utility>

namespace rw {

constexpr int idleMilliseconds = 350; // after the last edit
constexpr std::uint64_t seed = 1;     // the same question gets the same answer

SpreadController::SpreadController(PlanSession& session)
    : session_(session)
    , worker_(this, [this](std::shared_ptr<const SpreadResult> found, const QString&) { deliver(std::move(found)); }) {
    once(soon_, idleMilliseconds, this, &SpreadController::runQuickly);
    connect(&session_, &PlanSession::inputChanged, this, &SpreadController::restart);
    connect(&session_, &PlanSession::outcomeChanged, this, &SpreadController::startSoon);
    restart();
}

bool SpreadController::hasUncertainty() const {
    return !session_.empty() && std::any_of(session_.input().uncertainty.begin(), session_.input().uncertainty.end(),
                                            [](const auto& entry) { return entry.second > 0.0; });
}

bool SpreadController::busy() const {
    return (wanted_ && session_.problem().isEmpty()) || worker_.busy() || soon_.isActive();
}

void SpreadController::restart() {
    worker_.cancel();
    endJob();
    ++run_;
    result_.reset();
    progress_ = 0.0;
    soon_.stop();
    wanted_ = hasUncertainty();
    startSoon();
    emit changed();
}

// The pass itself comes first: its picture must not share the processor with a thousand others.
void SpreadController::startSoon() {
    if (wanted_ && session_.current()) {
        wanted_ = false;
        soon_.start();
    }
    tellBench();
}

void SpreadController::run(std::size_t runs) {
    soon_.stop();
    wanted_ = false;
    endJob();
    progress_ = 0.0;
    if (session_.empty()) return;
    const int run = ++run_;
    const auto told = [this, run](double share) {
        QMetaObject::invokeMethod(this, [this, run, share] {
            if (run != run_) return;
            progress_ = share;
            session_.desk().jobs.progress(job_, share);
            emit progressed();
        });
    };
    job_ = session_.desk().jobs.begin(tr("Chances, %1 runs").arg(runs), [this] { stop(); });
    worker_.ask([input = session_.shared(), runs, told](std::stop_token stop) {
        return spreadPlan(
            *input, {.runs = runs, .seed = seed, .work = {.stop = std::move(stop), .progress = told, .threads = 0}});
    });
    emit changed();
}

void SpreadController::stop() {
    worker_.cancel();
    soon_.stop();
    wanted_ = false;
    ++run_;
    endJob();
    emit changed();
}

void SpreadController::deliver(std::shared_ptr<const SpreadResult> result) {
    endJob();
    result_ = std::move(result);
    tellBench();
    emit changed();
}

void SpreadController::tellBench() {
    Expectation expected = session_.desk().bench.expectation();
    expected.pending = busy();
    expected.exact = !session_.empty() && !hasUncertainty();
    expected.low = expected.high = expected.targetProbability = std::nullopt;
    if (result_) {
        expected.targetProbability = result_->targetProbability;
        for (const SpreadFigure& figure : result_->figures) {
            if (figure.name != "zone_mean_mps") continue;
            expected.low = figure.p05;
            expected.high = figure.p95;
        }
    }
    session_.desk().bench.expect(expected);
}

void SpreadController::endJob() {
    if (job_ != 0) session_.desk().jobs.end(job_);
    job_ = 0;
}

} // namespace rw
