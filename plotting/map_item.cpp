#include "plotting/map_item.h"

#include <QPainterPath>

#include <algorithm>
#include <array>
#include <limits>

namespace rw {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double radius = 4.5;
constexpr int mostLevels = 10; // of shades, either side of zero

// Shades of what is left by steps, of what is over by another colour; told apart by words and the heavy line too.
QColor shade(const Look& look, int level) {
    const double strength = level >= 0 ? std::min(0.08 + 0.11 * level, 0.75) : std::min(0.08 - 0.035 * level, 0.34);
    const QColor& over = level >= 0 ? look.accent : look.warn;
    const auto mix = [&](float a, float b) { return static_cast<float>(a + (b - a) * strength); };
    return QColor::fromRgbF(mix(look.ground.redF(), over.redF()), mix(look.ground.greenF(), over.greenF()),
                            mix(look.ground.blueF(), over.blueF()));
}

template<class Shown>
std::size_t nearestOf(const std::vector<double>& values, double value, Shown shown) {
    const auto away = [&](double one) { return std::abs(shown(one) - value); };
    const auto nearer = [&](double a, double b) { return away(a) < away(b); };
    return static_cast<std::size_t>(std::min_element(values.begin(), values.end(), nearer) - values.begin());
}

// Broken into two lines at the blank nearest to the middle.
QString inTwoLines(const QString& words) {
    qsizetype best = -1;
    for (qsizetype i = words.indexOf(u' '); i >= 0; i = words.indexOf(u' ', i + 1))
        if (best < 0 || std::abs(2 * i - words.size()) < std::abs(2 * best - words.size())) best = i;
    QString out = words;
    if (best >= 0) out[best] = u'\n';
    return out;
}

} // namespace

struct MapPainter::Words {
    QRectF inside;
    std::vector<double> xs, ys; // of the grid, in pixels
    std::vector<QRectF> taken;
    std::vector<QLineF> heavy; // not to be written across while there is another place

    [[nodiscard]] bool isFree(const QRectF& box, bool across = false) const {
        const auto hits = [&](const QRectF& other) { return other.intersects(box); };
        const auto cuts = [&](const QLineF& line) {
            return QRectF(line.p1(), line.p2()).normalized().adjusted(-1, -1, 1, 1).intersects(box);
        };
        return inside.contains(box) && std::none_of(taken.begin(), taken.end(), hits) &&
               (across || std::none_of(heavy.begin(), heavy.end(), cuts));
    }
};

QPointF MapPainter::pixel(double x, double y) const {
    return {plot_.xAxis->coordToPixel(x), plot_.yAxis->coordToPixel(logOf(y))};
}

std::pair<std::size_t, std::size_t> MapPainter::nearest(QPointF pixel) const {
    return {nearestOf(content_.xs, plot_.xAxis->pixelToCoord(pixel.x()), [](double x) { return x; }),
            nearestOf(content_.ys, plot_.yAxis->pixelToCoord(pixel.y()), logOf)};
}

std::vector<double> MapPainter::xPixels() const {
    std::vector<double> out;
    for (const double x : content_.xs)
        out.push_back(plot_.xAxis->coordToPixel(x));
    return out;
}

std::vector<double> MapPainter::yPixels() const {
    std::vector<double> out;
    for (const double y : content_.ys)
        out.push_back(plot_.yAxis->coordToPixel(logOf(y)));
    return out;
}

Contour MapPainter::contour(const std::vector<std::vector<double>>& z, double level) const {
    return contourOf(xPixels(), yPixels(), z, level);
}

void MapPainter::drawUnder(QPainter& painter) const {
    if (content_.xs.empty()) return;
    painter.save();
    drawHatch(painter, QRectF(plot_.axisRect()->rect()), look_.rule);
    drawShades(painter);
    painter.restore();
}

void MapPainter::drawOver(QPainter& painter) const {
    if (content_.xs.empty()) {
        setInk(painter, Type::Body, look_.soft);
        painter.drawText(QRectF(plot_.viewport()), Qt::AlignCenter | Qt::TextWordWrap, content_.empty);
        return;
    }
    painter.save();
    drawMap(painter);
    painter.restore();
    drawTitles(painter, QRectF(plot_.axisRect()->rect()));
}

// Each level on the one before: no seams between them.
void MapPainter::drawShades(QPainter& painter) const {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const auto& column : content_.z)
        for (const double z : column)
            if (std::isfinite(z)) low = std::min(low, z), high = std::max(high, z);
    if (!(low <= high)) return;
    const auto levelOf = [&](double z) {
        return static_cast<int>(std::clamp(std::floor(z / content_.step), -1.0 * mostLevels, mostLevels - 1.0));
    };
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    for (int level = levelOf(low); level <= levelOf(high); ++level) {
        const bool lowest = level == levelOf(low);
        const double from = lowest ? -std::numeric_limits<double>::infinity() : level * content_.step;
        QPainterPath path;
        path.setFillRule(Qt::WindingFill);
        for (const QPolygonF& area : contour(content_.z, from).areas) {
            path.addPolygon(area);
            path.closeSubpath();
        }
        painter.fillPath(path, shade(look_, level));
    }
}

