// Normal quantiles, Latin hypercube columns, percentiles, shares of variance: against published values and closed
// forms.
#include "core/plan/normal.h"
#include "core/plan/spread_statistics.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <set>

namespace rw::testing {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

TEST(TruncatedNormal, QuantilesOfTheStandardNormal) {
    const TruncatedNormal normal{0.0, 1.0, -infinity, infinity};
    // Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.5 and 26.6 (from memory; digits of the erf
    // inverse).
    EXPECT_NEAR(normal.quantile(0.5), 0.0, 1e-15);
    EXPECT_NEAR(normal.quantile(0.95), 1.6448536269514722, 1e-13);
    EXPECT_NEAR(normal.quantile(0.975), 1.9599639845400545, 1e-13);
    EXPECT_NEAR(normal.quantile(0.995), 2.5758293035489004, 1e-13);
    EXPECT_NEAR(normal.quantile(0.001), -3.0902323061678132, 1e-12);
    EXPECT_NEAR(normal.quantile(1e-10), -6.361340902404056, 1e-9);
}

TEST(TruncatedNormal, HalfNormalMeanInClosedForm) {
    // Truncated at its mean: mean μ + σ √(2/π), deviation σ √(1 − 2/π) (e.g. Johnson, Kotz, Balakrishnan, vol. 1, ch.
    // 13).
    const TruncatedNormal half{5.0, 2.0, 5.0, infinity};
    double sum = 0.0, squares = 0.0;
    constexpr int count = 200'000;
    for (int i = 0; i < count; ++i) {
        const double x = half.quantile((i + 0.5) / count);
        EXPECT_GE(x, 5.0);
        sum += x, squares += x * x;
    }
    const double mean = sum / count;
    EXPECT_NEAR(mean, 5.0 + 2.0 * std::sqrt(2.0 / std::numbers::pi), 1e-4);
    EXPECT_NEAR(std::sqrt(squares / count - mean * mean), 2.0 * std::sqrt(1.0 - 2.0 / std::numbers::pi), 1e-3);
}

TEST(TruncatedNormal, StaysInItsRangeAtTheExtremes) {
    const TruncatedNormal atEdge{1.0, 0.02, 0.0, 1.0};
    const TruncatedNormal wide{0.5, 1e9, 0.0, 1.0};
    const TruncatedNormal open{2.0, 0.1, -infinity, infinity};
    for (const double share : {1e-300, 0x1p-60, 0.25, 0.5, 1.0 - 0x1p-53}) {
        EXPECT_LE(atEdge.quantile(share), 1.0);
        EXPECT_GE(atEdge.quantile(share), 0.0);
        EXPECT_NEAR(wide.quantile(share), share, 1e-6); // so wide that it is uniform
        EXPECT_TRUE(std::isfinite(open.quantile(share)));
    }
}

TEST(SeededUniform, IsTheGeneratorOfTheStandard) {
    // C++ standard, [rand.predef]: the 10000th number of a default-constructed mt19937_64 is 9981545732273789042.
    std::mt19937_64 engine;
    engine.discard(9999);
    EXPECT_EQ(engine(), 9981545732273789042ULL);
    SeededUniform random(std::mt19937_64::default_seed);
    double last = 0.0;
    for (int i = 0; i < 10'000; ++i)
        last = random.inUnit();
    EXPECT_EQ(last, (static_cast<double>(9981545732273789042ULL >> 11U) + 0.5) / 9007199254740992.0);
}

TEST(LatinHypercube, EveryStratumHoldsExactlyOneNumber) {
    // The defining property, McKay, Beckman, Conover 1979, section 2.
    SeededUniform random(7);
    for (const std::size_t runs : {1UL, 2UL, 17UL, 1000UL, 10'007UL}) {
        std::vector<int> hits(runs, 0);
        for (const double share : latinColumn(runs, random)) {
            ASSERT_GT(share, 0.0);
            ASSERT_LT(share, 1.0);
            ++hits[static_cast<std::size_t>(share * static_cast<double>(runs))];
        }
        for (const int hit : hits)
            ASSERT_EQ(hit, 1);
    }
}

TEST(LatinHypercube, MeanOfALinearFunctionIsFarTighterThanByPlainSampling) {
    // McKay et al. 1979 / Stein 1987: for additive functions the variance falls as 1/N³ instead of 1/N.
    SeededUniform random(11);
    constexpr std::size_t runs = 100;
    double squares = 0.0;
    constexpr int repeats = 200;
    for (int r = 0; r < repeats; ++r) {
        double sum = 0.0;
        for (const double share : latinColumn(runs, random))
            sum += share;
        squares += (sum / runs - 0.5) * (sum / runs - 0.5);
    }
    const double deviation = std::sqrt(squares / repeats);
    const double exact = std::sqrt(1.0 / 12.0 / (100.0 * 100.0 * 100.0)); // 1/√(12 N³)
    EXPECT_NEAR(deviation, exact, 0.15 * exact);                          // deviation of a sample of 200: 5 %
}

TEST(Columns, AreInRandomOrderWithoutCorrelation) {
    SeededUniform random(3);
    const auto a = latinColumn(10'000, random), b = latinColumn(10'000, random);
    double product = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        product += (a[i] - 0.5) * (b[i] - 0.5);
    EXPECT_LT(std::abs(product * 12.0 / 10'000.0), 0.04); // deviation of a correlation of 10,000: 0.01
}

TEST(Summary, PercentilesOfWholeNumbers) {
    // 1 … 101: the type-7 quantile of share q is 1 + 100 q (Hyndman & Fan, Am. Stat. 50 (1996) 361).
    std::vector<double> values;
    for (int i = 101; i >= 1; --i)
        values.push_back(i);
    const Summary s = summarise(values);
    EXPECT_DOUBLE_EQ(*s.p05, 6.0);
    EXPECT_DOUBLE_EQ(*s.p50, 51.0);
    EXPECT_DOUBLE_EQ(*s.p95, 96.0);
    EXPECT_DOUBLE_EQ(*s.mean, 51.0);
    EXPECT_NEAR(*s.sd, std::sqrt(101.0 * 102.0 / 12.0), 1e-12); // variance n (n + 1)/12 of 1 … n
}

TEST(Summary, OneValueHasNoDeviationAndNoneHasNothing) {
    EXPECT_EQ(*summarise({4.0}).p95, 4.0);
    EXPECT_FALSE(summarise({4.0}).sd.has_value());
    const double nan = std::nan("");
    EXPECT_FALSE(summarise({nan, nan}).mean.has_value());
    EXPECT_EQ(summarise({nan, 3.0}).count, 1U);
}

TEST(VarianceShares, LinearFunctionSplitsByItsCoefficientsSquared) {
    SeededUniform random(5);
    std::vector<std::vector<double>> inputs;
    for (int k = 0; k < 3; ++k)
        inputs.push_back(latinColumn(4000, random));
    inputs.emplace_back(4000, 1.0); // never varies
    std::vector<double> y(4000);
    for (std::size_t i = 0; i < y.size(); ++i)
        y[i] = 3.0 * inputs[0][i] - 2.0 * inputs[1][i] + 0.0 * inputs[2][i] + 10.0;
    const auto shares = varianceShares(inputs, y);
    EXPECT_NEAR(*shares[0], 9.0 / 13.0, 1e-3);
    EXPECT_NEAR(*shares[1], 4.0 / 13.0, 1e-3);
    EXPECT_NEAR(*shares[2], 0.0, 1e-9);
    EXPECT_EQ(*shares[3], 0.0);
    EXPECT_NEAR(*shares[0] + *shares[1] + *shares[2], 1.0, 1e-12);
}

TEST(VarianceShares, WhatIsNotLinearIsNotShared) {
    SeededUniform random(6);
    const std::vector<std::vector<double>> inputs{latinColumn(5000, random)};
    std::vector<double> bowl, flat(5000, 2.0);
    for (const double x : inputs[0])
        bowl.push_back((x - 0.5) * (x - 0.5));
    EXPECT_NEAR(*varianceShares(inputs, bowl)[0], 0.0, 1e-3);
    EXPECT_EQ(*varianceShares(inputs, flat)[0], 0.0);
    EXPECT_FALSE(varianceShares({{1.0, 2.0}}, {1.0, 2.0})[0].has_value()); // too few runs
}

} // namespace

} // namespace rw::testing
