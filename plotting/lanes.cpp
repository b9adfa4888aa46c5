#include "plotting/lanes.h"

#include "plotting/lanes_paint.h"

#include <QAccessible>
#include <QAction>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>

namespace rw {

LanesView::LanesView(QWidget* parent)
    : AxisView(parent) {
    setAccessibleName(tr("Lanes of the log"));
    connect(addAction(tr("Show the whole log")), &QAction::triggered, this, [this] { link()->showAll(); });
    QAction* fit = addAction(tr("Fit heights to what is seen"));
    fit->setCheckable(true);
    connect(fit, &QAction::triggered, this, &LanesView::setFitToSeen);
    offerExport(*this, [this] { return drawing(); });
    setLink(nullptr);
}

// What is seen of the content, or how high, is another.
void LanesView::drawAnew() {
    seen_ = whole_;
    if (fit_ && rows() > 0) {
        const std::size_t first = content_.time->index.lowerBound(link()->range().from);
        const std::size_t last = content_.time->index.lowerBound(link()->range().to) + 1;
        for (std::size_t lane = 0; lane < seen_.size(); ++lane)
            seen_[lane] = laneRange(content_.lanes[lane], first, last);
    }
    stale_ = true;
    update();
}

void LanesView::setContent(LanesContent content) {
    content_ = std::move(content);
    whole_.clear();
    for (const Lane& lane : content_.lanes)
        whole_.push_back(laneRange(lane, 0, rows()));
    if (rows() > 0) own_.setBounds({content_.time->index[0], content_.time->index[rows() - 1]});
    updateGeometry();
    drawAnew();
}

void LanesView::showRange() { drawAnew(); }

void LanesView::showCursor() {
    update();
    if (QAccessible::isActive()) setAccessibleDescription(spokenReadings());
}

LanesGeometry LanesView::geometryOf(QSizeF size) const {
    return LanesGeometry::of(size, static_cast<int>(content_.lanes.size()), link()->range());
}

LanesPicture LanesView::pictureOf(QSizeF size, const Look& look, double ratio) const {
    return {content_, seen_, geometryOf(size), look, ratio};
}

void LanesView::setFitToSeen(bool fit) {
    fit_ = fit;
    for (QAction* action : actions()) {
        if (action->isCheckable()) action->setChecked(fit);
    }
    drawAnew();
}

std::vector<LaneReading> LanesView::readings() const {
    std::vector<LaneReading> result(content_.lanes.size());
    const auto cursor = link()->cursor();
    const auto anchor = link()->anchor();
    for (std::size_t i = 0; i < result.size(); ++i) {
        const Lane& lane = content_.lanes[i];
        result[i].value = cursor ? sampleAt(content_, static_cast<int>(i), *cursor) : std::nan("");
        if (!cursor || !anchor || lane.column == nullptr || content_.time == nullptr) continue;
        result[i].difference = result[i].value - sampleAt(content_, static_cast<int>(i), *anchor);
        const TimeIndex& times = content_.time->index;
        Extent extent = lane.column->pyramid.extent(times.lowerBound(std::min(*cursor, *anchor)),
                                                    times.lowerBound(std::max(*cursor, *anchor)) + 1);
        if (extent.empty()) continue;
        result[i].between = Extent{extent.low * lane.scale + lane.offset, extent.high * lane.scale + lane.offset};
    }
    return result;
}

QString LanesView::spokenReadings() const {
    if (!link()->cursor()) return {};
    QStringList parts{momentText(content_, link()->range(), *link()->cursor())};
    const std::vector<LaneReading> values = readings();
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Lane& lane = content_.lanes[i];
        parts << lane.title + QLatin1Char(' ') + figure(values[i].value, lane.decimals) + QLatin1Char(' ') + lane.unit;
    }
    return parts.join(QStringLiteral(", "));
}

void LanesView::paintOn(QPainter& painter, const QRectF& rect) const {
    painter.save();
    painter.translate(rect.topLeft());
    LanesPicture picture = pictureOf(rect.size(), Look::light(), 2.0);
    picture.vectors = true;
    paintLanes(painter, picture);
    paintCursors(painter, picture, {link()->cursor(), link()->anchor(), readings()});
    painter.restore();
}

