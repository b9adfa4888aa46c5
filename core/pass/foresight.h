// Foretells a slowly changing ratio (wheel speed over speed) at the stages of a step and at places within it from where
// it stood at the stages before, so that the solver starts near the truth. Lagrange's polynomials through a few stages.
#pragma once

#include "core/pass/dop853_coefficients.h"

#include <array>
#include <cstddef>

namespace rw::pass {

namespace foresight {
inline constexpr std::size_t endStage = 12, points = 4;
using Nodes = std::array<std::size_t, points>;
using Table = std::array<std::array<double, points>, endStage + 1>;

constexpr double placeOf(std::size_t stage) { return stage == endStage ? 1.0 : dop853::c[stage]; }

// Stages to look at from each stage, the last one repeated where fewer serve; far enough apart not to magnify what the
// early stages get wrong.
inline constexpr std::array<Nodes, endStage + 1> nodes{{{0, 0, 0, 0},
                                                        {0, 0, 0, 0},
                                                        {0, 1, 1, 1},
                                                        {0, 2, 2, 2},
                                                        {0, 3, 3, 3},
                                                        {0, 3, 4, 4},
                                                        {0, 4, 5, 5},
                                                        {4, 5, 6, 6},
                                                        {0, 3, 5, 5},
                                                        {5, 7, 8, 8},
                                                        {0, 5, 8, 8},
                                                        {0, 5, 8, 10},
                                                        {11, 11, 11, 11}}};
inline constexpr Nodes cubic{0, 5, 8, endStage};

constexpr Table weightsOfNodes() {
    Table out{};
    for (std::size_t stage = 0; stage <= endStage; ++stage) {
        const Nodes& n = nodes[stage];
        std::size_t count = points;
        while (count > 1 && n[count - 1] == n[count - 2])
            --count;
        for (std::size_t i = 0; i < count; ++i) {
            double weight = 1.0;
            for (std::size_t j = 0; j < count; ++j)
                if (j != i) weight *= (placeOf(stage) - placeOf(n[j])) / (placeOf(n[i]) - placeOf(n[j]));
            out[stage][i] = weight;
        }
    }
    return out;
}
inline constexpr Table weights = weightsOfNodes();
} // namespace foresight

class Foresight {
public:
    // A new segment begins: only the last value still tells something.
    void forget() { slope_ = 0.0; }
    void see(std::size_t stage, double ratio) {
        seen_[stage] = ratio;
        last_ = ratio;
    }
    // Where the ratio is expected at a stage of a step so long, the stages before it seen.
    [[nodiscard]] double atStage(std::size_t stage, double length) const {
        if (stage == 0) return last_;
        if (stage == 1) return seen_[0] + slope_ * length * dop853::c[1];
        double sum = 0.0;
        for (std::size_t i = 0; i < foresight::points; ++i)
            sum += foresight::weights[stage][i] * seen_[foresight::nodes[stage][i]];
        return sum;
    }

    // The step is whole: a cubic through four of its stages tells the places within.
    void settle() {
        using namespace foresight;
        for (std::size_t i = 0; i < points; ++i)
            divided_[i] = seen_[cubic[i]];
        for (std::size_t order = 1; order < points; ++order)
            for (std::size_t i = points - 1; i >= order; --i)
                divided_[i] = (divided_[i] - divided_[i - 1]) / (placeOf(cubic[i]) - placeOf(cubic[i - order]));
    }
    [[nodiscard]] double within(double share) const {
        double sum = divided_[foresight::points - 1];
        for (std::size_t i = foresight::points - 1; i-- > 0;)
            sum = divided_[i] + (share - foresight::placeOf(foresight::cubic[i])) * sum;
        return sum;
    }
    // On to the next step; this one was so long.
    void advance(double length) {
        constexpr double near = 1e-3;
        slope_ = (within(1.0) - within(1.0 - near)) / (near * length);
        seen_[0] = seen_[foresight::endStage];
    }

private:
    std::array<double, foresight::endStage + 1> seen_{};
    std::array<double, foresight::points> divided_{};
    double last_ = 0.0, slope_ = 0.0;
};

} // namespace rw::pass
