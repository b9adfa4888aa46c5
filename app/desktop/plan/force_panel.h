// "Where the forces meet": what this gearing and its neighbours push over speed, what resists, what traction carries.
#pragma once

#include <QWidget>

namespace rw {

class Chart;
class PlanCursor;
class PlanSession;

class ForcePanel : public QWidget {
    Q_OBJECT
public:
    ForcePanel(PlanSession& session, PlanCursor& cursor, QWidget* parent = nullptr);
    [[nodiscard]] Chart& chart() { return *chart_; }

private:
    void draw();
    void trace();

    PlanSession& session_;
    PlanCursor& cursor_;
    Chart* chart_ = nullptr;
};

} // namespace rw
