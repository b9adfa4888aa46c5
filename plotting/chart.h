// A chart of lines, bands and points over one horizontal axis: speed over distance, force over speed, histories.
// Values in: the caller fills a ChartContent in display units and hands it over; the widget draws and lets people read.
//
//   auto* chart = new rw::Chart(parent);
//   rw::ChartContent content;
//   content.x = {.title = "distance", .unit = "m", .decimals = 0};
//   content.y = {.title = "speed", .unit = "km/h", .decimals = 1, .fromZero = true};
//   content.series.push_back({.name = "26/44", .x = distance, .y = speed, .hue = rw::Hue::Speed});
//   content.regions.push_back({.from = 120, .to = 150, .label = "timed"});
//   chart->setContent(content);
//   chart->setLink(&distanceLink);          // several charts, one link: they zoom, pan and read together
//
// Pointer: move reads; wheel zooms; drag pans; double click shows all; on a point: pointClicked, twice: pointActivated.
// Keys: left/right move the cursor, shift pans, plus/minus zoom, Home shows all, Escape drops the cursor.
// The context menu (and actions()) copy the picture, copy the numbers, and export PNG, SVG, PDF or CSV.
#pragma once

#include "plotting/axis_view.h"
#include "plotting/look.h"

#include <QPointF>
#include <QString>

#include <functional>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

namespace rw {

struct ChartAxis {
    enum class Kind { Number, Date }; // Date: seconds since 1970-01-01 UTC, shown in local time
    QString title{};
    QString unit{};   // shown with the title, never with each number
    int decimals = 1; // in readouts
    bool fromZero = false;
    std::optional<Range> range{}; // fixed; else fitted to what is shown
    Kind kind = Kind::Number;
};

enum class LineKind { None, Solid, Dashed, Dotted };
enum class PointKind { None, Disc, Ring, Square, Triangle, Diamond, Cross };

struct ChartSeries {
    QString name{};                 // direct label and readout; empty: neither
    std::vector<double> x{}, y{};   // of one length; NaN breaks the line; x ascending unless freeForm
    std::variant<Hue, int> hue = 0; // by quantity, or Look::series index
    bool muted = false;             // drawn in the soft ink: references, neighbours
    LineKind line = LineKind::Solid;
    PointKind point = PointKind::None;
    double width = 1.75;               // logical pixels
    bool freeForm = false;             // x may turn back (parametric curves, scatter)
    bool nameIfRoom = false;           // its direct label is left out where it would cover something
    std::optional<double> labelAt{};   // x of the direct label; else the right-most place with room
    std::vector<double> uncertainty{}; // one a point: drawn as bars of ± this
    std::vector<QString> notes{};      // one a point: shown when the pointer is on it

    void add(double atX, double atY, const QString& note) {
        x.push_back(atX);
        y.push_back(atY);
        notes.push_back(note);
    }
};

struct ChartBand { // between two lines, e.g. a 90 % interval
    QString name{};
    std::vector<double> x{}, low{}, high{};
    std::variant<Hue, int> hue = 0;
};

struct ChartRegion { // a stretch of the horizontal axis, through the whole height
    enum class Kind { Wash, Warn, Hatch };
    double from = 0.0, to = 0.0;
    QString label{};
    Kind kind = Kind::Wash;
};

struct ChartLimit { // a horizontal line that something should stay under or over
    double value = 0.0;
    QString label{};
    bool broken = false; // drawn stronger; say it in the label too
};

struct ChartMarker { // a ring at a place, e.g. where two curves cross
    double x = 0.0, y = 0.0;
    QString label{};
};

struct ChartContent {
    ChartAxis x{}, y{};
    std::vector<ChartBand> bands{};
    std::vector<ChartRegion> regions{};
    std::vector<ChartSeries> series{};
    std::vector<ChartLimit> limits{};
    std::vector<ChartMarker> markers{};
    QString empty{}; // what to say instead, where there is nothing to draw ("Choose a vehicle to see its passes.")
};

class ChartPlot;

class Chart : public AxisView {
    Q_OBJECT
public:
    explicit Chart(QWidget* parent = nullptr);
    ~Chart() override;

    void setContent(ChartContent content);
    [[nodiscard]] const ChartContent& content() const;

    // Where the plot's inside begins and ends, so that charts under each other line up; 0: as the numbers need.
    void setMargins(int left, int right);

    // A ring that moves with a cursor of another chart; cheap.
    void setTracer(std::optional<QPointF> at);

    // Lines of text for the cursor at x; default: x, and each named series' value there.
    void setReadout(std::function<QStringList(double x)> readout);
    [[nodiscard]] QStringList readoutAt(double x) const;

    // Pixel (widget coordinates) ↔ axis values.
    [[nodiscard]] QPointF pixelAt(QPointF value) const;
    [[nodiscard]] QPointF valueAt(QPointF pixel) const;
    [[nodiscard]] QRectF plotRect() const;

    void paintOn(QPainter& painter, const QRectF& rect) const override; // without cursor

    [[nodiscard]] QSize sizeHint() const override { return {480, 240}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {200, 120}; }

signals:
    void pointClicked(int series, int index);
    void pointActivated(int series, int index); // double click

protected:
    [[nodiscard]] QString drawingName() const override;
    [[nodiscard]] QString csv() const override; // RFC 4180; one x column where all series share it, else a pair each
    [[nodiscard]] double valueAtX(double pixel) const override { return valueAt({pixel, 0.0}).x(); }
    void showRange() override;
    void showCursor() override;
    void pointTo(QPointF at) override;
    void click(QPointF at) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    [[nodiscard]] std::optional<std::pair<int, int>> pointNear(QPointF pixel) const;
    void setFocused(bool focused);
    std::unique_ptr<ChartPlot> plot_;
};

} // namespace rw
