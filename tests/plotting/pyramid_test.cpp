#include "plotting/pyramid.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace {

const double missing = std::numeric_limits<double>::quiet_NaN();

rw::Extent bruteForce(const std::vector<double>& values, std::size_t first, std::size_t last) {
    rw::Extent extent;
    for (std::size_t i = first; i < std::min(last, values.size()); ++i) {
        if (!std::isnan(values[i])) extent.add({values[i], values[i]});
    }
    return extent;
}

std::vector<double> noisy(std::size_t rows, double lost, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> noise;
    std::uniform_real_distribution<double> share;
    std::vector<double> values(rows);
    for (double& value : values)
        value = share(random) < lost ? missing : noise(random);
    return values;
}

} // namespace

TEST(MinMaxPyramid, equalsBruteForceOnRandomStretchesWithMissingSamples) {
    for (const std::size_t rows : {1U, 15U, 16U, 17U, 128U, 129U, 4096U, 50'021U}) {
        const std::vector<double> values = noisy(rows, 0.3, static_cast<unsigned>(rows));
        const rw::MinMaxPyramid pyramid(values);
        std::mt19937 random(7);
        std::uniform_int_distribution<std::size_t> any(0, rows);
        for (int i = 0; i < 400; ++i) {
            const std::size_t a = any(random);
            const std::size_t b = any(random);
            const auto [first, last] = std::minmax(a, b);
            ASSERT_EQ(pyramid.extent(first, last), bruteForce(values, first, last))
                << rows << ": " << first << ", " << last;
        }
        EXPECT_EQ(pyramid.extent(0, rows + 100), bruteForce(values, 0, rows));
    }
}

TEST(MinMaxPyramid, aStretchOfMissingSamplesIsEmpty) {
    std::vector<double> values(1000, 1.0);
    std::fill(values.begin() + 100, values.begin() + 400, missing);
    const rw::MinMaxPyramid pyramid(values);
    EXPECT_TRUE(pyramid.extent(100, 400).empty());
    EXPECT_FALSE(pyramid.extent(99, 400).empty());
    EXPECT_TRUE(pyramid.extent(10, 10).empty());
    EXPECT_TRUE(rw::MinMaxPyramid().extent(0, 10).empty());
}

TEST(TimeIndex, equalsASearchOverAllTimesAlsoWhereTimesAreEqual) {
    std::mt19937 random(3);
    std::uniform_int_distribution<int> step(0, 2);
    std::vector<double> times;
    double t = -5.0;
    for (int i = 0; i < 20'000; ++i)
        times.push_back(t += 0.1 * step(random));
    const rw::TimeIndex index(times);
    std::uniform_real_distribution<double> moment(times.front() - 1.0, times.back() + 1.0);
    for (int i = 0; i < 2000; ++i) {
        const double at = i % 2 == 0 ? moment(random) : times[static_cast<std::size_t>(i) * 7];
        const auto expected = std::lower_bound(times.begin(), times.end(), at) - times.begin();
        ASSERT_EQ(index.lowerBound(at), static_cast<std::size_t>(expected)) << at;
    }
    EXPECT_EQ(rw::TimeIndex().lowerBound(1.0), 0U);
}
