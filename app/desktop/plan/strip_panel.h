// "The strip": the drawing from above and speed over distance under it, on one distance axis.
#pragma once

#include <QWidget>

namespace rw {

class Chart;
class PlanCursor;
class PlanSession;
class StripView;

class StripPanel : public QWidget {
    Q_OBJECT
public:
    StripPanel(PlanSession& session, PlanCursor& cursor, QWidget* parent = nullptr);
    [[nodiscard]] Chart& chart() { return *chart_; }
    void showCurves(bool curves); // speed over distance under the drawing

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    void draw();

    PlanSession& session_;
    PlanCursor& cursor_;
    StripView* strip_ = nullptr;
    Chart* chart_ = nullptr;
};

} // namespace rw
