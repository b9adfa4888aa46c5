// Lanes: one quantity a lane over a shared time axis, as many rows as there are. What a frame costs depends on pixels.
// Columns are shared and const, so the widget never copies samples; build them off the interface thread.
//
//   auto time = std::make_shared<const rw::LaneTime>(log, log->time);          // owner kept alive, span not copied
//   auto volts = std::make_shared<const rw::LaneColumn>(log, (*log)[rw::Quantity::PackVoltage].values);
//   lanes->setContent({.time = time, .lanes = {{.title = "pack", .unit = "V", .hue = rw::Hue::Voltage, .column =
//   volts}}});
//
// Pointer: move reads every lane; a click sets a mark from which differences count, a second click holds the cursor,
// a third lets both go; wheel zooms at the pointer (shift: pans); drag pans; double click shows all.
// Keys: left/right move the cursor a pixel (ctrl: ten), shift+left/right pan, plus/minus zoom, Home shows all,
// Space does what a click does, Escape lets the cursors go, F fits the heights to what is seen.
#pragma once

#include "plotting/axis_view.h"
#include "plotting/look.h"
#include "plotting/pyramid.h"

#include <QPixmap>
#include <QString>

#include <algorithm>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace rw {

// Times of all rows, not falling, in the unit of the axis (s).
struct LaneTime {
    LaneTime(std::shared_ptr<const void> owner, std::span<const double> times);
    std::shared_ptr<const void> owner;
    TimeIndex index;
    std::vector<std::size_t> breaks; // rows before which no line may be drawn: gaps of over 5 median steps and 0.5 s
};

struct LaneColumn {
    LaneColumn(std::shared_ptr<const void> owner, std::span<const double> values);
    std::shared_ptr<const void> owner;
    MinMaxPyramid pyramid;
};

struct LaneLimit {
    double value = 0.0; // in display units, like all below
    QString label{};
};

struct LaneBand { // hatched below the value while from ≤ t ≤ to
    double from = 0.0, to = 0.0;
    double below = 0.0;
    QString label{};
};

struct LaneCurve { // a line from a zero of its own; x rises
    LaneCurve(std::vector<double> places, std::vector<double> values);
    std::vector<double> x, y;
    Extent heights; // of y
};

struct LaneTrace { // a short dashed line over the lane: what a plan expects
    QString label{};
    double at = 0.0;                          // axis time of the curve's zero
    std::shared_ptr<const LaneCurve> curve{}; // one for as many traces as follow it
};

struct Lane {
    QString title{};
    QString unit{};
    Hue hue = Hue::Speed;
    std::shared_ptr<const LaneColumn> column{}; // one value a row of the time
    double scale = 1.0, offset = 0.0;           // shown = value · scale + offset
    int decimals = 1;
    bool fromZero = false;
    std::vector<LaneLimit> limits{};
    std::vector<LaneBand> bands{};
    std::vector<LaneTrace> traces{};
};

struct LaneSpan { // shaded through all lanes
    double from = 0.0, to = 0.0;
    QString label{};
};

struct LaneSegment { // a session: a divider runs through every lane at each of its ends
    double from = 0.0, to = 0.0;
    double zero = 0.0; // axis time that is labelled 0 in this segment
    QString label{};
    // Time really passed at "from", where the axis shortens the gaps between segments; differences count by it.
    std::optional<double> passed{};
};

struct LanesContent {
    std::shared_ptr<const LaneTime> time{};
    std::vector<Lane> lanes{};
    std::vector<LaneSpan> spans{};
    std::vector<LaneSegment> segments{};
    QString timeLabel = QStringLiteral("seconds");
    QString empty{}; // what to say where there is no log
};

// Time really passed at an axis moment: the axis itself where no segment says otherwise.
[[nodiscard]] double passedAt(const LanesContent& content, double t);

struct LaneReading {
    double value = 0.0;                 // NaN: no sample there
    std::optional<double> difference{}; // against the second cursor
    std::optional<Extent> between{};    // least and largest between the cursors
};

// At time t: the sample at or before it, NaN in a gap, before the first and after the last row.
[[nodiscard]] double sampleAt(const LanesContent& content, int lane, double t);

// What a lane's height has to span for rows [first, last): samples, limits, hatched bands, predictions; round ends.
[[nodiscard]] Range laneRange(const Lane& lane, std::size_t first, std::size_t last);

// Where things stand, apart from painting. Logical pixels; lane i occupies [top(i), bottom(i)].
struct LanesGeometry {
    double left = 0.0, right = 0.0; // of the plotting area
    double top = 0.0, laneHeight = 0.0;
    int count = 0;
    Range time;
    // The geometry for a surface of this size (logical pixels).
    [[nodiscard]] static LanesGeometry of(QSizeF size, int lanes, Range time);
    [[nodiscard]] double pixelOf(double t) const;
    [[nodiscard]] double timeOf(double pixel) const;
    [[nodiscard]] double laneTop(int lane) const { return top + lane * laneHeight; }
    [[nodiscard]] double laneBottom(int lane) const; // the baseline
    [[nodiscard]] double pixelOf(int lane, double value, Range values) const;
};

struct LanesPicture;

class LanesView : public AxisView {
    Q_OBJECT
public:
    explicit LanesView(QWidget* parent = nullptr);

    void setContent(LanesContent content);
    [[nodiscard]] const LanesContent& content() const { return content_; }

    [[nodiscard]] LanesGeometry geometryNow() const { return geometryOf(size()); }
    [[nodiscard]] Range valuesOf(int lane) const { return seen_[static_cast<std::size_t>(lane)]; } // its height spans
    // Heights follow what is seen instead of the whole log.
    void setFitToSeen(bool fit);

    // At the cursor, per lane; the sample at or before the cursor, nothing across a break.
    [[nodiscard]] std::vector<LaneReading> readings() const;
    [[nodiscard]] QString spokenReadings() const; // the same in words, for those who listen

    void paintOn(QPainter& painter, const QRectF& rect) const override;

    [[nodiscard]] QSize sizeHint() const override { return {800, heightOf(88)}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {360, heightOf(40)}; }

protected:
    [[nodiscard]] QString drawingName() const override { return tr("lanes"); }
    [[nodiscard]] QString csv() const override; // rows that are seen, all lanes; at most 1e6 rows
    [[nodiscard]] double valueAtX(double pixel) const override { return geometryNow().timeOf(pixel); }
    void showRange() override;
    void showCursor() override;
    void pointTo(QPointF at) override;
    void click(QPointF at) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    [[nodiscard]] LanesGeometry geometryOf(QSizeF size) const;
    [[nodiscard]] LanesPicture pictureOf(QSizeF size, const Look& look, double ratio) const;
    [[nodiscard]] int heightOf(int lane) const {
        return 72 + lane * std::max(1, static_cast<int>(content_.lanes.size()));
    }
    [[nodiscard]] std::size_t rows() const { return content_.time != nullptr ? content_.time->index.rows() : 0; }
    void holdAt(double t); // what a click and Space do
    void setFocused(bool focused);
    void drawAnew();

    LanesContent content_;
    std::vector<Range> whole_; // heights for the whole log
    std::vector<Range> seen_;  // heights in force
    bool fit_ = false;
    bool focused_ = false;
    QPixmap cache_; // everything but the cursors
    bool stale_ = true;
};

} // namespace rw
