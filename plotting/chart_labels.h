// Finding room for text in a chart: which parts of the plot are taken, and where a label disturbs least.
#pragma once

#include <QPolygonF>
#include <QRectF>
#include <QSizeF>

#include <optional>
#include <vector>

namespace rw {

// The plot's inside as cells of a few pixels, each taken or free.
class Crowding {
public:
    Crowding() = default;
    explicit Crowding(const QRectF& area);
    void addLine(const QPolygonF& line); // a NaN parts the line
    void addRect(const QRectF& rect);
    [[nodiscard]] int linesAt(QPointF at) const;
    // Taken cells under the rectangle; every cell outside of the area counts as ten.
    [[nodiscard]] double cost(const QRectF& rect) const;
    [[nodiscard]] const QRectF& area() const { return area_; }

private:
    static constexpr double cell = 4.0;
    [[nodiscard]] std::size_t cellOf(QPointF at) const;
    void take(QPointF at, int line);
    QRectF area_;
    int columns_ = 0, rows_ = 0;
    int lines_ = 0;
    std::vector<unsigned char> taken_; // how many lines and labels lie in a cell
    std::vector<int> latest_;          // which of them came last: each counts once
};

struct Placed {
    QRectF rect;
    double cost = 0.0;
};

// Beside its line: above, below or behind one of its points; further right is better. nullopt: no point inside.
[[nodiscard]] std::optional<Placed> placeBeside(const Crowding& crowding, const QPolygonF& line, QSizeF text,
                                                std::optional<double> atPixel);

// Near a vertical cursor at x: left or right of it, at the height where least is covered.
[[nodiscard]] Placed placeNearCursor(const Crowding& crowding, double x, QSizeF text);

} // namespace rw
