#include "app/desktop/review/ribbon_scale.h"

#include <algorithm>

namespace rw {

RibbonScale::RibbonScale(const std::vector<Range>& sessions, Range pixels) {
    if (sessions.empty()) return;
    constexpr double gapShare = 1.0 / 12.0;
    constexpr double leastGap = 12.0;
    double length = 0.0;
    for (const Range& session : sessions)
        length += std::max(1e-3, session.span());
    const auto gapCount = static_cast<double>(sessions.size() - 1);
    const double widestGap = std::clamp(gapShare * pixels.span(), leastGap,
                                        std::max(leastGap, 0.5 * pixels.span() / std::max(1.0, gapCount)));
    std::vector<double> gaps;
    double gapPixels = 0.0;
    for (std::size_t i = 1; i < sessions.size(); ++i) {
        const double natural = (sessions[i].from - sessions[i - 1].to) / length * pixels.span();
        gaps.push_back(std::clamp(natural, leastGap, widestGap));
        gapPixels += gaps.back();
    }
    const double perSecond = std::max(1.0, pixels.span() - gapPixels) / length;
    double at = pixels.from;
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        const double width = std::max(1e-3, sessions[i].span()) * perSecond;
        blocks_.push_back({at, at + width});
        knots_.push_back({sessions[i].from, at});
        knots_.push_back({std::max(sessions[i].to, sessions[i].from + 1e-3), at + width});
        at += width + (i < gaps.size() ? gaps[i] : 0.0);
    }
}

double RibbonScale::pixelOf(double time) const {
    if (knots_.empty()) return 0.0;
    if (time <= knots_.front().time) return knots_.front().pixel;
    for (std::size_t i = 1; i < knots_.size(); ++i) {
        const Knot& a = knots_[i - 1];
        const Knot& b = knots_[i];
        if (time > b.time) continue;
        return b.time <= a.time ? b.pixel : a.pixel + (time - a.time) / (b.time - a.time) * (b.pixel - a.pixel);
    }
    return knots_.back().pixel;
}

double RibbonScale::timeOf(double pixel) const {
    if (knots_.empty()) return 0.0;
    if (pixel <= knots_.front().pixel) return knots_.front().time;
    for (std::size_t i = 1; i < knots_.size(); ++i) {
        const Knot& a = knots_[i - 1];
        const Knot& b = knots_[i];
        if (pixel > b.pixel) continue;
        return a.time + (pixel - a.pixel) / (b.pixel - a.pixel) * (b.time - a.time);
    }
    return knots_.back().time;
}

std::optional<std::size_t> RibbonScale::blockAt(double pixel) const {
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
        if (blocks_[i].contains(pixel)) return i;
    }
    return std::nullopt;
}

} // namespace rw
