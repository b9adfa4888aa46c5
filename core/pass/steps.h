// Steps of a pass: explicit ones of high order, and implicit ones from where the system has turned out stiff.
#pragma once

#include "core/error.h"
#include "core/pass/integrator.h"
#include "core/pass/stiff_step.h"

#include <algorithm>
#include <optional>
#include <string>

namespace rw {

// Steps tried in one pass or one wait before it is given up: no plan within usual values takes a hundredth of them.
inline constexpr int mostAttempts = 100'000;

// Throws InputError: the values lie too far apart to follow.
[[noreturn]] inline void giveUp(const char* what) {
    throw InputError(
        std::string("the ") + what,
        "cannot be computed, something in it changes too fast; look for the value farthest from its usual range");
}

template<std::size_t N, class Rhs>
class Steps {
public:
    using State = std::array<double, N>;

    Steps(Rhs rhs, double relativeTolerance, const State& absoluteTolerance)
        : rhs_(rhs)
        , relative_(relativeTolerance)
        , absolute_(absoluteTolerance)
        , explicit_(rhs, relativeTolerance, absoluteTolerance) {}

    void restart(double t, const State& y) {
        taken_ = 0;
        if (stiff_)
            stiff_->restart(t, y);
        else
            explicit_.restart(t, y);
    }
    double attempt(double h) { return stiff_ ? stiff_->attempt(h) : explicit_.attempt(h); }
    void finish() { stiff_ ? stiff_->finish() : explicit_.finish(); }
    [[nodiscard]] double resized(double h, double error) const {
        return stiff_ ? StiffStep<N, Rhs>::resized(h, error) : explicit_.resized(h, error);
    }
    [[nodiscard]] State dense(double share) { return stiff_ ? stiff_->dense(share) : explicit_.dense(share); }
    // Explicit steps only.
    void cut(double share) { explicit_.cut(share); }
    [[nodiscard]] double cutShare() const { return stiff_ ? 1.0 : explicit_.cutShare(); }
    [[nodiscard]] double time() const { return stiff_ ? stiff_->time() : explicit_.time(); }
    [[nodiscard]] double stepLength() const { return stiff_ ? stiff_->stepLength() : explicit_.stepLength(); }
    [[nodiscard]] const State& state() const { return stiff_ ? stiff_->state() : explicit_.state(); }
    [[nodiscard]] const State& nextState() const { return stiff_ ? stiff_->nextState() : explicit_.nextState(); }
    [[nodiscard]] double rateOf(std::size_t i) const { return stiff_ ? 0.0 : explicit_.rateOf(i); }
    [[nodiscard]] bool isStiff() const { return stiff_.has_value(); }

    // A smooth stretch never takes so many explicit steps unless stability keeps them short: goes on implicitly.
    void accept() {
        if (stiff_) {
            stiff_->accept();
            return;
        }
        explicit_.accept();
        if (++taken_ > patience) goStiff();
    }
    void goStiff() {
        // Fourth order instead of eighth; below 1e-8 the rounding of the solved right-hand side sets the steps.
        const double tolerance = std::max(1e3 * relative_, 1e-8);
        State absolute = absolute_;
        for (double& a : absolute)
            a *= tolerance / relative_;
        stiff_.emplace(rhs_, tolerance, absolute);
        stiff_->restart(explicit_.time(), explicit_.state());
    }

private:
    static constexpr int patience = 1500; // steps; about what the implicit method costs in all

    Rhs rhs_;
    double relative_;
    State absolute_;
    Dop853<N, Rhs> explicit_;
    std::optional<StiffStep<N, Rhs>> stiff_;
    int taken_ = 0; // since the last restart
};

} // namespace rw
