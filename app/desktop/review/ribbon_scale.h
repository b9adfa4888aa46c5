// Where sessions stand on the ribbon: blocks as wide as they last, long gaps shortened so that blocks stay legible.
// Pure; tests/desktop shows the mapping.
#pragma once

#include "plotting/range.h"

#include <optional>
#include <vector>

namespace rw {

class RibbonScale {
public:
    RibbonScale() = default;
    // Sessions in order, in axis time; pixels from left to right. A gap is drawn at its length, but at most as a
    // twelfth of the width; blocks keep at least a few pixels.
    RibbonScale(const std::vector<Range>& sessions, Range pixels);

    [[nodiscard]] double pixelOf(double time) const;
    [[nodiscard]] double timeOf(double pixel) const;
    [[nodiscard]] const std::vector<Range>& blocks() const { return blocks_; } // pixels, one a session
    [[nodiscard]] std::optional<std::size_t> blockAt(double pixel) const;

private:
    struct Knot {
        double time = 0.0, pixel = 0.0;
    };
    std::vector<Knot> knots_; // piecewise linear, both rising
    std::vector<Range> blocks_;
};

} // namespace rw
