// The strip from above, drawn to scale along its length: run-up, timed zone, coasting, braking, what is left, the
// venue's end, cones and wind. Shares its distance axis with the speed chart under it.
#pragma once

#include "app/desktop/plan/plan_outcome.h"

#include <QString>
#include <QWidget>

#include <memory>
#include <vector>

namespace rw {

class AxisLink;
class Units;
struct Look;

class StripView : public QWidget {
    Q_OBJECT
public:
    StripView(AxisLink& link, const Units& units, QWidget* parent = nullptr);
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
    struct Segment {
        double from = 0.0, to = 0.0; // m
        QString name;
        enum class Kind { RunUp, Timed, Coast, Brake, Left, Beyond } kind = Kind::RunUp;
    };
    [[nodiscard]] std::vector<Segment> segments() const;
    void paintSegment(QPainter& painter, const Look& look, const Segment& segment) const;
    void paintCones(QPainter& painter, const Look& look) const;
    void paintNotes(QPainter& painter, const Look& look) const;
    void paintWind(QPainter& painter, const Look& look) const;
    void paintCursor(QPainter& painter, const Look& look) const;
    [[nodiscard]] QString distanceText(double metres) const;

    AxisLink& link_;
    const Units& units_;
    std::shared_ptr<const PlanOutcome> outcome_;
    int left_ = 0, right_ = 0;
};

} // namespace rw
