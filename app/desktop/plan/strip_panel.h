// "The strip": the drawing from above and speed over distance under it, on one distance axis.
#pragma once

#include "core/plan/plan_curves.h"

#include <QString>
#include <QWidget>

#include <memory>

namespace rw {

class AxisLink;
class Chart;
class PlanCursor;
class PlanSession;
class Units;
struct Look;

// The strip from above, drawn to scale along its length: run-up, timed zone, coasting, braking, what is left, the
// venue's end, cones and wind. Shares its distance axis with the speed chart under it.
class StripView : public QWidget {
    Q_OBJECT
public:
    StripView(AxisLink& link, const Units& units);
    void setOutcome(std::shared_ptr<const PlanOutcome> outcome);
    // Where the speed chart's plot begins and ends, so that both line up.
    void setMargins(int left, int right);
    [[nodiscard]] QString description() const; // in words, for who cannot see it
    [[nodiscard]] double pixelAt(double metres) const;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {40 * 8, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void paintSegment(QPainter& painter, const Look& look, const StripSegment& segment) const;
    void paintCones(QPainter& painter, const Look& look) const;
    double paintNotes(QPainter& painter, const Look& look) const; // where its words begin
    void paintWind(QPainter& painter, const Look& look, double room) const;
    void paintCursor(QPainter& painter, const Look& look) const;
    [[nodiscard]] QString distanceText(double metres) const;

    AxisLink& link_;
    const Units& units_;
    std::shared_ptr<const PlanOutcome> outcome_;
    int left_ = 0, right_ = 0;
};

class StripPanel : public QWidget {
    Q_OBJECT
public:
    StripPanel(PlanSession& session, PlanCursor& cursor);
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
