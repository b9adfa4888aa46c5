#include "plotting/chart_labels.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

// Unlike QRectF::contains, false for what is no number.
bool within(const QRectF& area, QPointF at) {
    return at.x() >= area.left() && at.x() <= area.right() && at.y() >= area.top() && at.y() <= area.bottom();
}

} // namespace

Crowding::Crowding(const QRectF& area)
    : area_(area.isValid() ? area : QRectF()) // a plot squeezed to nothing has no inside
    , columns_(std::max(1, static_cast<int>(std::ceil(area_.width() / cell))))
    , rows_(std::max(1, static_cast<int>(std::ceil(area_.height() / cell))))
    , taken_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0)
    , latest_(taken_.size(), -1) {}

std::size_t Crowding::cellOf(QPointF at) const {
    const int column = std::min(columns_ - 1, static_cast<int>((at.x() - area_.left()) / cell));
    const int row = std::min(rows_ - 1, static_cast<int>((at.y() - area_.top()) / cell));
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column);
}

void Crowding::take(QPointF at, int line) {
    if (area_.isEmpty() || !within(area_, at)) return;
    const std::size_t place = cellOf(at);
    if (latest_[place] == line) return;
    latest_[place] = line;
    if (taken_[place] < 255) ++taken_[place];
}

int Crowding::linesAt(QPointF at) const { return !area_.isEmpty() && within(area_, at) ? taken_[cellOf(at)] : 0; }

void Crowding::addLine(const QPolygonF& line) {
    const int id = lines_++;
    for (qsizetype i = 1; i < line.size(); ++i) {
        const QPointF a = line[i - 1];
        const QPointF b = line[i];
        const double length = std::hypot(b.x() - a.x(), b.y() - a.y());
        if (!std::isfinite(length) || length > 1e5) continue;
        const int steps = 1 + static_cast<int>(length / (0.75 * cell));
        for (int k = 0; k <= steps; ++k)
            take(a + (b - a) * (static_cast<double>(k) / steps), id);
    }
}

void Crowding::addRect(const QRectF& rect) {
    const int id = lines_++;
    for (double y = rect.top(); y < rect.bottom() + cell; y += cell) {
        for (double x = rect.left(); x < rect.right() + cell; x += cell)
            take({x, y}, id);
    }
}

double Crowding::cost(const QRectF& rect) const {
    double sum = 0.0;
    for (double y = rect.top(); y <= rect.bottom(); y += cell) {
        for (double x = rect.left(); x <= rect.right(); x += cell) {
            if (area_.isEmpty() || !within(area_, {x, y})) {
                sum += 10.0;
                continue;
            }
            sum += taken_[cellOf({x, y})];
        }
    }
    return sum;
}

namespace {

// Points of the line that are about evenly spread over what is seen of it.
std::vector<QPointF> stations(const QPolygonF& line, const QRectF& area, std::optional<double> atPixel) {
    std::vector<QPointF> inside;
    for (qsizetype i = 0; i < line.size(); ++i) {
        if (within(area, line[i])) inside.push_back(line[i]);
        if (i == 0) continue;
        // A long straight piece has no points of its own: take some between its ends.
        const double length = std::hypot(line[i].x() - line[i - 1].x(), line[i].y() - line[i - 1].y());
        if (!(length > 24.0) || length > 1e5) continue;
        for (double at = 12.0; at < length; at += 12.0) {
            const QPointF between = line[i - 1] + (line[i] - line[i - 1]) * (at / length);
            if (within(area, between)) inside.push_back(between);
        }
    }
    if (inside.empty()) return inside;
    if (atPixel) {
        return {*std::min_element(inside.begin(), inside.end(), [&](QPointF a, QPointF b) {
            return std::abs(a.x() - *atPixel) < std::abs(b.x() - *atPixel);
        })};
    }
    std::sort(inside.begin(), inside.end(), [](QPointF a, QPointF b) { return a.x() < b.x(); });
    constexpr std::size_t most = 24;
    if (inside.size() <= most) return inside;
    std::vector<QPointF> few;
    for (std::size_t k = 0; k < most; ++k)
        few.push_back(inside[k * (inside.size() - 1) / (most - 1)]);
    return few;
}

} // namespace

std::optional<Placed> placeBeside(const Crowding& crowding, const QPolygonF& line, QSizeF text,
                                  std::optional<double> atPixel) {
    constexpr double gap = 5.0;
    constexpr double far = 11.0;
    std::optional<Placed> best;
    const std::vector<QPointF> points = stations(line, crowding.area(), atPixel);
    for (const QPointF at : points) {
        const QRectF candidates[] = {
            {QPointF(at.x() - 0.5 * text.width(), at.y() - gap - text.height()), text},
            {QPointF(at.x() - 0.5 * text.width(), at.y() + gap), text},
            {QPointF(at.x() + gap, at.y() - 0.5 * text.height()), text},
            {QPointF(at.x() - text.width() - gap, at.y() - 0.5 * text.height()), text},
            {QPointF(at.x() - 0.5 * text.width(), at.y() - far - text.height()), text},
            {QPointF(at.x() - 0.5 * text.width(), at.y() + far), text},
        };
        double order = crowding.linesAt(at) > 1 ? 4.0 : 0.0; // where lines run together a name says little
        for (const QRectF& rect : candidates) {
            const double leftness = (crowding.area().right() - at.x()) / std::max(1.0, crowding.area().width());
            const double cost = crowding.cost(rect) + order + 0.8 * leftness;
            if (!best || cost < best->cost) best = Placed{rect, cost};
            order += 0.15;
        }
    }
    return best;
}

Placed placeNearCursor(const Crowding& crowding, double x, QSizeF text) {
    constexpr double gap = 10.0;
    const QRectF& area = crowding.area();
    Placed best{{QPointF(x + gap, area.top()), text}, 1e9};
    for (int side = 0; side < 2; ++side) {
        const double left = side == 0 ? x + gap : x - gap - text.width();
        for (double top = area.top() + 2.0; top + text.height() < area.bottom(); top += 8.0) {
            const QRectF rect(QPointF(left, top), text);
            const double cost = crowding.cost(rect) + 0.5 * side;
            if (cost < best.cost - 1e-9) best = {rect, cost};
        }
    }
    return best;
}

} // namespace rw
