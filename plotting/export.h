// Pictures and numbers out of a chart: to a file by suffix, to the clipboard, and as actions of a context menu.
#pragma once

#include <QColor>
#include <QRectF>
#include <QSize>
#include <QString>

#include <functional>

class QPainter;
class QPixmap;
class QWidget;

namespace rw {

struct Drawing {
    QString name; // proposed file name and title of the document
    QSize size;   // logical pixels
    QColor ground;
    std::function<void(QPainter&, const QRectF&)> paint;
    std::function<QString()> csv;
};

[[nodiscard]] QPixmap drawingPixmap(const Drawing& drawing, double scale);

// png (twice the resolution), svg, pdf or csv by the path's suffix. Throws rw::InputError naming the file: unknown
// suffix, or it cannot be written.
void exportDrawing(const Drawing& drawing, const QString& path);

// Copy picture, copy numbers, export… in the widget's context menu, behind what is there; asks for the drawing when
// used.
void offerExport(QWidget& widget, const std::function<Drawing()>& drawing);

// One line of RFC 4180, with its line end.
[[nodiscard]] QString csvLine(const QStringList& cells);
// A number as CSV writes it: shortest form that reads back equal, empty for NaN.
[[nodiscard]] QString csvNumber(double value);

} // namespace rw
