// A map of one figure over two: filled contours in equal steps, the zero line heavy, what is outside hatched, words in
// its regions, points on it. Across linear, up logarithmic. Values in: the caller fills a MapContent in display units.
//
// Pointer: move reads; click on a place: placeClicked. Keys: arrows move the chosen place, Enter clicks it.
#pragma once

#include "plotting/chart.h"
#include "plotting/export.h"

#include <QWidget>

#include <functional>
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
    std::vector<QString> names{};           // written into the region where there is room
    double step = 0.1;                      // of the shades
    std::function<QString(double)> level{}; // what stands at a step's line on the right; none: nothing
    QString outside{};                      // written where z is NaN
    std::vector<MapPoint> points{};
    QString empty{};
};

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
    [[nodiscard]] Drawing drawing(); // what the context menu copies and exports: vectors, in the light look
    [[nodiscard]] QSize sizeHint() const override { return {60 * gridStep, 36 * gridStep}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {36 * gridStep, 20 * gridStep}; }

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
