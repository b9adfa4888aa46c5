// The chances: a spread over the stated uncertainties, run a moment after the last edit, stoppable, told to the bench.
#pragma once

#include "app/desktop/shared/jobs.h"
#include "core/plan/spread.h"

#include <QObject>
#include <QTimer>

#include <memory>

namespace rw {

class PlanSession;

class SpreadController : public QObject {
    Q_OBJECT
public:
    static constexpr std::size_t quickRuns = 1000, thoroughRuns = 10000;

    explicit SpreadController(PlanSession& session);

    void run(std::size_t runs); // now
    void stop();
    [[nodiscard]] std::shared_ptr<const SpreadResult> result() const { return result_; } // null: none for this input
    [[nodiscard]] bool busy() const;
    [[nodiscard]] double progress() const { return progress_; }
    [[nodiscard]] bool hasUncertainty() const;

signals:
    void changed();
    void progressed();

private:
    void restart();
    void runQuickly() { run(quickRuns); }
    void startSoon();
    void deliver(std::shared_ptr<const SpreadResult> result);
    void tellBench();
    void endJob();

    PlanSession& session_;
    std::shared_ptr<const SpreadResult> result_;
    double progress_ = 0.0;
    int job_ = 0, run_ = 0;
    bool wanted_ = false; // as soon as the pass is computed
    QTimer soon_;
    LatestWorker<SpreadResult> worker_;
};

} // namespace rw
