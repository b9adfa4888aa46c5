// Adaptive Runge–Kutta steps of order 8(5,3) with dense output of order 7, for small fixed-size systems without
// allocation. Chosen over a fifth-order pair because every figure has to hold to 1e-6 and events to 1e-9 s: at such
// tolerances it needs about a third of the evaluations. Source: Hairer, Nørsett, Wanner, Solving ODEs I, II.5 (DOP853);
// order shown in the tests.
#pragma once

#include "core/pass/dop853_coefficients.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

namespace rw {

// Rhs: void(double t, const State& y, State& dydt). A step is tried, looked at, shortened if an event lies within, and
// kept.
template<std::size_t N, class Rhs>
class Dop853 {
public:
    using State = std::array<double, N>;

    Dop853(Rhs rhs, double relativeTolerance, const State& absoluteTolerance)
        : rhs_(std::move(rhs))
        , relative_(relativeTolerance)
        , absolute_(absoluteTolerance) {}

    void restart(double t, const State& y) {
        t_ = t;
        y_ = y;
        rhs_(t_, y_, k_[0]);
        h_ = 0.0;
        first_ = true;
    }

    // Computes the step of length h from the current point; returns its scaled error (finish and accept if at most 1).
    double attempt(double h) {
        h_ = h;
        cut_ = 1.0;
        denseReady_ = false;
        attemptStages(std::make_index_sequence<dop853::stages - 1>{});
        combine<dop853::stages>(h, next_);
        return scaledError(h);
    }

    // Ends the attempted step at a share of it, where the dense output stands instead of a step of its own; finish()
    // afterwards.
    void cut(double share) {
        next_ = dense(share);
        cut_ *= share;
        h_ *= share;
    }
    [[nodiscard]] double cutShare() const { return cut_; } // of the attempted step; 1: whole

    // The slope at the end of the attempted step; before dense() or accept().
    void finish() { rhs_(t_ + h_, next_, k_[12]); }

    // Step to try next after an attempt with this error. The first step of a stretch is a guess, often far too short:
    // the next may grow freely.
    [[nodiscard]] double resized(double h, double error) const {
        constexpr double safety = 0.9, shrink = 0.25;
        const double grow = first_ ? 50.0 : 6.0;
        if (error == 0.0) return grow * h;
        if (!(error < 1e300)) return shrink * h;
        return h * std::clamp(safety * std::pow(error, -1.0 / 8.0), shrink, grow);
    }

    // Estimate of |∂f/∂y| of one component from the two stages at the step's end; 0 where rounding hides it and of a
    // cut step. After finish().
    [[nodiscard]] double rateOf(std::size_t i) const {
        const double apart = std::abs(next_[i] - last_[i]);
        if (cut_ < 1.0 || apart <= 1e-14 * std::abs(next_[i])) return 0.0;
        return std::abs(k_[12][i] - k_[11][i]) / apart;
    }

    void accept() {
        t_ += h_;
        y_ = next_;
        k_[0] = k_[12];
        first_ = false;
    }

    [[nodiscard]] double time() const { return t_; }
    [[nodiscard]] const State& state() const { return y_; }
    [[nodiscard]] const State& slope() const { return k_[0]; }
    [[nodiscard]] double stepLength() const { return h_; }
    [[nodiscard]] const State& nextState() const { return next_; } // end of the attempted step

    // State within the attempted (not yet accepted) step at share 0..1 of it.
    [[nodiscard]] State dense(double share) {
        if (!denseReady_) prepareDense();
        const double x = cut_ * share;
        const double u = 1.0 - x;
        State y;
        for (std::size_t i = 0; i < N; ++i) {
            double s = f_[6][i] * x;
            s = (s + f_[5][i]) * u;
            s = (s + f_[4][i]) * x;
            s = (s + f_[3][i]) * u;
            s = (s + f_[2][i]) * x;
            s = (s + f_[1][i]) * u;
            y[i] = y_[i] + (s + f_[0][i]) * x;
        }
        return y;
    }

private:
    template<std::size_t Row, std::size_t J>
    static void add(State& sum, const std::array<State, 16>& k) {
        if constexpr (dop853::a[Row][J] != 0.0)
            for (std::size_t i = 0; i < N; ++i)
                sum[i] += dop853::a[Row][J] * k[J][i];
    }
    template<std::size_t Row>
    void combine(double h, State& out) {
        State sum{};
        [&]<std::size_t... J>(std::index_sequence<J...>) { (add<Row, J>(sum, k_), ...); }
        (std::make_index_sequence<Row>{});
        for (std::size_t i = 0; i < N; ++i)
            out[i] = y_[i] + h * sum[i];
    }
    template<std::size_t Row>
    void stage() {
        State at;
        combine<Row>(h_, at);
        rhs_(t_ + dop853::c[Row] * h_, at, k_[Row]);
        if constexpr (Row == dop853::stages - 1) last_ = at;
    }
    template<std::size_t... I>
    void attemptStages(std::index_sequence<I...>) {
        (stage<I + 1>(), ...);
    }

    double scaledError(double h) const {
        double five = 0.0;
        double three = 0.0;
        for (std::size_t i = 0; i < N; ++i) {
            double e5 = 0.0;
            double e3 = 0.0;
            for (std::size_t j = 0; j < 12; ++j) {
                e5 += dop853::error5[j] * k_[j][i];
                e3 += (dop853::a[12][j] - dop853::less3[j]) * k_[j][i];
            }
            const double scale = absolute_[i] + relative_ * std::max(std::abs(y_[i]), std::abs(next_[i]));
            five += (e5 / scale) * (e5 / scale);
            three += (e3 / scale) * (e3 / scale);
        }
        if (five == 0.0 && three == 0.0) return 0.0;
        const double error = std::abs(h) * five / std::sqrt((five + 0.01 * three) * static_cast<double>(N));
        return std::isfinite(error) ? error : 1e300; // left the domain: shorten
    }

    void prepareDense() {
        stage<13>();
        stage<14>();
        stage<15>();
        for (std::size_t i = 0; i < N; ++i) {
            const double delta = next_[i] - y_[i];
            f_[0][i] = delta;
            f_[1][i] = h_ * k_[0][i] - delta;
            f_[2][i] = 2.0 * delta - h_ * (k_[12][i] + k_[0][i]);
            for (std::size_t row = 0; row < 4; ++row) {
                double s = 0.0;
                for (std::size_t j = 0; j < 16; ++j)
                    s += dop853::dense[row][j] * k_[j][i];
                f_[3 + row][i] = h_ * s;
            }
        }
        denseReady_ = true;
    }

    Rhs rhs_;
    double relative_ = 1e-10;
    State absolute_{};
    double t_ = 0.0, h_ = 0.0, cut_ = 1.0;
    State y_{}, next_{}, last_{};
    std::array<State, 16> k_{};
    std::array<State, 7> f_{};
    bool denseReady_ = false, first_ = true;
};

} // namespace rw
