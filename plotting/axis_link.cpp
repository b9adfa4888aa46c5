#include "plotting/axis_link.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

bool finite(Range range) { return std::isfinite(range.from) && std::isfinite(range.to); }

} // namespace

AxisLink::AxisLink(QObject* parent)
    : QObject(parent) {}

void AxisLink::setBounds(Range bounds) {
    if (!finite(bounds)) return;
    if (bounds.span() <= 0.0) bounds = {bounds.from - 0.5, bounds.from + 0.5};
    if (bounds == bounds_) return;
    bounds_ = bounds;
    smallestSpan_ = bounds.span() * 1e-6;
    emit boundsChanged();
    setRange(bounds);
}

void AxisLink::setSmallestSpan(double span) { smallestSpan_ = std::clamp(span, 1e-12, bounds_.span()); }

void AxisLink::setRange(Range range) {
    if (!finite(range)) return;
    if (range.to < range.from) std::swap(range.from, range.to);
    const double span = std::clamp(range.span(), smallestSpan_, bounds_.span());
    const double from = std::clamp(range.middle() - 0.5 * span, bounds_.from, bounds_.to - span);
    const Range now = span >= bounds_.span() ? bounds_ : Range{from, from + span};
    if (now == range_) return;
    range_ = now;
    emit rangeChanged();
}

void AxisLink::zoom(double factor, double about) {
    if (!(factor > 0.0) || !std::isfinite(about)) return;
    const double span = std::clamp(range_.span() / factor, smallestSpan_, bounds_.span());
    const double share = std::clamp((about - range_.from) / range_.span(), 0.0, 1.0);
    const double from = std::clamp(about - share * span, bounds_.from, bounds_.to - span);
    setRange({from, from + span});
}

void AxisLink::pan(double by) {
    const double from = std::clamp(range_.from + by, bounds_.from, bounds_.to - range_.span());
    setRange({from, from + range_.span()});
}

void AxisLink::hover(std::optional<double> at) {
    if (!pinned_) setCursor(at);
}

std::optional<double> AxisLink::known(std::optional<double> at) { return at && std::isfinite(*at) ? at : std::nullopt; }

} // namespace rw
