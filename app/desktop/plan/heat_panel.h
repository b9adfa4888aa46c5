// Heat over the session: passes and waits against what each part stands; and how many passes back to back until a
// limit, over the wait between them.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/choose/day.h"
#include "core/plan/heat_history.h"

#include <QWidget>

namespace rw {

class Chart;

class HeatPanel : public QWidget {
    Q_OBJECT
public:
    explicit HeatPanel(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] bool busy() const { return worker_.busy() || dayWorker_.busy(); }
    [[nodiscard]] Chart& chart() { return *chart_; }

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    void draw();
    void drawDay();

    PlanSession& session_;
    Chart *chart_ = nullptr, *dayChart_ = nullptr;
    TabWorker<HeatHistory> worker_;
    TabWorker<DayResult> dayWorker_;
};

} // namespace rw
