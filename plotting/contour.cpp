#include "plotting/contour.h"

#include <array>
#include <cmath>

namespace rw {

namespace {

struct Corner {
    QPointF at;
    double z = 0.0;
    bool rim = false; // half-way to a place without a value
};
using Outline = std::vector<Corner>;

// The part of a cell that has values, round it.
Outline outlineOf(const std::array<Corner, 4>& corners) {
    Outline out;
    for (std::size_t k = 0; k < 4; ++k) {
        const Corner &a = corners[k], &b = corners[(k + 1) % 4];
        const bool here = std::isfinite(a.z), next = std::isfinite(b.z);
        if (here) out.push_back(a);
        if (here != next) out.push_back({0.5 * (a.at + b.at), here ? a.z : b.z, true});
    }
    return out;
}

bool isSaddleParted(const Outline& outline, double level) {
    if (outline.size() != 4) return false;
    double middle = 0.0;
    int changes = 0;
    for (std::size_t k = 0; k < 4; ++k) {
        middle += 0.25 * outline[k].z;
        changes += (outline[k].z >= level) != (outline[(k + 1) % 4].z >= level) ? 1 : 0;
    }
    return changes == 4 && middle < level;
}

QPointF crossing(const Corner& a, const Corner& b, double level) {
    return a.at + (level - a.z) / (b.z - a.z) * (b.at - a.at);
}

void addCell(const Outline& outline, double level, Contour& out) {
    QPolygonF area;
    std::vector<QPointF> leaves, enters; // of the level, in the order of the walk
    const bool parted = isSaddleParted(outline, level);
    for (std::size_t k = 0; k < outline.size(); ++k) {
        const Corner &a = outline[k], &b = outline[(k + 1) % outline.size()];
        const bool here = a.z >= level, next = b.z >= level;
        if (here) area.push_back(a.at);
        const QPointF at = here != next ? crossing(a, b, level) : QPointF();
        if (here != next) {
            area.push_back(at);
            (here ? leaves : enters).push_back(at);
        }
        if (a.rim && b.rim && (here || next)) out.rims.emplace_back(here ? a.at : at, next ? b.at : at);
    }
    if (area.size() < 3) return;
    if (parted) { // each corner at the level for itself
        for (std::size_t k = 0; k < 4; ++k) {
            if (outline[k].z < level) continue;
            const QPointF into = crossing(outline[(k + 3) % 4], outline[k], level);
            const QPointF from = crossing(outline[k], outline[(k + 1) % 4], level);
            out.areas.push_back({{into, outline[k].at, from}});
            out.lines.emplace_back(from, into);
        }
        return;
    }
    out.areas.push_back(area);
    // The walk leaves the area and enters it again across the line.
    const bool startsInside = outline.front().z >= level;
    for (std::size_t k = 0; k < leaves.size(); ++k)
        out.lines.emplace_back(leaves[k], enters[startsInside ? k : (k + 1) % enters.size()]);
}

} // namespace

Contour contourOf(const std::vector<double>& xs, const std::vector<double>& ys,
                  const std::vector<std::vector<double>>& z, double level) {
    Contour out;
    for (std::size_t i = 0; i + 1 < xs.size(); ++i)
        for (std::size_t j = 0; j + 1 < ys.size(); ++j)
            addCell(
                outlineOf({Corner{{xs[i], ys[j]}, z[i][j]}, Corner{{xs[i + 1], ys[j]}, z[i + 1][j]},
                           Corner{{xs[i + 1], ys[j + 1]}, z[i + 1][j + 1]}, Corner{{xs[i], ys[j + 1]}, z[i][j + 1]}}),
                level, out);
    return out;
}

} // namespace rw
