#include "plotting/map_chart.h"

#include "plotting/chart_items.h"
#include "plotting/map_item.h"
#include "plotting/plot_widget.h"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QToolTip>

#include <algorithm>
#include <cmath>
#include <utility>

namespace rw {

namespace {

// 100, 200, 300, 500, 1000, …: a logarithmic axis drawn as a linear one of the logarithm.
class LogTicker : public QCPAxisTicker {
    void generate(const QCPRange& range, const QLocale&, QChar, int, QVector<double>& ticks, QVector<double>*,
                  QVector<QString>* labels) override {
        ticks.clear();
        if (labels != nullptr) labels->clear();
        for (int decade = static_cast<int>(std::floor(range.lower)); decade <= range.upper; ++decade)
            for (const double part : {1.0, 2.0, 3.0, 5.0}) {
                const double value = part * std::pow(10.0, decade);
                if (logOf(value) < range.lower || logOf(value) > range.upper) continue;
                ticks.push_back(logOf(value));
                if (labels != nullptr) labels->push_back(figure(value, value < 1.0 ? 1 : 0));
            }
    }
};

} // namespace

struct MapChart::Private : MapScene {
    explicit Private(QWidget* chart)
        : plot(new PlotWidget(chart)) {
        look = Look::of(chart);
        plot->addDrawn("background", [this](QCPPainter& by) { painter.drawUnder(by); });
        plot->addDrawn("overlay", [this](QCPPainter& by) { painter.drawOver(by); });
    }
    PlotWidget* plot;
    MapPainter painter{*plot, *this};
    std::function<QString(int, int)> readout;

    [[nodiscard]] std::optional<std::pair<int, int>> placeAt(QPointF at) const {
        if (content.xs.empty() || !plot->axisRect()->rect().contains(at.toPoint())) return std::nullopt;
        const auto [x, y] = painter.nearest(at);
        return std::pair(static_cast<int>(x), static_cast<int>(y));
    }
    void build();
    void styleAxes();
    void paint(QPainter& device, const QRectF& rect);
};

void MapChart::Private::styleAxes() {
    plot->setBackground(look.ground);
    const bool blank = content.xs.empty();
    for (QCPAxis* axis : {plot->xAxis, plot->yAxis}) {
        axis->setVisible(!blank);
        axis->setTickPen(Qt::NoPen);
        axis->setSubTicks(false);
        axis->setBasePen(QPen(look.rule, 1.0));
        axis->setTickLabelFont(rw::font(Type::Small));
        axis->setTickLabelColor(look.soft);
        axis->grid()->setVisible(false);
    }
    plot->xAxis->setTicker(QSharedPointer<QCPAxisTicker>(new RoundTicker(plot->xAxis, 56.0, ChartAxis::Kind::Number)));
    plot->yAxis->setTicker(QSharedPointer<QCPAxisTicker>(new LogTicker));
    if (blank) return;
    plot->xAxis->setRange(content.xs.front(), content.xs.back());
    plot->yAxis->setRange(logOf(content.ys.front()), logOf(content.ys.back()));
}

void MapChart::Private::build() {
    styleAxes();
    const auto line = static_cast<int>(QFontMetricsF(rw::font(Type::Small)).height());
    plot->axisRect()->setAutoMargins(QCP::msLeft);
    plot->axisRect()->setMinimumMargins(QMargins(3 * gridStep, line + 11, 2 * gridStep, 2 * line + 14));
    plot->axisRect()->setMargins(QMargins(0, line + 11, 2 * gridStep, 2 * line + 14));
    plot->replot(QCustomPlot::rpQueuedReplot);
}

// Vectors, in the light look, with neither pointer nor chosen place.
void MapChart::Private::paint(QPainter& device, const QRectF& rect) {
    const Look before = look;
    const auto place = std::exchange(chosen, std::nullopt);
    look = Look::light();
    styleAxes();
    plot->drawVectors(device, rect);
    look = before;
    chosen = place;
    styleAxes();
    plot->replot(QCustomPlot::rpQueuedReplot);
}

MapChart::MapChart(QWidget* parent)
    : QWidget(parent)
    , d(std::make_unique<Private>(this)) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    offerExport(*this, [this] { return drawing(); });
    d->build();
}

MapChart::~MapChart() = default;

Drawing MapChart::drawing() {
    return Drawing{QStringLiteral("map"), size(), Look::light().ground,
                   [this](QPainter& painter, const QRectF& rect) { d->paint(painter, rect); },
                   [this] {
                       QString out = csvLine({d->content.x.title, d->content.y.title, tr("value")});
                       for (std::size_t i = 0; i < d->content.xs.size(); ++i)
                           for (std::size_t j = 0; j < d->content.ys.size(); ++j)
                               out += csvLine({csvNumber(d->content.xs[i]), csvNumber(d->content.ys[j]),
                                               csvNumber(d->content.z[i][j])});
                       return out;
                   }};
}

void MapChart::setContent(MapContent content) {
    d->content = std::move(content);
    const auto out = [&](const std::pair<int, int>& place) {
        return place.first >= static_cast<int>(d->content.xs.size()) ||
               place.second >= static_cast<int>(d->content.ys.size());
    };
    if (d->chosen && out(*d->chosen)) d->chosen.reset();
    d->build();
}

const MapContent& MapChart::content() const { return d->content; }

void MapChart::setReadout(std::function<QString(int, int)> readout) { d->readout = std::move(readout); }

void MapChart::setChosen(std::optional<std::pair<int, int>> place) {
    d->chosen = place;
    d->plot->replot(QCustomPlot::rpQueuedReplot);
}

QPointF MapChart::pixelAt(double x, double y) const { return d->painter.pixel(x, y); }

void MapChart::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    d->plot->setGeometry(rect());
}

void MapChart::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() != QEvent::PaletteChange && event->type() != QEvent::FontChange) return;
    d->look = Look::of(this);
    d->build();
}

void MapChart::mouseMoveEvent(QMouseEvent* event) {
    const auto place = d->placeAt(event->position());
    if (place && d->readout)
        QToolTip::showText(event->globalPosition().toPoint() + QPoint(12, 12), d->readout(place->first, place->second),
                           this);
    else
        QToolTip::hideText();
}

void MapChart::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) return;
    if (const auto place = d->placeAt(event->position())) emit placeClicked(place->first, place->second);
}

void MapChart::leaveEvent(QEvent* event) {
    QWidget::leaveEvent(event);
    QToolTip::hideText();
}

void MapChart::keyPressEvent(QKeyEvent* event) {
    const int columns = static_cast<int>(d->content.xs.size()), rows = static_cast<int>(d->content.ys.size());
    if (columns == 0) return QWidget::keyPressEvent(event);
    auto [x, y] = d->chosen.value_or(std::pair(columns / 2, rows / 2));
    switch (event->key()) {
    case Qt::Key_Left:
        --x;
        break;
    case Qt::Key_Right:
        ++x;
        break;
    case Qt::Key_Up:
        ++y;
        break;
    case Qt::Key_Down:
        --y;
        break;
    case Qt::Key_Return:
    case Qt::Key_Enter:
        break;
    default:
        return QWidget::keyPressEvent(event);
    }
    emit placeClicked(std::clamp(x, 0, columns - 1), std::clamp(y, 0, rows - 1));
}

} // namespace rw
