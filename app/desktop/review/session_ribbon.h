// The session ribbon: a block per session, passes notched into it, gaps drawn as gaps, a bracket around what the lanes
// show. Click goes there; the edges of sessions and of the chosen pass are dragged to correct them (one step of undo).
// Keys: left/right choose a pass, Enter goes to it, Home shows the whole log.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "plotting/range.h"

#include <QWidget>

#include <optional>
#include <vector>

namespace rw {

// Where sessions stand on the ribbon: blocks as wide as they last, long gaps shortened so that blocks stay legible.
// Pure; tests/desktop shows the mapping.
class RibbonScale {
public:
    RibbonScale() = default;
    // Sessions in order, in axis time; pixels from left to right. A gap is drawn at its length, but at most as a
    // twelfth of the width; blocks keep at least a few pixels.
    RibbonScale(const std::vector<Range>& sessions, Range pixels);

    [[nodiscard]] double pixelOf(double time) const { return along(time, &Knot::time, &Knot::pixel); }
    [[nodiscard]] double timeOf(double pixel) const { return along(pixel, &Knot::pixel, &Knot::time); }
    [[nodiscard]] const std::vector<Range>& blocks() const { return blocks_; } // pixels, one a session
    [[nodiscard]] std::optional<std::size_t> blockAt(double pixel) const;

private:
    struct Knot {
        double time = 0.0, pixel = 0.0;
    };
    [[nodiscard]] double along(double at, double Knot::*from, double Knot::*to) const;
    std::vector<Knot> knots_; // piecewise linear, both rising
    std::vector<Range> blocks_;
};

class SessionRibbon : public QWidget {
    Q_OBJECT
public:
    explicit SessionRibbon(ReviewDesk& review);

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {320, sizeHint().height()}; }
    [[nodiscard]] RibbonScale scale() const;

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent*) override { unsetCursor(); }
    void keyPressEvent(QKeyEvent* event) override;
    bool event(QEvent* event) override;

private:
    struct Grip { // an edge that can be dragged
        enum class Kind { SessionStart, PassStart, PassEnd } kind = Kind::SessionStart;
        std::size_t index = 0;
        double pixel = 0.0;
    };
    [[nodiscard]] std::optional<Grip> gripAt(QPointF at) const;
    [[nodiscard]] std::optional<std::size_t> passAt(QPointF at) const;
    [[nodiscard]] QRectF passRect(std::size_t pass, const RibbonScale& scale) const;
    [[nodiscard]] double blockTop() const;
    void drop(const Grip& grip, double pixel);
    void paintSession(QPainter& painter, std::size_t session, const RibbonScale& scale) const;
    void paintPass(QPainter& painter, std::size_t pass, const RibbonScale& scale) const;
    void paintSeen(QPainter& painter, const RibbonScale& scale) const;
    [[nodiscard]] QString tipAt(QPointF at) const;

    ReviewDesk& review_;
    std::optional<Grip> held_;
    double heldAt_ = 0.0; // pixel of the edge under the hand
    bool moved_ = false;
};

} // namespace rw
