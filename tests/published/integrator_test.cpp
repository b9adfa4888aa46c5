// The integrator of a pass on published test problems: end values, order of accuracy, dense output.
// DETEST: Hull, Enright, Fellen, Sedgwick, SIAM J. Numer. Anal. 9 (1972) 603; end values at t = 20 as in ACM Algorithm
// 648's data.
#include "core/pass/integrator.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace {

template<std::size_t N>
using Vector = std::array<double, N>;

template<std::size_t N>
Vector<N> filled(double value) {
    Vector<N> v;
    v.fill(value);
    return v;
}

template<std::size_t N, class Rhs>
Vector<N> integrate(Rhs rhs, const Vector<N>& start, double end, double tolerance) {
    rw::Dop853<N, Rhs> stepper(rhs, tolerance, filled<N>(tolerance));
    stepper.restart(0.0, start);
    double h = 1e-3;
    for (int tries = 0; tries < 1'000'000 && stepper.time() < end; ++tries) {
        const bool last = stepper.time() + h >= end;
        const double tried = last ? end - stepper.time() : h;
        const double error = stepper.attempt(tried);
        h = stepper.resized(tried, error);
        if (error > 1.0) continue;
        stepper.finish();
        stepper.accept();
        if (last) break;
    }
    return stepper.state();
}

template<std::size_t N, class Rhs>
Vector<N> fixedSteps(Rhs rhs, const Vector<N>& start, double end, int steps) {
    rw::Dop853<N, Rhs> stepper(rhs, 1.0, filled<N>(1e3)); // accepts every step
    stepper.restart(0.0, start);
    for (int i = 0; i < steps; ++i) {
        if (stepper.attempt(end / steps) > 1.0) ADD_FAILURE() << "step refused";
        stepper.finish();
        stepper.accept();
    }
    return stepper.state();
}

constexpr auto logistic = [](double, const Vector<1>& y, Vector<1>& d) { d[0] = y[0] / 4.0 * (1.0 - y[0] / 20.0); };
constexpr auto oscillatoryGrowth = [](double t, const Vector<1>& y, Vector<1>& d) { d[0] = y[0] * std::cos(t); };
constexpr auto kepler = [](double, const Vector<4>& y, Vector<4>& d) {
    const double r = std::hypot(y[0], y[1]);
    d = {y[2], y[3], -y[0] / (r * r * r), -y[1] / (r * r * r)};
};

constexpr auto rigidBody = [](double, const Vector<3>& y, Vector<3>& d) {
    d = {y[1] * y[2], -y[0] * y[2], -0.51 * y[0] * y[1]};
};
constexpr auto brusselator = [](double, const Vector<2>& y, Vector<2>& d) {
    d = {1.0 + y[0] * y[0] * y[1] - 4.0 * y[0], 3.0 * y[0] - y[0] * y[0] * y[1]};
};
constexpr Vector<3> rigidEnd{-0.93965707987292040, -0.34211777540007491, 0.74141265961999530}; // DETEST B5, t = 20
constexpr Vector<2> brusselatorEnd{0.498637071268347849,
                                   4.59678034945201118}; // 30 digits in a public library, recomputed

Vector<4> keplerStart(double eccentricity) {
    return {1.0 - eccentricity, 0.0, 0.0, std::sqrt((1.0 + eccentricity) / (1.0 - eccentricity))};
}

TEST(Integrator, reachesTheEndValuesOfDetestsScalarProblems) {
    const auto cubic = [](double, const Vector<1>& y, Vector<1>& d) { d[0] = -y[0] * y[0] * y[0] / 2.0; };
    const auto spiral = [](double t, const Vector<1>& y, Vector<1>& d) { d[0] = (y[0] - t) / (y[0] + t); };
    const auto decay = [](double, const Vector<1>& y, Vector<1>& d) { d[0] = -y[0]; };
    // A2, A3, A4: closed forms. A5: recomputed with 19 digits. A1: closed form (the printed value is 1.3e-7 off).
    EXPECT_NEAR(integrate<1>(cubic, {1.0}, 20.0, 1e-13)[0], 1.0 / std::sqrt(21.0), 1e-10);
    EXPECT_NEAR(integrate<1>(oscillatoryGrowth, {1.0}, 20.0, 1e-13)[0], std::exp(std::sin(20.0)), 1e-10);
    EXPECT_NEAR(integrate<1>(logistic, {1.0}, 20.0, 1e-13)[0], 17.730166481314840, 1e-10);
    EXPECT_NEAR(integrate<1>(spiral, {4.0}, 20.0, 1e-13)[0], -0.78878266889640142, 1e-10);
    EXPECT_NEAR(integrate<1>(decay, {1.0}, 20.0, 1e-13)[0], std::exp(-20.0), 1e-12);
}

