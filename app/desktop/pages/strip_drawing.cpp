#include "app/desktop/pages/strip_drawing.h"

#include "plotting/look.h"

#include <QCoreApplication>
#include <QPainter>
#include <QPainterPath>

#include <algorithm>

namespace rw {

namespace {

QString words(const char* text) { return QCoreApplication::translate("pages", text); }

class StripPainter {
public:
    StripPainter(QPainter& painter, const StripMeasures& m, const Units& units, QSize size)
        : painter_(painter)
        , m_(m)
        , units_(units)
        , width_(size.width() - 2.0 * side)
        , longest_(std::max({m.length, m.stop, m.stopLatest, 1.0})) {}

    void draw() {
        const Look& look = Look::light();
        band(0.0, m_.runUp, look.wash, look.ink, words(QT_TRANSLATE_NOOP("pages", "run-up")));
        band(m_.runUp, m_.runUp + m_.timed, look.accent, look.sheet, words(QT_TRANSLATE_NOOP("pages", "timed")));
        band(m_.runUp + m_.timed, m_.coastEnd, look.rule, look.ink, {});
        band(m_.coastEnd, m_.stop, look.wash, look.ink, words(QT_TRANSLATE_NOOP("pages", "braking")));
        if (m_.stop < m_.length)
            band(m_.stop, m_.length, look.sheet, look.soft, words(QT_TRANSLATE_NOOP("pages", "left")));
        painter_.setPen(QPen(look.soft, 1.0));
        painter_.setBrush(Qt::NoBrush);
        painter_.drawRect(QRectF(at(0.0), top, at(m_.length) - at(0.0), height));
        if (m_.stop > m_.length)
            drawHatch(painter_, QRectF(at(m_.length), top, at(m_.stop) - at(m_.length), height), look.bad);
        painter_.setPen(QPen(look.ink, 2.0));
        painter_.drawLine(QPointF(at(m_.stopEarliest), top + height + 5.0),
                          QPointF(at(m_.stopLatest), top + height + 5.0));
        for (const double x : {0.0, m_.runUp, m_.runUp + m_.timed, m_.stop})
            cone(x);
        placeLabels();
    }

private:
    static constexpr double side = 18.0, top = 20.0, height = 30.0;

    [[nodiscard]] double at(double x) const { return side + x / longest_ * width_; }

    void band(double from, double to, const QColor& fill, const QColor& ink, const QString& name) {
        const QRectF box(at(from), top, at(to) - at(from), height);
        painter_.fillRect(box, fill);
        const QString length = units_.text(Dimension::Distance, to - from, 0);
        painter_.setPen(ink);
        painter_.setFont(rw::font(Type::Small));
        const QFontMetricsF metrics(painter_.font());
        for (const QString& text : {name.isEmpty() ? QString() : name + QLatin1Char(' ') + length, length})
            if (!text.isEmpty() && !name.isEmpty() && metrics.horizontalAdvance(text) + 6.0 < box.width()) {
                painter_.drawText(box, Qt::AlignCenter, text);
                break;
            }
    }

    void cone(double x) {
        QPainterPath path;
        path.moveTo(at(x) - 5.0, top - 3.0);
        path.lineTo(at(x) + 5.0, top - 3.0);
        path.lineTo(at(x), top - 14.0);
        path.closeSubpath();
        painter_.fillPath(path, Look::light().warn);
    }

    // Under the strip, each as near its place as its neighbours allow; two lines where one is too narrow.
    void placeLabels() {
        struct Label {
            double x;
            QString text;
        };
        const auto place = [this](double x) { return units_.text(Dimension::Distance, x, 0); };
        const std::vector<Label> labels{
            {0.0, words(QT_TRANSLATE_NOOP("pages", "start"))},
            {m_.runUp, words(QT_TRANSLATE_NOOP("pages", "cone %1")).arg(place(m_.runUp))},
            {m_.runUp + m_.timed, words(QT_TRANSLATE_NOOP("pages", "cone %1")).arg(place(m_.runUp + m_.timed))},
            {m_.stop, words(QT_TRANSLATE_NOOP("pages", "stands %1")).arg(place(m_.stop))},
            {m_.length, words(QT_TRANSLATE_NOOP("pages", "end %1")).arg(place(m_.length))}};
        painter_.setPen(Look::light().ink);
        const QFontMetricsF metrics(painter_.font());
        double right[2] = {-1e9, -1e9};
        for (const Label& label : labels) {
            const double w = metrics.horizontalAdvance(label.text);
            const double left = std::clamp(at(label.x) - w / 2.0, 0.0, width_ + 2.0 * side - w);
            const int line = left > right[0] + 8.0 ? 0 : 1;
            painter_.drawText(QPointF(std::max(left, right[line] + 8.0),
                                      top + height + 12.0 + metrics.ascent() + line * metrics.height()),
                              label.text);
            right[line] = std::max(left, right[line] + 8.0) + w;
        }
    }

    QPainter& painter_;
    const StripMeasures& m_;
    const Units& units_;
    double width_, longest_;
};

} // namespace

QImage drawStrip(const StripMeasures& measures, const Units& units, QSize size, double scale) {
    QImage image(size * scale, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    painter.scale(scale, scale);
    StripPainter(painter, measures, units, size).draw();
    return image;
}

} // namespace rw
