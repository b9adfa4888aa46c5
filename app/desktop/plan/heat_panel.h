// Heat over the session: passes and waits against what each part stands.
#pragma once

#include "app/desktop/plan/tab_worker.h"
#include "core/plan/heat_history.h"

#include <QWidget>

namespace rw {

class Chart;

class HeatPanel : public QWidget {
    Q_OBJECT
public:
    explicit HeatPanel(PlanSession& session, QWidget* parent = nullptr);
    [[nodiscard]] bool busy() const { return worker_.busy(); }
    [[nodiscard]] Chart& chart() { return *chart_; }

protected:
    void showEvent(QShowEvent* event) override;
    void hideEvent(QHideEvent* event) override;

private:
    void draw();

    PlanSession& session_;
    Chart* chart_ = nullptr;
    TabWorker<HeatHistory> worker_;
};

} // namespace rw
