#include "plotting/chart_plot.h"

#include "plotting/chart_read.h"

#include <cmath>

namespace rw {

namespace {

constexpr auto cursorLayer = "cursor";

QVector<double> copied(const std::vector<double>& values) { return {values.begin(), values.end()}; }

QPen penOf(const QColor& color, double width, LineKind kind) {
    QPen pen(color, width, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
    if (kind == LineKind::None) pen.setStyle(Qt::NoPen);
    if (kind == LineKind::Dashed) pen.setDashPattern({5.0, 3.0});
    if (kind == LineKind::Dotted) pen.setDashPattern({1.5, 3.0});
    return pen;
}

QCPScatterStyle scatterOf(PointKind kind, const QColor& color, const QColor& ground) {
    const QPen pen(color, 1.5);
    switch (kind) {
    case PointKind::None:
        return QCPScatterStyle::ssNone;
    case PointKind::Disc:
        return {QCPScatterStyle::ssCircle, pen, color, 6.0};
    case PointKind::Ring:
        return {QCPScatterStyle::ssCircle, pen, ground, 7.0};
    case PointKind::Square:
        return {QCPScatterStyle::ssSquare, pen, ground, 7.0};
    case PointKind::Triangle:
        return {QCPScatterStyle::ssTriangle, pen, ground, 8.0};
    case PointKind::Diamond:
        return {QCPScatterStyle::ssDiamond, pen, ground, 8.0};
    case PointKind::Cross:
        return {QCPScatterStyle::ssCross, pen, Qt::NoBrush, 7.0};
    }
    return QCPScatterStyle::ssNone;
}

} // namespace

ChartPlot::ChartPlot(QWidget* parent)
    : plot_(new PlotWidget(parent)) {
    plot_->setPlottingHint(QCP::phFastPolylines, true); // a thick trace is ten times dearer without it
    plot_->setAntialiasedElements(QCP::aeAll);
    plot_->setNotAntialiasedElements(QCP::aeAxes | QCP::aeGrid);
    plot_->addLayer(QLatin1String(cursorLayer));
    plot_->layer(QLatin1String(cursorLayer))->setMode(QCPLayer::lmBuffered);

    plot_->addLayer(QStringLiteral("mask"), plot_->layer(QStringLiteral("main")), QCustomPlot::limAbove);
    plot_->addDrawn("background", [this](QCPPainter& painter) { painter_.drawRegions(painter); });
    plot_->addDrawn("mask", [this](QCPPainter& painter) { painter_.drawMask(painter); });
    plot_->addDrawn("overlay", [this](QCPPainter& painter) { painter_.drawOverlay(painter); });
    plot_->addDrawn(cursorLayer, [this](QCPPainter& painter) { painter_.drawCursor(painter); });
}

void ChartPlot::build(ChartContent content, const Look& look) {
    scene.content = std::move(content);
    scene.pointed.reset();
    restyle(look);
}

void ChartPlot::restyle(const Look& look) {
    scene.look = look;
    plot_->clearPlottables();
    for (const ChartBand& band : scene.content.bands)
        addBand(band);
    for (const ChartSeries& series : scene.content.series)
        addSeries(series);
    styleAxes();
    layOut();
    const Range y = yRangeOf(scene.content);
    plot_->yAxis->setRange(y.from, y.to);
}

void ChartPlot::addBand(const ChartBand& band) {
    QColor fill = scene.color(band.hue);
    fill.setAlphaF(0.16F);
    QCPGraph* low = plot_->addGraph();
    QCPGraph* high = plot_->addGraph();
    low->setData(copied(band.x), copied(band.low), true);
    high->setData(copied(band.x), copied(band.high), true);
    for (QCPGraph* edge : {low, high})
        edge->setPen(Qt::NoPen);
    high->setBrush(fill);
    high->setChannelFillGraph(low);
}

void ChartPlot::addSeries(const ChartSeries& series) {
    const QColor color = scene.color(series);
    const QPen pen = penOf(color, series.width, series.line);
    const QCPScatterStyle scatter = scatterOf(series.point, color, scene.look.ground);
    QCPAbstractPlottable* made = nullptr;
    if (series.freeForm) {
        auto* curve = new QCPCurve(plot_->xAxis, plot_->yAxis);
        curve->setData(copied(series.x), copied(series.y));
        curve->setLineStyle(series.line == LineKind::None ? QCPCurve::lsNone : QCPCurve::lsLine);
        curve->setScatterStyle(scatter);
        made = curve;
    } else {
        QCPGraph* graph = plot_->addGraph();
        graph->setData(copied(series.x), copied(series.y), true);
        graph->setLineStyle(series.line == LineKind::None ? QCPGraph::lsNone : QCPGraph::lsLine);
        graph->setScatterStyle(scatter);
        graph->setAdaptiveSampling(series.point == PointKind::None);
        made = graph;
    }
    made->setPen(pen);
    if (!series.uncertainty.empty()) {
        auto* bars = new QCPErrorBars(plot_->xAxis, plot_->yAxis);
        bars->setData(copied(series.uncertainty));
        bars->setDataPlottable(made);
        bars->setPen(QPen(color, 1.0));
        bars->setWhiskerWidth(6.0);
    }
}

void ChartPlot::styleAxes() {
    plot_->setBackground(scene.look.ground);
    const bool blank = scene.content.series.empty() && !scene.content.empty.isEmpty();
    for (QCPAxis* axis : {plot_->xAxis, plot_->yAxis}) {
        const bool horizontal = axis == plot_->xAxis;
        axis->setVisible(!blank);
        axis->setTicker(QSharedPointer<QCPAxisTicker>(
            new RoundTicker(axis, horizontal ? 72.0 : 32.0, horizontal ? scene.content.x.kind : scene.content.y.kind)));
        axis->setTickPen(Qt::NoPen);
        axis->setSubTicks(false);
        axis->setBasePen(horizontal ? QPen(scene.look.rule, 1.0) : QPen(Qt::NoPen));
        axis->setTickLabelFont(font(Type::Small));
        axis->setTickLabelColor(scene.look.soft);
        axis->setTickLabelPadding(horizontal ? 6 : 8);
        axis->grid()->setVisible(!horizontal && !blank);
        axis->grid()->setPen(QPen(scene.look.rule, 1.0));
        axis->grid()->setZeroLinePen(QPen(scene.look.rule, 1.0));
    }
}

void ChartPlot::layOut() {
    const QFontMetricsF small(font(Type::Small));
    QCPAxisRect* area = plot_->axisRect();
    // Vertical margins are fixed: charts beside each other line up.
    const int top = scene.content.y.title.isEmpty() ? gridStep : static_cast<int>(small.height()) + gridStep + 11;
    const int title = scene.content.x.title.isEmpty() ? 0 : static_cast<int>(small.height()) + 2;
    const int bottom = static_cast<int>(small.height()) + gridStep + title + 2;
    const int right = rightMargin_ > 0 ? rightMargin_ : 2 * gridStep;
    area->setAutoMargins(leftMargin_ > 0 ? QCP::msNone : QCP::msLeft);
    area->setMargins(QMargins(leftMargin_, top, right, bottom));
    area->setMinimumMargins(QMargins(3 * gridStep, top, right, bottom));
}

void ChartPlot::setMargins(int left, int right) {
    leftMargin_ = left;
    rightMargin_ = right;
    layOut();
    replot();
}

void ChartPlot::replotCursor() {
    if (QCPLayer* layer = plot_->layer(QLatin1String(cursorLayer))) layer->replot();
}

void ChartPlot::paint(QPainter& painter, const QRectF& rect) {
    const Look before = scene.look;
    scene.printing = true;
    restyle(Look::light());
    plot_->drawVectors(painter, rect);
    scene.printing = false;
    restyle(before);
    replot();
}

} // namespace rw
