// A map of one figure over two: filled contours in equal steps, the zero line heavy, what is outside hatched, words in
// its regions, points on it. Across linear, up logarithmic. Values in: the caller fills a MapContent in display units.
//
// Pointer: move reads; click on a place: placeClicked. Keys: arrows move the chosen place, Enter clicks it.
#pragma once

#include "plotting/chart.h"

#include <QWidget>

#include <memory>
#include <vector>

namespace rw {

struct MapPoint {
    enum class Kind { Disc, Ring, Diamond };
    double x = 0.0, y = 0.0;
    QString label{};
    Kind kind = Kind::Disc;
};

struct MapContent {
    ChartAxis x{}, y{};
    std::vector<double> xs{}, ys{};         // rising, ys over 0; two or more each
    std::vector<std::vector<double>> z{};   // [x][y]; NaN: outside
    std::vector<std::vector<int>> region{}; // [x][y], an index of names; borders between regions are dotted
    std::vector<QString> names{};           // written into the middle of the region's largest part
    double step = 0.1;                      // of the shades
    QString outside{};                      // written where z is NaN
    std::vector<MapPoint> points{};
    QString empty{};
};

// Points on the line z = level, two a segment, bilinear between the grid's places; cells with a NaN corner are left
// out. Lorensen & Cline's marching squares with the middle's value deciding saddles (from memory).
[[nodiscard]] std::vector<std::pair<QPointF, QPointF>> contourSegments(const std::vector<double>& xs,
                                                                       const std::vector<double>& ys,
                                                                       const std::vector<std::vector<double>>& z,
                                                                       double level);

class MapChart : public QWidget {
    Q_OBJECT
public:
    explicit MapChart(QWidget* parent = nullptr);
    ~MapChart() override;

    void setContent(MapContent content);
    [[nodiscard]] const MapContent& content() const;
    // Text at a place, for the readout beside the pointer.
    void setReadout(std::function<QString(int x, int y)> readout);
    void setChosen(std::optional<std::pair<int, int>> place); // a ring
    [[nodiscard]] QPointF pixelAt(double x, double y) const;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

signals:
    void placeClicked(int x, int y); // nearest place of the grid

protected:
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void leaveEvent(QEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    struct Private;
    std::unique_ptr<Private> d;
};

} // namespace rw