QString LanesView::csv() const {
    constexpr std::size_t most = 1'000'000;
    QStringList head{tr("time [s]")};
    for (const Lane& lane : content_.lanes) {
        head << (lane.unit.isEmpty() ? lane.title : lane.title + QStringLiteral(" [") + lane.unit + QLatin1Char(']'));
    }
    QString text = csvLine(head);
    if (content_.time == nullptr) return text;
    const TimeIndex& times = content_.time->index;
    const std::size_t first = times.lowerBound(link()->range().from);
    const std::size_t last = std::min(times.rows(), first + most);
    for (std::size_t row = first; row < last && times[row] <= link()->range().to; ++row) {
        QStringList cells{csvNumber(times[row])};
        for (const Lane& lane : content_.lanes) {
            const bool there = lane.column != nullptr && row < lane.column->pyramid.rows();
            cells << (there ? csvNumber(lane.column->pyramid[row] * lane.scale + lane.offset) : QString());
        }
        text += csvLine(cells);
    }
    return text;
}

void LanesView::paintEvent(QPaintEvent*) {
    const double ratio = devicePixelRatioF();
    const Look& look = Look::of(this);
    const LanesPicture picture = pictureOf(size(), look, ratio);
    const QSize pixels = (QSizeF(size()) * ratio).toSize();
    if (stale_ || cache_.size() != pixels) {
        cache_ = QPixmap(pixels);
        cache_.setDevicePixelRatio(ratio);
        cache_.fill(look.ground);
        QPainter still(&cache_);
        paintLanes(still, picture);
        stale_ = false;
    }
    QPainter painter(this);
    painter.drawPixmap(0, 0, cache_);
    paintCursors(painter, picture, {link()->cursor(), link()->anchor(), readings()});
    if (focused_) { // where the keys go
        strokeLine(painter, QPen(look.accent, 2.0), QPointF(1.0, 4.0), QPointF(1.0, height() - 4.0));
    }
}

void LanesView::resizeEvent(QResizeEvent* event) {
    stale_ = true;
    QWidget::resizeEvent(event);
}

void LanesView::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) drawAnew();
    QWidget::changeEvent(event);
}

// The first sets the mark, the next holds the cursor, the third lets both go.
void LanesView::holdAt(double t) {
    AxisLink& axis = *link();
    if (!axis.anchor()) {
        axis.setAnchor(t);
        axis.setCursor(t);
    } else if (!axis.pinned()) {
        axis.setCursor(t);
        axis.setPinned(true);
    } else {
        axis.setPinned(false);
        axis.setAnchor(std::nullopt);
        axis.setCursor(t);
    }
}

void LanesView::pointTo(QPointF at) {
    const LanesGeometry g = geometryNow();
    link()->hover(at.x() >= g.left && at.x() <= g.right ? std::optional(g.timeOf(at.x())) : std::nullopt);
}

void LanesView::click(QPointF at) {
    const LanesGeometry g = geometryNow();
    if (at.x() >= g.left && at.x() <= g.right) holdAt(g.timeOf(at.x()));
}

void LanesView::mouseDoubleClickEvent(QMouseEvent*) {
    link()->setPinned(false);
    link()->setAnchor(std::nullopt);
    link()->showAll();
}

void LanesView::keyPressEvent(QKeyEvent* event) {
    AxisLink& axis = *link();
    switch (event->key()) {
    case Qt::Key_Space:
        return holdAt(axis.cursor().value_or(axis.range().middle()));
    case Qt::Key_F:
        return setFitToSeen(!fit_);
    case Qt::Key_Escape:
        axis.setPinned(false);
        axis.setAnchor(std::nullopt);
        return axis.setCursor(std::nullopt);
    default:
        AxisView::keyPressEvent(event);
    }
}

void LanesView::setFocused(bool focused) {
    focused_ = focused;
    update();
}

void LanesView::focusInEvent(QFocusEvent* event) {
    setFocused(event->reason() == Qt::TabFocusReason || event->reason() == Qt::BacktabFocusReason);
}

void LanesView::focusOutEvent(QFocusEvent*) { setFocused(false); }

} // namespace rw
