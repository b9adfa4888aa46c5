#include "plotting/chart.h"

#include "plotting/axis_link.h"
#include "plotting/chart_plot.h"
#include "plotting/chart_read.h"
#include "plotting/export.h"

#include <QContextMenuEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QWheelEvent>

#include <cmath>

namespace rw {

struct Chart::Private {
    explicit Private(Chart* chart)
        : plot(chart)
        , own(chart) {}
    ChartPlot plot;
    AxisLink own;
    AxisLink* link = &own; // or a shared one
    AxisHand hand;

    void follow(Chart* chart);
    [[nodiscard]] std::optional<std::pair<int, int>> pointNear(QPointF pixel) const;
};

namespace {

QPointF pixelOf(const QCustomPlot& plot, double x, double y) {
    return {plot.xAxis->coordToPixel(x), plot.yAxis->coordToPixel(y)};
}

} // namespace

std::optional<std::pair<int, int>> Chart::Private::pointNear(QPointF pixel) const {
    constexpr double reach = 10.0;
    std::optional<std::pair<int, int>> best;
    double nearest = reach;
    const auto& all = plot.scene.content.series;
    for (std::size_t s = 0; s < all.size(); ++s) {
        if (all[s].point == PointKind::None) continue;
        for (std::size_t i = 0; i < std::min(all[s].x.size(), all[s].y.size()); ++i) {
            const QPointF at = pixelOf(plot.plot(), all[s].x[i], all[s].y[i]);
            const double distance = std::hypot(at.x() - pixel.x(), at.y() - pixel.y());
            if (distance < nearest) {
                nearest = distance;
                best = {static_cast<int>(s), static_cast<int>(i)};
            }
        }
    }
    return best;
}

Chart::Chart(QWidget* parent)
    : QWidget(parent)
    , d(std::make_unique<Private>(this)) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setContextMenuPolicy(Qt::ActionsContextMenu);
    addActions(exportActions(this, [this] {
        const QString name = content().y.title.isEmpty() ? tr("chart") : content().y.title;
        return Drawing{name, size(), Look::light().ground,
                       [this](QPainter& painter, const QRectF& rect) { paintOn(painter, rect); },
                       [this] { return csv(); }};
    }));
    d->plot.build({}, Look::of(this));
    d->follow(this);
}

Chart::~Chart() = default;

void Chart::setContent(ChartContent content) {
    if (accessibleName().isEmpty() && !content.y.title.isEmpty()) {
        setAccessibleName(tr("%1 over %2").arg(content.y.title, content.x.title));
    }
    d->plot.build(std::move(content), Look::of(this));
    d->own.setBounds(xRangeOf(this->content()));
    d->plot.plot().xAxis->setRange(d->link->range().from, d->link->range().to);
    d->plot.replot();
}

const ChartContent& Chart::content() const { return d->plot.scene.content; }

void Chart::setLink(AxisLink* link) {
    d->link->disconnect(this);
    d->link = link != nullptr ? link : &d->own;
    d->follow(this);
}

void Chart::Private::follow(Chart* chart) {
    const auto showRange = [this] {
        plot.plot().xAxis->setRange(link->range().from, link->range().to);
        plot.replot();
    };
    const auto showCursor = [this, chart] {
        plot.scene.cursor = link->cursor();
        plot.scene.anchor = link->anchor();
        plot.replotCursor();
        emit chart->readingChanged();
    };
    connect(link, &AxisLink::rangeChanged, chart, showRange);
    connect(link, &AxisLink::cursorChanged, chart, showCursor);
    if (link != &own) {
        connect(link, &QObject::destroyed, chart, [this, chart] {
            link = &own;
            follow(chart);
        });
    }
    showRange();
    showCursor();
}

AxisLink* Chart::link() const { return d->link; }

void Chart::setMargins(int left, int right) { d->plot.setMargins(left, right); }

