#include "plotting/lanes.h"

#include "plotting/axis_link.h"
#include "plotting/export.h"
#include "plotting/lanes_paint.h"

#include <QAccessible>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QWheelEvent>

#include <algorithm>

namespace rw {

struct LanesView::Private {
    explicit Private(LanesView* view)
        : own(view) {}
    AxisLink own;
    AxisLink* link = &own; // or a shared one
    LanesContent content;
    std::vector<Range> whole; // heights for the whole log
    std::vector<Range> seen;  // heights in force
    bool fit = false;
    bool focused = false;
    QPixmap cache; // everything but the cursors
    bool stale = true;
    AxisHand hand;

    void follow(LanesView* view);
    void fitHeights();
    [[nodiscard]] LanesPicture picture(const LanesGeometry& geometry, const Look& look, double ratio) const {
        return {content, seen, geometry, look, ratio};
    }
};

LanesView::LanesView(QWidget* parent)
    : QWidget(parent)
    , d(std::make_unique<Private>(this)) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setContextMenuPolicy(Qt::ActionsContextMenu);
    setAccessibleName(tr("Lanes of the log"));
    auto* fit = new QAction(tr("Fit heights to what is seen"), this);
    fit->setCheckable(true);
    connect(fit, &QAction::triggered, this, &LanesView::setFitToSeen);
    auto* all = new QAction(tr("Show the whole log"), this);
    connect(all, &QAction::triggered, this, [this] { d->link->showAll(); });
    addActions({all, fit});
    addActions(exportActions(this, [this] {
        return Drawing{tr("lanes"), size(), Look::light().ground,
                       [this](QPainter& painter, const QRectF& rect) { paintOn(painter, rect); },
                       [this] { return csv(); }};
    }));
    d->follow(this);
}

LanesView::~LanesView() = default;

void LanesView::Private::fitHeights() {
    const std::size_t rows = content.time != nullptr ? content.time->index.rows() : 0;
    seen = whole;
    if (!fit || rows == 0) return;
    const std::size_t first = content.time->index.lowerBound(link->range().from);
    const std::size_t last = content.time->index.lowerBound(link->range().to) + 1;
    for (std::size_t lane = 0; lane < seen.size(); ++lane)
        seen[lane] = laneRange(content.lanes[lane], first, last);
}

void LanesView::setContent(LanesContent content) {
    d->content = std::move(content);
    d->whole.clear();
    const std::size_t rows = d->content.time != nullptr ? d->content.time->index.rows() : 0;
    for (const Lane& lane : d->content.lanes)
        d->whole.push_back(laneRange(lane, 0, rows));
    if (rows > 0) d->own.setBounds({d->content.time->index[0], d->content.time->index[rows - 1]});
    d->fitHeights();
    d->stale = true;
    updateGeometry();
    update();
}

const LanesContent& LanesView::content() const { return d->content; }

void LanesView::setLink(AxisLink* link) {
    d->link->disconnect(this);
    d->link = link != nullptr ? link : &d->own;
    d->follow(this);
}

void LanesView::Private::follow(LanesView* view) {
    connect(link, &AxisLink::rangeChanged, view, [this, view] {
        fitHeights();
        stale = true;
        view->update();
    });
    connect(link, &AxisLink::cursorChanged, view, [view] {
        view->update();
        if (QAccessible::isActive()) view->setAccessibleDescription(view->spokenReadings());
        emit view->readingChanged();
    });
    if (link != &own) {
        connect(link, &QObject::destroyed, view, [this, view] {
            link = &own;
            follow(view);
        });
    }
    fitHeights();
    stale = true;
    view->update();
}

AxisLink* LanesView::link() const { return d->link; }

LanesGeometry LanesView::geometryNow() const {
    return LanesGeometry::of(size(), static_cast<int>(d->content.lanes.size()), d->link->range());
}

Range LanesView::valuesOf(int lane) const { return d->seen[static_cast<std::size_t>(lane)]; }

