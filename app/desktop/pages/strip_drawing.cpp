#include "app/desktop/pages/strip_drawing.h"

#include "app/desktop/shared/strip_words.h"
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
    StripPainter(QPainter& painter, const StripMarks& marks, const StopRange& range, const Units& units, QSize size)
        : painter_(painter)
        , marks_(marks)
        , range_(range)
        , units_(units)
        , width_(size.width() - 2.0 * side)
        , longest_(std::max({marks.end, marks.stop, range.latest, 1.0})) {}

    void draw() {
        const Look& look = Look::light();
        for (const StripSegment& segment : stripSegments(marks_))
            band(segment);
        painter_.setPen(QPen(look.soft, 1.0));
        painter_.setBrush(Qt::NoBrush);
        painter_.drawRect(QRectF(at(0.0), top, at(marks_.end) - at(0.0), height));
        painter_.setPen(QPen(look.ink, 2.0));
        painter_.drawLine(QPointF(at(range_.earliest), top + height + 5.0),
                          QPointF(at(range_.latest), top + height + 5.0));
        for (const double x : stripCones(marks_))
            cone(x);
        placeLabels();
    }

private:
    static constexpr double side = 18.0, top = 20.0, height = 30.0;

    [[nodiscard]] double at(double x) const { return side + x / longest_ * width_; }

    static QColor fill(StripKind kind) {
        const Look& look = Look::light();
        switch (kind) {
        case StripKind::Timed:
            return look.accent;
        case StripKind::Coast:
            return look.rule;
        case StripKind::Left:
            return look.sheet;
        default:
            return look.wash;
        }
    }

    void band(const StripSegment& segment) {
        const Look& look = Look::light();
        const QRectF box(at(segment.from), top, at(segment.to) - at(segment.from), height);
        if (segment.kind == StripKind::Beyond) return drawHatch(painter_, box, look.bad);
        painter_.fillRect(box, fill(segment.kind));
        if (segment.kind == StripKind::Coast) return; // between two cones: too narrow for words
        const QString length = units_.text(Dimension::Distance, segment.to - segment.from);
        painter_.setPen(segment.kind == StripKind::Timed  ? look.sheet
                        : segment.kind == StripKind::Left ? look.soft
                                                          : look.ink);
        painter_.setFont(rw::font(Type::Small));
        const QFontMetricsF metrics(painter_.font());
        for (const QString& text : {stripWord(segment.kind) + QLatin1Char(' ') + length, length})
            if (metrics.horizontalAdvance(text) + 6.0 < box.width()) {
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
        const auto place = [this](double x) { return units_.text(Dimension::Distance, x); };
        const std::vector<Label> labels{
            {0.0, words(QT_TRANSLATE_NOOP("pages", "start"))},
            {marks_.zoneEntry, words(QT_TRANSLATE_NOOP("pages", "cone %1")).arg(place(marks_.zoneEntry))},
            {marks_.zoneExit, words(QT_TRANSLATE_NOOP("pages", "cone %1")).arg(place(marks_.zoneExit))},
            {marks_.stop, words(QT_TRANSLATE_NOOP("pages", "stands %1")).arg(place(marks_.stop))},
            {marks_.end, words(QT_TRANSLATE_NOOP("pages", "end %1")).arg(place(marks_.end))}};
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
    const StripMarks& marks_;
    const StopRange& range_;
    const Units& units_;
    double width_, longest_;
};

} // namespace

QImage drawStrip(const StripMarks& marks, const StopRange& range, const Units& units, QSize size, double scale) {
    QImage image(size * scale, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing);
    painter.scale(scale, scale);
    StripPainter(painter, marks, range, units, size).draw();
    return image;
}

} // namespace rw