void Chart::setTracer(std::optional<QPointF> at) {
    if (d->plot.scene.tracer == at) return;
    d->plot.scene.tracer = at;
    d->plot.replotCursor();
}

void Chart::setReadout(std::function<QStringList(double x)> readout) {
    d->plot.scene.readout = std::move(readout);
    d->plot.replotCursor();
}

QStringList Chart::readoutAt(double x) const { return d->plot.scene.readoutAt(x); }

QPointF Chart::pixelAt(QPointF value) const { return pixelOf(d->plot.plot(), value.x(), value.y()); }

QPointF Chart::valueAt(QPointF pixel) const {
    const QCustomPlot& plot = d->plot.plot();
    return {plot.xAxis->pixelToCoord(pixel.x()), plot.yAxis->pixelToCoord(pixel.y())};
}

QRectF Chart::plotRect() const { return d->plot.plot().axisRect()->rect(); }

void Chart::paintOn(QPainter& painter, const QRectF& rect) const { d->plot.paint(painter, rect); }

QPixmap Chart::picture(QSize size, double scale) const {
    return drawingPixmap({{}, size, Look::light().ground, [this](QPainter& p, const QRectF& r) { paintOn(p, r); }, {}},
                         scale);
}

QString Chart::csv() const { return chartCsv(content()); }

void Chart::exportTo(const QString& path) const {
    exportDrawing({content().y.title, size(), Look::light().ground,
                   [this](QPainter& painter, const QRectF& rect) { paintOn(painter, rect); }, [this] { return csv(); }},
                  path);
}

void Chart::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    d->plot.plot().setGeometry(rect());
}

void Chart::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) {
        d->plot.restyle(Look::of(this));
        d->plot.replot();
    }
    QWidget::changeEvent(event);
}

void Chart::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (d->hand.drag(*event, valueAt(at).x(), *d->link, *this)) return;
    const auto pointed = d->pointNear(at);
    if (pointed != d->plot.scene.pointed) {
        d->plot.scene.pointed = pointed;
        d->plot.replotCursor();
    }
    const bool lines = std::any_of(content().series.begin(), content().series.end(),
                                   [](const ChartSeries& s) { return s.line != LineKind::None && !s.freeForm; });
    const QRectF area = plotRect();
    if (lines && at.x() >= area.left() && at.x() <= area.right()) d->link->hover(valueAt(at).x());
}

void Chart::mousePressEvent(QMouseEvent* event) { d->hand.press(*event, valueAt(event->position()).x()); }

void Chart::mouseReleaseEvent(QMouseEvent* event) {
    if (!d->hand.release(*event, *this)) return;
    if (const auto point = d->pointNear(event->position())) emit pointClicked(point->first, point->second);
}

void Chart::mouseDoubleClickEvent(QMouseEvent* event) {
    if (const auto point = d->pointNear(event->position()))
        emit pointActivated(point->first, point->second);
    else
        d->link->showAll();
}

void Chart::wheelEvent(QWheelEvent* event) { AxisHand::wheel(*event, valueAt(event->position()).x(), *d->link); }

void Chart::leaveEvent(QEvent*) {
    d->plot.scene.pointed.reset();
    d->link->hover(std::nullopt);
    d->plot.replotCursor();
}

void Chart::keyPressEvent(QKeyEvent* event) {
    AxisLink& axis = *d->link;
    if (AxisHand::key(*event, axis.range().span() / std::max(1.0, plotRect().width()), axis)) return;
    if (event->key() == Qt::Key_Escape && axis.cursor()) {
        axis.setPinned(false);
        axis.setCursor(std::nullopt);
    } else {
        QWidget::keyPressEvent(event);
    }
}

void Chart::focusInEvent(QFocusEvent* event) {
    d->plot.scene.focused = event->reason() != Qt::MouseFocusReason;
    d->plot.replot();
}

void Chart::focusOutEvent(QFocusEvent*) {
    d->plot.scene.focused = false;
    d->plot.replot();
}

} // namespace rw