void LanesView::setFitToSeen(bool fit) {
    d->fit = fit;
    for (QAction* action : actions()) {
        if (action->isCheckable()) action->setChecked(fit);
    }
    d->fitHeights();
    d->stale = true;
    update();
}

std::vector<LaneReading> LanesView::readings() const {
    std::vector<LaneReading> result(d->content.lanes.size());
    const auto cursor = d->link->cursor();
    const auto anchor = d->link->anchor();
    for (std::size_t i = 0; i < result.size(); ++i) {
        const Lane& lane = d->content.lanes[i];
        result[i].value = cursor ? sampleAt(d->content, static_cast<int>(i), *cursor) : std::nan("");
        if (!cursor || !anchor || lane.column == nullptr || d->content.time == nullptr) continue;
        result[i].difference = result[i].value - sampleAt(d->content, static_cast<int>(i), *anchor);
        const TimeIndex& times = d->content.time->index;
        Extent extent = lane.column->pyramid.extent(times.lowerBound(std::min(*cursor, *anchor)),
                                                    times.lowerBound(std::max(*cursor, *anchor)) + 1);
        if (extent.empty()) continue;
        result[i].between = Extent{extent.low * lane.scale + lane.offset, extent.high * lane.scale + lane.offset};
    }
    return result;
}

QString LanesView::spokenReadings() const {
    if (!d->link->cursor()) return {};
    QStringList parts{momentText(d->content, d->link->range(), *d->link->cursor())};
    const std::vector<LaneReading> values = readings();
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Lane& lane = d->content.lanes[i];
        parts << lane.title + QLatin1Char(' ') + figure(values[i].value, lane.decimals) + QLatin1Char(' ') + lane.unit;
    }
    return parts.join(QStringLiteral(", "));
}

void LanesView::paintOn(QPainter& painter, const QRectF& rect) const {
    painter.save();
    painter.translate(rect.topLeft());
    const auto geometry = LanesGeometry::of(rect.size(), static_cast<int>(d->content.lanes.size()), d->link->range());
    LanesPicture picture = d->picture(geometry, Look::light(), 2.0);
    picture.vectors = true;
    paintLanes(painter, picture);
    paintCursors(painter, picture, {d->link->cursor(), d->link->anchor(), true, readings()});
    painter.restore();
}

QString LanesView::csv() const {
    constexpr std::size_t most = 1'000'000;
    QStringList head{tr("time [s]")};
    for (const Lane& lane : d->content.lanes) {
        head << (lane.unit.isEmpty() ? lane.title : lane.title + QStringLiteral(" [") + lane.unit + QLatin1Char(']'));
    }
    QString text = csvLine(head);
    if (d->content.time == nullptr) return text;
    const TimeIndex& times = d->content.time->index;
    const std::size_t first = times.lowerBound(d->link->range().from);
    const std::size_t last = std::min(times.rows(), first + most);
    for (std::size_t row = first; row < last && times[row] <= d->link->range().to; ++row) {
        QStringList cells{csvNumber(times[row])};
        for (const Lane& lane : d->content.lanes) {
            const bool there = lane.column != nullptr && row < lane.column->pyramid.rows();
            cells << (there ? csvNumber(lane.column->pyramid[row] * lane.scale + lane.offset) : QString());
        }
        text += csvLine(cells);
    }
    return text;
}

void LanesView::exportTo(const QString& path) const {
    exportDrawing({tr("lanes"), size(), Look::light().ground,
                   [this](QPainter& painter, const QRectF& rect) { paintOn(painter, rect); }, [this] { return csv(); }},
                  path);
}

QSize LanesView::sizeHint() const { return {800, 72 + 88 * std::max(1, static_cast<int>(d->content.lanes.size()))}; }

QSize LanesView::minimumSizeHint() const {
    return {360, 72 + 40 * std::max(1, static_cast<int>(d->content.lanes.size()))};
}

