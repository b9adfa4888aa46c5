// Where a grid of values crosses a level.
#include "plotting/map_chart.h"

#include <array>
#include <cmath>

namespace rw {

namespace {

struct Corner {
    double x = 0.0, y = 0.0, z = 0.0;
};

QPointF between(const Corner& a, const Corner& b, double level) {
    const double share = (level - a.z) / (b.z - a.z);
    return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

} // namespace

std::vector<std::pair<QPointF, QPointF>> contourSegments(const std::vector<double>& xs, const std::vector<double>& ys,
                                                         const std::vector<std::vector<double>>& z, double level) {
    std::vector<std::pair<QPointF, QPointF>> out;
    for (std::size_t i = 0; i + 1 < xs.size(); ++i) {
        for (std::size_t j = 0; j + 1 < ys.size(); ++j) {
            // Round the cell.
            const std::array<Corner, 4> corners{Corner{xs[i], ys[j], z[i][j]}, Corner{xs[i + 1], ys[j], z[i + 1][j]},
                                                Corner{xs[i + 1], ys[j + 1], z[i + 1][j + 1]},
                                                Corner{xs[i], ys[j + 1], z[i][j + 1]}};
            double middle = 0.0;
            std::vector<QPointF> crossings;
            for (std::size_t k = 0; k < 4; ++k) {
                const Corner &a = corners[k], &b = corners[(k + 1) % 4];
                middle += 0.25 * a.z;
                if ((a.z >= level) != (b.z >= level)) crossings.push_back(between(a, b, level));
            }
            if (!std::isfinite(middle)) continue;
            if (crossings.size() == 2) out.emplace_back(crossings[0], crossings[1]);
            if (crossings.size() != 4) continue;
            const bool joined = (middle >= level) == (corners[0].z >= level); // the first corner's side goes through
            const std::size_t first = joined ? 1 : 3;
            out.emplace_back(crossings[0], crossings[first]);
            out.emplace_back(crossings[2], crossings[joined ? 3 : 1]);
        }
    }
    return out;
}

} // namespace rw