void MapPainter::drawMap(QPainter& painter) const {
    painter.setRenderHint(QPainter::Antialiasing);
    drawBorders(painter);
    painter.setPen(QPen(look_.soft, 1.0, Qt::SolidLine, Qt::RoundCap));
    for (const QLineF& line : contour(content_.z, -std::numeric_limits<double>::infinity()).rims)
        painter.drawLine(line);
    painter.setPen(QPen(look_.ink, 2.25, Qt::SolidLine, Qt::RoundCap));
    const Contour zero = contour(content_.z, 0.0);
    for (const auto& lines : {zero.lines, zero.rims})
        for (const QLineF& line : lines)
            painter.drawLine(line);
    Words words{QRectF(plot_.axisRect()->rect()), xPixels(), yPixels(), {}, zero.lines};
    words.heavy.insert(words.heavy.end(), zero.rims.begin(), zero.rims.end());
    for (const MapPoint& point : content_.points) {
        const double r = 1.6 * radius;
        words.taken.push_back(QRectF(pixel(point.x, point.y) - QPointF(r, r), QSizeF(2.0 * r, 2.0 * r)));
        drawMark(painter, point);
    }
    // What a person looks for first is written first.
    for (const MapPoint::Kind kind : {MapPoint::Kind::Diamond, MapPoint::Kind::Ring, MapPoint::Kind::Disc})
        for (const MapPoint& point : content_.points)
            if (point.kind == kind) writePoint(painter, point, words);
    writeNames(painter, words);
    writeLevels(painter, words);
    if (!chosen_) return;
    const auto column = static_cast<std::size_t>(chosen_->first), row = static_cast<std::size_t>(chosen_->second);
    painter.setPen(QPen(look_.accent, 2.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(pixel(content_.xs[column], content_.ys[row]), 8.0, 8.0);
}

// Half-way between neighbours of different regions; over a limit they would only confuse.
void MapPainter::drawBorders(QPainter& painter) const {
    painter.setPen(QPen(look_.ink, 1.0, Qt::DotLine));
    const auto count = static_cast<int>(content_.names.size());
    std::vector<QLineF> drawn;
    for (int k = 0; k + 1 < count; ++k) {
        std::vector<std::vector<double>> side = content_.z;
        for (std::size_t i = 0; i < side.size(); ++i)
            for (std::size_t j = 0; j < side[i].size(); ++j)
                side[i][j] = content_.z[i][j] >= 0.0 ? (content_.region[i][j] <= k ? 1.0 : 0.0) : nothing;
        for (const QLineF& line : contour(side, 0.5).lines)
            if (std::find(drawn.begin(), drawn.end(), line) == drawn.end()) drawn.push_back(line);
    }
    for (const QLineF& line : drawn)
        painter.drawLine(line);
}

void MapPainter::drawMark(QPainter& painter, const MapPoint& point) const {
    const QPointF at = pixel(point.x, point.y);
    painter.setPen(QPen(point.kind == MapPoint::Kind::Ring ? look_.ink : look_.ground, 1.5));
    painter.setBrush(point.kind == MapPoint::Kind::Ring      ? look_.ground
                     : point.kind == MapPoint::Kind::Diamond ? look_.accent
                                                             : look_.ink);
    if (point.kind != MapPoint::Kind::Diamond) {
        painter.drawEllipse(at, radius, radius);
        return;
    }
    const double r = 1.6 * radius;
    painter.drawPolygon(QPolygonF{{at + QPointF(0, -r), at + QPointF(r, 0), at + QPointF(0, r), at + QPointF(-r, 0)}});
}

// Beside its mark, else some lines higher or lower with a thin line to it; not at all where there is no room.
void MapPainter::writePoint(QPainter& painter, const MapPoint& point, Words& words) const {
    const QPointF at = pixel(point.x, point.y);
    painter.setFont(font(point.kind == MapPoint::Kind::Disc ? Type::Small : Type::SmallStrong));
    const QFontMetricsF metrics(painter.font());
    const double width = metrics.horizontalAdvance(point.label) + 2.0, height = metrics.height();
    constexpr std::array shifts{0.0, -1.0, 1.0, -2.0, 2.0, -3.0, 3.0, -4.0, 4.0};
    for (std::size_t i = 0; i < 2 * shifts.size(); ++i)
        for (const bool left : {false, true}) {
            const bool across = i >= shifts.size();
            const double lines = shifts[i % shifts.size()];
            const double reach = (std::abs(lines) > 0.5 ? 4.0 : 2.0) * radius;
            const QRectF box(left ? at.x() - reach - width : at.x() + reach, at.y() + (lines - 0.5) * height, width,
                             height);
            if (!words.isFree(box, across)) continue;
            words.taken.push_back(box);
            if (std::abs(lines) > 0.5) {
                painter.setPen(QPen(look_.soft, 1.0));
                const QPointF end(left ? box.right() + 1.0 : box.left() - 1.0, box.center().y());
                painter.drawLine(
                    QLineF(end, at + (end - at) * (1.8 * radius / std::hypot(end.x() - at.x(), end.y() - at.y()))));
            }
            painter.setPen(look_.ink);
            painter.drawText(box, Qt::AlignLeft | Qt::AlignVCenter, point.label);
            return;
        }
}

int MapPainter::regionAt(std::size_t i, std::size_t j) const {
    return std::isfinite(content_.z[i][j]) ? content_.region[i][j] : -1;
}

// Where most of the box lies in the region, and of such places the one farthest from everything else.
std::optional<QRectF> MapPainter::roomIn(int region, QSizeF size, const Words& words) const {
    constexpr int least = 8; // of nine places of the box
    std::optional<QRectF> best;
    double bestDepth = 0.0;
    const auto own = [&](std::size_t i, std::size_t j) { return regionAt(i, j) == region; };
    for (std::size_t i = 0; i < words.xs.size(); ++i)
        for (std::size_t j = 0; j < words.ys.size(); ++j) {
            if (!own(i, j)) continue;
            QRectF box(QPointF(), size);
            box.moveCenter({words.xs[i], words.ys[j]});
            box.moveLeft(std::clamp(box.left(), words.inside.left() + 3.0, words.inside.right() - 3.0 - size.width()));
            box.moveTop(std::clamp(box.top(), words.inside.top() + 3.0, words.inside.bottom() - 3.0 - size.height()));
            if (!words.isFree(box)) continue;
            int inside = 0;
            for (const double s : {0.0, 0.5, 1.0})
                for (const double t : {0.0, 0.5, 1.0}) {
                    const auto [k, l] = nearest(box.topLeft() + QPointF(s * size.width(), t * size.height()));
                    inside += own(k, l) ? 1 : 0;
                }
            if (inside < least) continue;
            double depth = std::min({0.4 * (box.center().x() - words.inside.left()),
                                     0.4 * (words.inside.right() - box.center().x()),
                                     box.center().y() - words.inside.top(), words.inside.bottom() - box.center().y()});
            for (std::size_t k = 0; k < words.xs.size(); ++k)
                for (std::size_t l = 0; l < words.ys.size(); ++l)
                    if (!own(k, l))
                        depth = std::min(
                            depth, std::hypot(0.4 * (words.xs[k] - box.center().x()), words.ys[l] - box.center().y()));
            if (best && depth <= bestDepth) continue;
            best = box, bestDepth = depth;
        }
    return best;
}

void MapPainter::writeNames(QPainter& painter, Words& words) const {
    const auto write = [&](int region, const QString& text) {
        const Type type = region < 0 ? Type::Small : Type::SmallStrong;
        const QFontMetricsF metrics(font(type));
        for (const QString& lines : {text, inTwoLines(text)}) {
            const QSizeF size = metrics.size(0, lines) + QSizeF(6.0, 0.0);
            const auto box = roomIn(region, size, words);
            if (!box) continue;
            words.taken.push_back(*box);
            setInk(painter, type, region < 0 ? look_.soft : look_.ink);
            painter.drawText(*box, Qt::AlignCenter, lines);
            return;
        }
    };
    for (std::size_t k = 0; k < content_.names.size(); ++k)
        write(static_cast<int>(k), content_.names[k]);
    write(-1, content_.outside);
}

// What the lines of the steps from zero on stand for, where they meet the right edge.
void MapPainter::writeLevels(QPainter& painter, Words& words) const {
    if (!content_.level) return;
    painter.setFont(font(Type::Small));
    const QFontMetricsF metrics(painter.font());
    const std::vector<double>& last = content_.z.back();
    for (int level = 0; level < mostLevels; ++level)
        for (std::size_t j = 0; j + 1 < last.size(); ++j) {
            const double at = level * content_.step;
            if (!((last[j] >= at) != (last[j + 1] >= at)) || !std::isfinite(last[j] + last[j + 1])) continue;
            const double share = (at - last[j]) / (last[j + 1] - last[j]);
            const double y = words.ys[j] + share * (words.ys[j + 1] - words.ys[j]);
            const QString text = content_.level(at);
            QRectF box(0.0, 0.0, metrics.horizontalAdvance(text) + 4.0, metrics.height());
            box.moveCenter({0.0, y});
            box.moveRight(words.inside.right() - 3.0);
            if (!words.isFree(box, true)) continue;
            words.taken.push_back(box);
            painter.setPen(look_.ink);
            painter.drawText(box, Qt::AlignCenter, text);
        }
}

void MapPainter::drawTitles(QPainter& painter, const QRectF& inside) const {
    const auto title = [](const ChartAxis& axis) {
        return axis.unit.isEmpty() ? axis.title : axis.title + QStringLiteral(", ") + axis.unit;
    };
    setInk(painter, Type::SmallStrong, look_.soft);
    const double height = QFontMetricsF(painter.font()).height();
    painter.drawText(QRectF(2.0, inside.top() - height - 8.0, inside.right(), height), Qt::AlignLeft,
                     title(content_.y));
    painter.drawText(QRectF(0.0, inside.bottom() + height + 10.0, inside.right(), height), Qt::AlignRight,
                     title(content_.x));
}

} // namespace rw