void LanesView::paintEvent(QPaintEvent*) {
    const double ratio = devicePixelRatioF();
    const Look& look = Look::of(this);
    const LanesPicture picture = d->picture(geometryNow(), look, ratio);
    const QSize pixels = (QSizeF(size()) * ratio).toSize();
    if (d->stale || d->cache.size() != pixels) {
        d->cache = QPixmap(pixels);
        d->cache.setDevicePixelRatio(ratio);
        d->cache.fill(look.ground);
        QPainter still(&d->cache);
        paintLanes(still, picture);
        d->stale = false;
    }
    QPainter painter(this);
    painter.drawPixmap(0, 0, d->cache);
    paintCursors(painter, picture, {d->link->cursor(), d->link->anchor(), d->link->pinned(), readings()});
    if (d->focused) { // where the keys go
        painter.setPen(QPen(look.accent, 2.0));
        painter.drawLine(QPointF(1.0, 4.0), QPointF(1.0, height() - 4.0));
    }
}

void LanesView::resizeEvent(QResizeEvent* event) {
    d->stale = true;
    QWidget::resizeEvent(event);
}

void LanesView::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) {
        d->stale = true;
        update();
    }
    QWidget::changeEvent(event);
}

namespace {

// A click sets the mark, the next holds the cursor, the third lets both go.
void click(AxisLink& link, double at) {
    if (!link.anchor()) {
        link.setAnchor(at);
        link.setCursor(at);
    } else if (!link.pinned()) {
        link.setCursor(at);
        link.setPinned(true);
    } else {
        link.setPinned(false);
        link.setAnchor(std::nullopt);
        link.setCursor(at);
    }
}

} // namespace

void LanesView::mouseMoveEvent(QMouseEvent* event) {
    const LanesGeometry g = geometryNow();
    const QPointF at = event->position();
    if (d->hand.drag(*event, g.timeOf(at.x()), *d->link, *this)) return;
    if (at.x() >= g.left && at.x() <= g.right) {
        d->link->hover(g.timeOf(at.x()));
    } else {
        d->link->hover(std::nullopt);
    }
}

void LanesView::mousePressEvent(QMouseEvent* event) {
    d->hand.press(*event, geometryNow().timeOf(event->position().x()));
}

void LanesView::mouseReleaseEvent(QMouseEvent* event) {
    if (!d->hand.release(*event, *this)) return;
    const LanesGeometry g = geometryNow();
    const double x = event->position().x();
    if (x >= g.left && x <= g.right) click(*d->link, g.timeOf(x));
}

void LanesView::mouseDoubleClickEvent(QMouseEvent*) {
    d->link->setPinned(false);
    d->link->setAnchor(std::nullopt);
    d->link->showAll();
}

void LanesView::wheelEvent(QWheelEvent* event) {
    const LanesGeometry g = geometryNow();
    AxisHand::wheel(*event, g.timeOf(std::clamp(event->position().x(), g.left, g.right)), *d->link);
}

void LanesView::leaveEvent(QEvent*) { d->link->hover(std::nullopt); }

void LanesView::keyPressEvent(QKeyEvent* event) {
    AxisLink& axis = *d->link;
    const LanesGeometry g = geometryNow();
    if (AxisHand::key(*event, axis.range().span() / (g.right - g.left), axis)) return;
    switch (event->key()) {
    case Qt::Key_Space:
        click(axis, axis.cursor().value_or(axis.range().middle()));
        break;
    case Qt::Key_F:
        setFitToSeen(!d->fit);
        break;
    case Qt::Key_Escape:
        axis.setPinned(false);
        axis.setAnchor(std::nullopt);
        axis.setCursor(std::nullopt);
        break;
    default:
        QWidget::keyPressEvent(event);
    }
}

void LanesView::focusInEvent(QFocusEvent* event) {
    d->focused = event->reason() == Qt::TabFocusReason || event->reason() == Qt::BacktabFocusReason;
    update();
}

void LanesView::focusOutEvent(QFocusEvent*) {
    d->focused = false;
    update();
}

} // namespace rw