TEST(Integrator, reachesTheEndValuesOfDetestsSystems) {
    const auto prey = [](double, const Vector<2>& y, Vector<2>& d) {
        d = {2.0 * (y[0] - y[0] * y[1]), -(y[1] - y[0] * y[1])};
    };
    const auto vanDerPol = [](double, const Vector<2>& y, Vector<2>& d) {
        d = {y[1], (1.0 - y[0] * y[0]) * y[1] - y[0]};
    };
    const auto expectNear = [](const auto& found, const auto& expected, double tolerance) {
        for (std::size_t i = 0; i < expected.size(); ++i)
            EXPECT_NEAR(found[i], expected[i], tolerance) << i;
    };
    // B1, B5, E2 (μ = 1).
    expectNear(integrate<2>(prey, {1.0, 3.0}, 20.0, 1e-13), Vector<2>{0.67618760085766066, 0.18608160996400298}, 1e-9);
    expectNear(integrate<3>(rigidBody, {0.0, 1.0, 1.0}, 20.0, 1e-13), rigidEnd, 1e-9);
    expectNear(integrate<2>(vanDerPol, {2.0, 0.0}, 20.0, 1e-13), Vector<2>{2.0081497621749486, -0.042508875273202147},
               1e-9);
    // D1 and D5, eccentricity 0.1 and 0.9: Kepler's equation. D5 forces the step control.
    expectNear(integrate<4>(kepler, keplerStart(0.1), 20.0, 1e-13),
               Vector<4>{0.21988353520083966, 0.94270768463418131, -0.97876598410581765, 0.32879779909620361}, 1e-9);
    expectNear(integrate<4>(kepler, keplerStart(0.9), 20.0, 1e-14),
               Vector<4>{-1.2952662509875744, 0.40039389637923215, -0.67753909247075659, -0.12708381542786862}, 1e-8);
}

TEST(Integrator, reachesTheBrusselatorsReference) {
    // Hairer, Nørsett, Wanner, Solving ODEs I, at t = 20.
    const Vector<2> y = integrate<2>(brusselator, {1.5, 3.0}, 20.0, 1e-13);
    EXPECT_NEAR(y[0], brusselatorEnd[0], 1e-9);
    EXPECT_NEAR(y[1], brusselatorEnd[1], 1e-9);
}

TEST(Integrator, closesTheArenstorfOrbits) {
    // Hairer, Nørsett, Wanner, Solving ODEs I, II.0: restricted three bodies, a periodic orbit; the second one from a
    // public code.
    const auto threeBodies = [](double, const Vector<4>& y, Vector<4>& d) {
        constexpr double moon = 0.012277471, earth = 1.0 - moon;
        const double a = std::pow((y[0] + moon) * (y[0] + moon) + y[1] * y[1], 1.5);
        const double b = std::pow((y[0] - earth) * (y[0] - earth) + y[1] * y[1], 1.5);
        d = {y[2], y[3], y[0] + 2.0 * y[3] - earth * (y[0] + moon) / a - moon * (y[0] - earth) / b,
             y[1] - 2.0 * y[2] - earth * y[1] / a - moon * y[1] / b};
    };
    const double orbits[][2] = {{-2.00158510637908252240537862224, 17.0652165601579625588917206249},
                                {-2.0317326295573368357302057924, 11.124340337266085134999734047}};
    for (const auto& orbit : orbits) {
        const Vector<4> y = integrate<4>(threeBodies, {0.994, 0.0, 0.0, orbit[0]}, orbit[1], 1e-13);
        EXPECT_NEAR(y[0], 0.994, 1e-6);
        EXPECT_NEAR(y[1], 0.0, 1e-6);
    }
}

