// Something computed of the input on the bench for a tab: only while the tab is seen, after the pass itself (the first
// picture comes first), beside the interface thread, dropped when stale.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/latest_worker.h"

#include <functional>
#include <memory>
#include <utility>

namespace rw {

template<class Result>
class TabWorker {
public:
    using Compute = std::function<Result(const PlanInput&, std::stop_token)>;

    // home lives on the interface thread and outlives this; done is called there, with result() new or null.
    TabWorker(QObject* home, PlanSession& session, Compute compute, std::function<void()> done)
        : session_(session)
        , compute_(std::move(compute))
        , done_(std::move(done))
        , worker_(
              home,
              [this](std::shared_ptr<const Result> result) {
                  result_ = std::move(result);
                  done_();
              },
              [this](const QString&) { // the session says what is wrong with the input
                  result_.reset();
                  done_();
              }) {
        QObject::connect(&session_, &PlanSession::inputChanged, home, [this] { stale_ = true; });
        QObject::connect(&session_, &PlanSession::outcomeChanged, home, [this] { run(); });
    }

    void setWanted(bool wanted) {
        wanted_ = wanted;
        run();
    }
    [[nodiscard]] std::shared_ptr<const Result> result() const { return result_; }
    void setResult(std::shared_ptr<const Result> result) { result_ = std::move(result); }
    [[nodiscard]] bool busy() const { return worker_.busy(); }

private:
    void run() {
        if (!wanted_ || !stale_ || session_.empty() || !session_.current()) return;
        stale_ = false;
        worker_.ask(
            [input = session_.shared(), compute = compute_](std::stop_token stop) { return compute(*input, stop); });
    }

    PlanSession& session_;
    Compute compute_;
    std::function<void()> done_;
    std::shared_ptr<const Result> result_;
    bool wanted_ = false, stale_ = true;
    LatestWorker<Result> worker_; // last: ends before the rest goes
};

} // namespace rw
