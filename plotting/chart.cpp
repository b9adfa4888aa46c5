#include "plotting/chart.h"

#include "plotting/chart_plot.h"
#include "plotting/chart_read.h"

#include <QKeyEvent>
#include <QMouseEvent>

#include <cmath>

namespace rw {

Chart::Chart(QWidget* parent)
    : AxisView(parent)
    , plot_(std::make_unique<ChartPlot>(this)) {
    offerExport(*this, [this] { return drawing(); });
    plot_->build({}, Look::of(this));
    setLink(nullptr);
}

Chart::~Chart() = default;

void Chart::setContent(ChartContent content) {
    if (accessibleName().isEmpty() && !content.y.title.isEmpty()) {
        setAccessibleName(tr("%1 over %2").arg(content.y.title, content.x.title));
    }
    plot_->build(std::move(content), Look::of(this));
    own_.setBounds(xRangeOf(this->content()));
    showRange();
}

const ChartContent& Chart::content() const { return plot_->scene.content; }

void Chart::showRange() {
    plot_->plot().xAxis->setRange(link()->range().from, link()->range().to);
    plot_->replot();
}

void Chart::showCursor() {
    plot_->scene.cursor = link()->cursor();
    plot_->scene.anchor = link()->anchor();
    plot_->replotCursor();
}

void Chart::setMargins(int left, int right) { plot_->setMargins(left, right); }

void Chart::setTracer(std::optional<QPointF> at) {
    if (plot_->scene.tracer == at) return;
    plot_->scene.tracer = at;
    plot_->replotCursor();
}

void Chart::setReadout(std::function<QStringList(double x)> readout) {
    plot_->scene.readout = std::move(readout);
    plot_->replotCursor();
}

QStringList Chart::readoutAt(double x) const { return plot_->scene.readoutAt(x); }

QPointF Chart::pixelAt(QPointF value) const {
    const QCustomPlot& plot = plot_->plot();
    return {plot.xAxis->coordToPixel(value.x()), plot.yAxis->coordToPixel(value.y())};
}

QPointF Chart::valueAt(QPointF pixel) const {
    const QCustomPlot& plot = plot_->plot();
    return {plot.xAxis->pixelToCoord(pixel.x()), plot.yAxis->pixelToCoord(pixel.y())};
}

QRectF Chart::plotRect() const { return plot_->plot().axisRect()->rect(); }

void Chart::paintOn(QPainter& painter, const QRectF& rect) const { plot_->paint(painter, rect); }

QString Chart::drawingName() const { return content().y.title.isEmpty() ? tr("chart") : content().y.title; }

QString Chart::csv() const { return chartCsv(content()); }

void Chart::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    plot_->plot().setGeometry(rect());
}

void Chart::changeEvent(QEvent* event) {
    if (event->type() == QEvent::PaletteChange || event->type() == QEvent::FontChange) {
        plot_->restyle(Look::of(this));
        plot_->replot();
    }
    QWidget::changeEvent(event);
}

std::optional<std::pair<int, int>> Chart::pointNear(QPointF pixel) const {
    constexpr double reach = 10.0;
    std::optional<std::pair<int, int>> best;
    double nearest = reach;
    const auto& all = content().series;
    for (std::size_t s = 0; s < all.size(); ++s) {
        if (all[s].point == PointKind::None) continue;
        for (std::size_t i = 0; i < std::min(all[s].x.size(), all[s].y.size()); ++i) {
            const QPointF away = pixelAt({all[s].x[i], all[s].y[i]}) - pixel;
            const double distance = std::hypot(away.x(), away.y());
            if (distance >= nearest) continue;
            nearest = distance;
            best = {static_cast<int>(s), static_cast<int>(i)};
        }
    }
    return best;
}

void Chart::pointTo(QPointF at) {
    const auto pointed = pointNear(at);
    if (pointed != plot_->scene.pointed) {
        plot_->scene.pointed = pointed;
        plot_->replotCursor();
    }
    const bool lines = std::any_of(content().series.begin(), content().series.end(),
                                   [](const ChartSeries& s) { return s.line != LineKind::None && !s.freeForm; });
    const QRectF area = plotRect();
    if (lines && at.x() >= area.left() && at.x() <= area.right()) link()->hover(valueAt(at).x());
}

void Chart::click(QPointF at) {
    if (const auto point = pointNear(at)) emit pointClicked(point->first, point->second);
}

void Chart::mouseDoubleClickEvent(QMouseEvent* event) {
    if (const auto point = pointNear(event->position()))
        emit pointActivated(point->first, point->second);
    else
        link()->showAll();
}

void Chart::leaveEvent(QEvent* event) {
    plot_->scene.pointed.reset();
    AxisView::leaveEvent(event);
    plot_->replotCursor();
}

void Chart::keyPressEvent(QKeyEvent* event) {
    if (event->key() != Qt::Key_Escape || !link()->cursor()) return AxisView::keyPressEvent(event);
    link()->setPinned(false);
    link()->setCursor(std::nullopt);
}

void Chart::setFocused(bool focused) {
    plot_->scene.focused = focused;
    plot_->replot();
}

void Chart::focusInEvent(QFocusEvent* event) { setFocused(event->reason() != Qt::MouseFocusReason); }

void Chart::focusOutEvent(QFocusEvent*) { setFocused(false); }

} // namespace rw
