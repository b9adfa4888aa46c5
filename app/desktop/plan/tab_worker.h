// What a tab shows of the input on the bench is computed only while the tab is seen, after the pass itself (the first
// picture comes first), beside the interface thread, and dropped when stale.
#pragma once

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/jobs.h"

#include <QEvent>
#include <QWidget>

#include <functional>
#include <memory>
#include <utility>

namespace rw {

// Says when to compute: after a change, once the tab is seen and the pass is known.
class TabWatch : public QObject {
public:
    // tab outlives this.
    TabWatch(QWidget* tab, PlanSession& session, std::function<void()> compute)
        : tab_(tab)
        , session_(session)
        , compute_(std::move(compute)) {
        tab->installEventFilter(this);
        connect(&session_, &PlanSession::inputChanged, this, [this] { stale_ = true; });
        connect(&session_, &PlanSession::outcomeChanged, this, [this] { look(); });
    }
    void again() { // something else changed
        stale_ = true;
        look();
    }

protected:
    bool eventFilter(QObject*, QEvent* event) override {
        if (event->type() == QEvent::Show) look();
        return false;
    }

private:
    void look() {
        if (tab_->isVisible() && session_.current() && !session_.empty() && std::exchange(stale_, false)) compute_();
    }
    QWidget* tab_;
    PlanSession& session_;
    std::function<void()> compute_;
    bool stale_ = true;
};

template<class Result>
class TabWorker {
public:
    using Compute = std::function<Result(const PlanInput&, std::stop_token)>;

    // done is called on the interface thread, with result() new or null.
    TabWorker(QWidget* tab, PlanSession& session, Compute compute, std::function<void()> done)
        : done_(std::move(done))
        , watch_(tab, session,
                 [this, &session, compute = std::move(compute)] {
                     worker_.ask([input = session.shared(), compute](std::stop_token stop) {
                         return compute(*input, std::move(stop));
                     });
                 })
        , worker_(tab, [this](std::shared_ptr<const Result> result, const QString&) { // trouble: the session says it
            result_ = std::move(result);
            done_();
        }) {}

    [[nodiscard]] std::shared_ptr<const Result> result() const { return result_; }
    void setResult(std::shared_ptr<const Result> result) { result_ = std::move(result); }
    [[nodiscard]] bool busy() const { return worker_.busy(); }

private:
    std::function<void()> done_;
    std::shared_ptr<const Result> result_;
    TabWatch watch_;
    LatestWorker<Result> worker_; // last: ends before the rest goes
};

} // namespace rw
