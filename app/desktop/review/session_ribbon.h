// The session ribbon: a block per session, passes notched into it, gaps drawn as gaps, a bracket around what the lanes
// show. Click goes there; the edges of sessions and of the chosen pass are dragged to correct them (one step of undo).
// Keys: left/right choose a pass, Enter goes to it, Home shows the whole log.
#pragma once

#include "app/desktop/review/review_desk.h"
#include "app/desktop/review/ribbon_scale.h"

#include <QWidget>

namespace rw {

class SessionRibbon : public QWidget {
    Q_OBJECT
public:
    explicit SessionRibbon(ReviewDesk& review, QWidget* parent = nullptr);

    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;
    [[nodiscard]] RibbonScale scale() const;

protected:
    void paintEvent(QPaintEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
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
