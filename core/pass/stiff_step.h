// The same steps as Dop853's, for a system so stiff that an explicit method would creep: a Rosenbrock method of order
// 4(3) with dense output. Used only where the explicit one has shown that stability alone holds it back. Source:
// Hairer, Wanner, Solving Ordinary Differential Equations II, 2nd ed., IV.7 (RODAS).
#pragma once

#include <Eigen/LU>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

namespace rw {

namespace rodas {
inline constexpr int stages = 6;
inline constexpr double gamma = 0.25;
inline constexpr std::array<double, 6> c{0.0, 0.386, 0.21, 0.63, 1.0, 1.0};
inline constexpr std::array<double, 6> d{0.25, -0.1043, 0.1035, -0.3620000000000023e-1, 0.0, 0.0};
// Row 5 repeats row 4 with the fifth stage added whole; the solution adds the sixth.
inline constexpr std::array<std::array<double, 5>, 6> a{{
    {},
    {0.1544e1},
    {0.9466785280815826, 0.2557011698983284},
    {0.3314825187068521e1, 0.2896124015972201e1, 0.9986419139977817},
    {0.1221224509226641e1, 0.6019134481288629e1, 0.1253708332932087e2, -0.6878860361058950},
    {0.1221224509226641e1, 0.6019134481288629e1, 0.1253708332932087e2, -0.6878860361058950, 1.0},
}};
inline constexpr std::array<std::array<double, 5>, 6> g{{
    {},
    {-0.56688e1},
    {-0.2430093356833875e1, -0.2063599157091915},
    {-0.1073529058151375, -0.9594562251023355e1, -0.2047028614809616e2},
    {0.7496443313967647e1, -0.1024680431464352e2, -0.3399990352819905e2, 0.1170890893206160e2},
    {0.8083246795921522e1, -0.7981132988064893e1, -0.3152159432874371e2, 0.1631930543123136e2, -0.6058818238834054e1},
}};
inline constexpr std::array<std::array<double, 5>, 2> dense{{
    {0.1012623508344586e2, -0.7487995877610167e1, -0.3480091861555747e2, -0.7992771707568823e1, 0.1025137723295662e1},
    {-0.6762803392801253, 0.6087714651680015e1, 0.1643084320892478e2, 0.2476722511418386e2, -0.6594389125716872e1},
}};
} // namespace rodas

template<std::size_t N, class Rhs>
class StiffStep {
public:
    using State = std::array<double, N>;

    StiffStep(Rhs rhs, double relativeTolerance, const State& absoluteTolerance)
        : rhs_(std::move(rhs))
        , relative_(relativeTolerance)
        , absolute_(absoluteTolerance) {}

    void restart(double t, const State& y) {
        t_ = t;
        y_ = y;
        rhs_(t_, y_, slope_);
    }

    double attempt(double h) {
        h_ = h;
        differentiate();
        Matrix system = -jacobian_;
        system.diagonal().array() += 1.0 / (rodas::gamma * h);
        const Eigen::PartialPivLU<Matrix> lu(system);
        for (int s = 0; s < rodas::stages; ++s) {
            const auto row = static_cast<std::size_t>(s);
            State at = y_;
            for (std::size_t j = 0; j < row; ++j)
                for (std::size_t i = 0; i < N; ++i)
                    at[i] += rodas::a[row][j] * k_[j][static_cast<int>(i)];
            State f;
            if (s == 0)
                f = slope_;
            else
                rhs_(t_ + rodas::c[row] * h, at, f);
            Vector right;
            for (std::size_t i = 0; i < N; ++i)
                right[static_cast<int>(i)] = f[i];
            right += h * rodas::d[row] * timeSlope_;
            for (std::size_t j = 0; j < row; ++j)
                right += rodas::g[row][j] / h * k_[j];
            k_[row] = lu.solve(right);
            if (s == rodas::stages - 1)
                for (std::size_t i = 0; i < N; ++i)
                    next_[i] = at[i] + k_[row][static_cast<int>(i)];
        }
        return scaledError();
    }

    void finish() { rhs_(t_ + h_, next_, nextSlope_); }

    [[nodiscard]] static double resized(double h, double error) {
        if (error == 0.0) return 5.0 * h;
        if (!(error < 1e300)) return 0.25 * h;
        return h * std::clamp(0.9 * std::pow(error, -0.25), 0.2, 5.0);
    }

    void accept() {
        t_ += h_;
        y_ = next_;
        slope_ = nextSlope_;
    }

    [[nodiscard]] double time() const { return t_; }
    [[nodiscard]] const State& state() const { return y_; }
    [[nodiscard]] double stepLength() const { return h_; }
    [[nodiscard]] const State& nextState() const { return next_; }

    [[nodiscard]] State dense(double share) const {
        Vector third = Vector::Zero();
        Vector fourth = Vector::Zero();
        for (std::size_t j = 0; j < 5; ++j) {
            third += rodas::dense[0][j] * k_[j];
            fourth += rodas::dense[1][j] * k_[j];
        }
        const double left = 1.0 - share;
        State y;
        for (std::size_t i = 0; i < N; ++i) {
            const int n = static_cast<int>(i);
            y[i] = y_[i] * left + share * (next_[i] + left * (third[n] + share * fourth[n]));
        }
        return y;
    }

private:
    using Vector = Eigen::Matrix<double, static_cast<int>(N), 1>;
    using Matrix = Eigen::Matrix<double, static_cast<int>(N), static_cast<int>(N)>;

    // Difference quotients at the start of the step.
    void differentiate() {
        constexpr double share = 1e-5; // well above the rounding of a solved right-hand side
        State moved;
        State at = y_;
        for (std::size_t k = 0; k < N; ++k) {
            const double change = share * std::max(std::abs(y_[k]), 0.1);
            at[k] = y_[k] + change;
            rhs_(t_, at, moved);
            for (std::size_t i = 0; i < N; ++i)
                jacobian_(static_cast<int>(i), static_cast<int>(k)) = (moved[i] - slope_[i]) / change;
            at[k] = y_[k];
        }
        const double later = 0.1 * share * std::max(t_, 1.0);
        rhs_(t_ + later, y_, moved);
        for (std::size_t i = 0; i < N; ++i)
            timeSlope_[static_cast<int>(i)] = (moved[i] - slope_[i]) / later;
    }

    [[nodiscard]] double scaledError() const {
        double sum = 0.0;
        for (std::size_t i = 0; i < N; ++i) {
            const double scale = absolute_[i] + relative_ * std::max(std::abs(y_[i]), std::abs(next_[i]));
            const double e = k_[5][static_cast<int>(i)] / scale;
            sum += e * e;
        }
        const double error = std::sqrt(sum / static_cast<double>(N));
        return std::isfinite(error) ? error : 1e300;
    }

    Rhs rhs_;
    double relative_ = 1e-9;
    State absolute_{};
    Matrix jacobian_;
    Vector timeSlope_;
    std::array<Vector, rodas::stages> k_;
    double t_ = 0.0, h_ = 0.0;
    State y_{}, next_{}, slope_{}, nextSlope_{};
};

} // namespace rw