// Order seen when the step is halved: log2 of the ratio of the errors.
double order(double coarse, double fine) { return std::log2(coarse / fine); }

TEST(Integrator, isOfEighthOrder) {
    // Hairer, Nørsett, Wanner II.5: order 8. DETEST B5 and the Brusselator with errors far above rounding.
    const auto rigidError = [&](int steps) {
        return std::abs(fixedSteps<3>(rigidBody, {0.0, 1.0, 1.0}, 20.0, steps)[1] - rigidEnd[1]);
    };
    EXPECT_GT(rigidError(160), 1e-13);
    EXPECT_NEAR(order(rigidError(40), rigidError(80)), 8.0, 0.5);
    EXPECT_NEAR(order(rigidError(80), rigidError(160)), 8.0, 0.5);
    const auto reactionError = [&](int steps) {
        return std::abs(fixedSteps<2>(brusselator, {1.5, 3.0}, 20.0, steps)[1] - brusselatorEnd[1]);
    };
    EXPECT_NEAR(order(reactionError(320), reactionError(640)), 8.0, 0.5);
}

TEST(Integrator, isOfEighthOrderWithTimeInTheEquation) {
    // DETEST A3, exact e^(sin t): the nodes c count too.
    const auto error = [&](int steps) {
        return std::abs(fixedSteps<1>(oscillatoryGrowth, {1.0}, 5.0, steps)[0] - std::exp(std::sin(5.0)));
    };
    EXPECT_GT(error(16), 1e-13);
    EXPECT_GT(order(error(4), error(16)), 2.0 * 7.5);
}

// Largest error of the dense output over one step of DETEST A3 from t = 0.
double denseError(double h) {
    rw::Dop853<1, decltype(oscillatoryGrowth)> stepper(oscillatoryGrowth, 1.0, {1e3});
    stepper.restart(0.0, {1.0});
    (void)stepper.attempt(h);
    stepper.finish();
    double worst = 0.0;
    for (int i = 0; i <= 50; ++i) {
        const double share = i / 50.0;
        worst = std::max(worst, std::abs(stepper.dense(share)[0] - std::exp(std::sin(share * h))));
    }
    return worst;
}

TEST(DenseOutput, isOfSeventhOrder) {
    // Hairer, Nørsett, Wanner II.6: order 7, so one step errs with the eighth power.
    EXPECT_GT(denseError(0.25), 1e-13);
    EXPECT_NEAR(order(denseError(1.0), denseError(0.5)), 8.0, 0.8);
    EXPECT_NEAR(order(denseError(0.5), denseError(0.25)), 8.0, 0.8);
}

TEST(DenseOutput, meetsBothEndsOfTheStep) {
    rw::Dop853<4, decltype(kepler)> stepper(kepler, 1e-12, filled<4>(1e-12));
    stepper.restart(0.0, keplerStart(0.1));
    ASSERT_LE(stepper.attempt(0.1), 1.0);
    stepper.finish();
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(stepper.dense(0.0)[i], stepper.state()[i]);
        EXPECT_NEAR(stepper.dense(1.0)[i], stepper.nextState()[i], 1e-15);
    }
}

TEST(Integrator, errorFollowsTheToleranceAsked) {
    // Tightening by ten tightens the result: Kepler's equation again, from 1e-6 to 1e-12.
    const Vector<4> exact{0.21988353520083966, 0.94270768463418131, -0.97876598410581765, 0.32879779909620361};
    for (double tolerance = 1e-6; tolerance > 0.5e-12; tolerance /= 10.0) {
        const Vector<4> y = integrate<4>(kepler, keplerStart(0.1), 20.0, tolerance);
        // Three revolutions: a position error of some hundred times the local tolerance at most.
        EXPECT_LT(std::hypot(y[0] - exact[0], y[1] - exact[1]), 300.0 * tolerance) << tolerance;
    }
}

} // namespace
