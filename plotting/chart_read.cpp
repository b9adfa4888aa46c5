#include "plotting/chart_read.h"

#include "plotting/export.h"
#include "plotting/pyramid.h"

#include <QDateTime>
#include <QStringList>

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

void include(Extent& extent, const std::vector<double>& values) {
    for (const double value : values) {
        if (std::isfinite(value)) extent.add({value, value});
    }
}

Range airy(const Extent& extent, const ChartAxis& axis, double air) {
    if (axis.range) return *axis.range;
    if (extent.empty()) return {0.0, 1.0};
    Range range{extent.low, extent.high};
    if (axis.fromZero) range = {std::min(0.0, range.from), std::max(0.0, range.to)};
    if (range.span() <= 0.0) {
        const double half = range.from == 0.0 ? 1.0 : 0.05 * std::abs(range.from);
        return {range.from - half, range.from + half};
    }
    const double margin = air * range.span();
    const bool zeroFloor = axis.fromZero && range.from == 0.0;
    const bool zeroRoof = axis.fromZero && range.to == 0.0;
    return {zeroFloor ? 0.0 : range.from - margin, zeroRoof ? 0.0 : range.to + margin};
}

} // namespace

double interpolated(const std::vector<double>& x, const std::vector<double>& y, double at) {
    const double none = std::numeric_limits<double>::quiet_NaN();
    if (x.empty() || x.size() != y.size() || !(at >= x.front()) || !(at <= x.back())) return none;
    const auto after = std::lower_bound(x.begin(), x.end(), at);
    const auto i = static_cast<std::size_t>(after - x.begin());
    if (x[i] == at) return y[i];
    const double share = (at - x[i - 1]) / (x[i] - x[i - 1]);
    return y[i - 1] + share * (y[i] - y[i - 1]);
}

Range xRangeOf(const ChartContent& content) {
    Extent extent;
    bool points = false;
    for (const ChartSeries& series : content.series) {
        include(extent, series.x);
        points = points || series.point != PointKind::None;
    }
    for (const ChartBand& band : content.bands)
        include(extent, band.x);
    return airy(extent, content.x, points ? 0.05 : 0.0);
}

Range yRangeOf(const ChartContent& content) {
    if (content.y.range) return *content.y.range;
    Extent extent;
    for (const ChartSeries& series : content.series) {
        include(extent, series.y);
        for (std::size_t i = 0; i < std::min(series.uncertainty.size(), series.y.size()); ++i) {
            include(extent, {series.y[i] - series.uncertainty[i], series.y[i] + series.uncertainty[i]});
        }
    }
    for (const ChartBand& band : content.bands) {
        include(extent, band.low);
        include(extent, band.high);
    }
    for (const ChartLimit& limit : content.limits)
        include(extent, {limit.value});
    for (const ChartMarker& marker : content.markers)
        include(extent, {marker.y});
    return niceRange(airy(extent, content.y, 0.04), 5);
}

QString axisNumber(const ChartAxis& axis, double value) {
    if (axis.kind == ChartAxis::Kind::Date) {
        return QDateTime::fromMSecsSinceEpoch(static_cast<qint64>(value * 1000.0))
            .toString(QStringLiteral("d MMM yyyy"));
    }
    return axis.unit.isEmpty() ? figure(value, axis.decimals)
                               : figure(value, axis.decimals) + QChar(0x00A0) + axis.unit;
}

QStringList defaultReadout(const ChartContent& content, double x) {
    QStringList lines{axisNumber(content.x, x)};
    for (const ChartSeries& series : content.series) {
        if (series.name.isEmpty() || series.freeForm) continue;
        const double value = interpolated(series.x, series.y, x);
        if (std::isfinite(value)) lines << series.name + QStringLiteral("  ") + axisNumber(content.y, value);
    }
    return lines;
}

namespace {

QString heading(const ChartAxis& axis, const QString& name) {
    const QString text = name.isEmpty() ? axis.title : name;
    return axis.unit.isEmpty() ? text : text + QStringLiteral(" [") + axis.unit + QLatin1Char(']');
}

QString cell(const std::vector<double>& values, std::size_t row) {
    return row < values.size() ? csvNumber(values[row]) : QString();
}

} // namespace

QString chartCsv(const ChartContent& content) {
    const auto& all = content.series;
    const bool shared = std::all_of(all.begin(), all.end(), [&](const ChartSeries& s) { return s.x == all.front().x; });
    QStringList head;
    std::size_t rows = 0;
    for (const ChartSeries& series : all) {
        if (head.isEmpty() || !shared) head << heading(content.x, {});
        head << heading(content.y, series.name);
        rows = std::max(rows, series.x.size());
    }
    QString text = csvLine(head);
    for (std::size_t row = 0; row < rows; ++row) {
        QStringList cells;
        for (const ChartSeries& series : all) {
            if (cells.isEmpty() || !shared) cells << cell(series.x, row);
            cells << cell(series.y, row);
        }
        text += csvLine(cells);
    }
    return text;
}

} // namespace rw
