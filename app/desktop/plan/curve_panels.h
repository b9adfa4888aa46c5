// Curves of the setup on the bench: forces over speed, heat over a session.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/choose/day.h"
#include "core/plan/repeats.h"

#include <QWidget>

namespace rw {

class Chart;
class PlanCursor;
class PlanSession;

// "Where the forces meet": what this gearing and its neighbours push over speed, what resists, what traction carries.
class ForcePanel : public QWidget {
    Q_OBJECT
public:
    ForcePanel(PlanSession& session, PlanCursor& cursor);
    [[nodiscard]] Chart& chart() { return *chart_; }

private:
    void draw();
    void trace();

    PlanSession& session_;
    PlanCursor& cursor_;
    Chart* chart_ = nullptr;
};

// Heat over the session: passes and waits against what each part stands; and how many passes back to back until a
// limit, over the wait between them.
class HeatPanel : public QWidget {
    Q_OBJECT
public:
    explicit HeatPanel(PlanSession& session);
    [[nodiscard]] bool busy() const { return worker_.busy() || dayWorker_.busy(); }
    [[nodiscard]] Chart& chart() { return *chart_; }

private:
    void draw();
    void drawDay();

    PlanSession& session_;
    Chart *chart_ = nullptr, *dayChart_ = nullptr;
    TabWorker<HeatHistory> worker_;
    TabWorker<DayResult> dayWorker_;
};

} // namespace rw
