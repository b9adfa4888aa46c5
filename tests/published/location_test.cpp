// Events on the integrator's dense output: bouncing ball, pendulum.
#include "core/pass/integrator.h"

#include <boost/math/tools/toms748_solve.hpp>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

namespace {

using Vector = std::array<double, 2>; // place, speed
constexpr double gravity = 9.80665;

// Steps until the first component falls through 0, and returns where and how fast.
template<class Rhs>
std::pair<double, double> firstFall(Rhs rhs, double t, const Vector& start) {
    rw::Dop853<2, Rhs> stepper(rhs, 1e-12, {1e-12, 1e-12});
    stepper.restart(t, start);
    double h = 1e-3;
    for (int tries = 0; tries < 100'000; ++tries) {
        const double error = stepper.attempt(h);
        const double next = stepper.resized(h, error);
        if (error > 1.0) {
            h = next;
            continue;
        }
        stepper.finish();
        if (stepper.state()[0] >= 0.0 && stepper.nextState()[0] < 0.0) {
            std::uintmax_t iterations = 100;
            const auto place = [&](double share) { return stepper.dense(share)[0]; };
            const auto [low, high] = boost::math::tools::toms748_solve(
                place, 0.0, 1.0, boost::math::tools::eps_tolerance<double>(52), iterations);
            return {stepper.time() + high * stepper.stepLength(), stepper.dense(high)[1]};
        }
        stepper.accept();
        h = std::min(next, 0.3);
    }
    ADD_FAILURE() << "no event found";
    return {};
}

TEST(EventLocation, findsEveryBounceOfTheBall) {
    // Free fall from 1 m, restitution 0.8, g 9.80665: bounces at t1 (1 + 2 e + 2 e² + …), t1 = sqrt(2/g); closed form.
    const auto fall = [](double, const Vector& y, Vector& d) { d = {y[1], -gravity}; };
    const double bounces[][2] = {{0.451600755752, 4.428690551393},
                                 {1.174161964955, 3.542952441115},
                                 {1.752210932317, 2.834361952892},
                                 {2.214650106207, 2.267489562313},
                                 {2.584601445319, 1.813991649851}};
    double t = 0.0;
    Vector y{1.0, 0.0};
    for (const auto& bounce : bounces) {
        const auto [at, speed] = firstFall(fall, t, y);
        EXPECT_NEAR(at, bounce[0], 1e-10);
        EXPECT_NEAR(-speed, bounce[1], 1e-10);
        t = at;
        y = {0.0, -0.8 * speed};
    }
}

TEST(EventLocation, findsThePendulumsFirstPassage) {
    // 1 m, let go at 90°: a quarter of T = 2π sqrt(L/g)/agm(1, cos 45°); energy gives the speed at the bottom.
    const auto pendulum = [](double, const Vector& y, Vector& d) { d = {y[1], -gravity * std::sin(y[0])}; };
    const auto [at, speed] = firstFall(pendulum, 0.0, {std::numbers::pi / 2.0, 0.0});
    EXPECT_NEAR(at, 0.5920615865715025, 1e-9);
    EXPECT_NEAR(-speed, 4.428690551393267, 1e-9);
    // Ratio of the period to the small swing's for other amplitudes: 1/agm(1, cos(θ/2)).
    const double small = 2.0 * std::numbers::pi / std::sqrt(gravity);
    const double rows[][2] = {{10.0, 1.0019071881432166}, {30.0, 1.017408797595956},   {45.0, 1.0399733431968039},
                              {60.0, 1.0731820071493644}, {120.0, 1.3728805006183502}, {150.0, 1.762203729503756},
                              {170.0, 2.4393627196738841}};
    for (const auto& row : rows) {
        const double quarter = firstFall(pendulum, 0.0, {row[0] * std::numbers::pi / 180.0, 0.0}).first;
        EXPECT_NEAR(4.0 * quarter / small, row[1], 1e-9) << row[0];
    }
}

} // namespace
