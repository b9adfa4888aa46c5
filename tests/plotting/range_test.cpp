#include "plotting/range.h"

#include <gmock/gmock.h>

#include <limits>

using testing::ElementsAre;

TEST(Ticks, areMultiplesOfOneTwoOrFive) {
    EXPECT_THAT(rw::ticks({0.0, 50.0}, 5), ElementsAre(0.0, 10.0, 20.0, 30.0, 40.0, 50.0));
    EXPECT_THAT(rw::ticks({0.0, 0.5}, 5), ElementsAre(0.0, 0.1, 0.2, testing::DoubleEq(0.3), 0.4, 0.5));
    EXPECT_THAT(rw::ticks({-3.0, 3.0}, 3), ElementsAre(-2.0, 0.0, 2.0));
    EXPECT_THAT(rw::ticks({1001.0, 1009.0}, 4), ElementsAre(1002.0, 1004.0, 1006.0, 1008.0));
}

TEST(Ticks, areTwoAtLeast) {
    EXPECT_THAT(rw::ticks({50.5, 54.6}, 2), ElementsAre(52.0, 54.0)); // a step of five would hit none
    EXPECT_THAT(rw::ticks({61.0, 69.0}, 2), ElementsAre(62.0, 64.0, 66.0, 68.0));
    for (double from = 0.013; from < 97.0; from *= 1.37)
        for (double span = 0.0021; span < 431.0; span *= 1.61)
            for (const int most : {1, 2, 5})
                EXPECT_GE(rw::ticks({from, from + span}, most).size(), 2U) << from << " + " << span << ", " << most;
}

TEST(Ticks, ofAnEmptyOrEndlessRangeAreNone) {
    EXPECT_TRUE(rw::ticks({1.0, 1.0}, 5).empty());
    EXPECT_TRUE(rw::ticks({0.0, std::numeric_limits<double>::infinity()}, 5).empty());
    EXPECT_TRUE(rw::ticks({0.0, std::numeric_limits<double>::quiet_NaN()}, 5).empty());
}

TEST(TimeTicks, fallOnPartsOfAMinuteAboveTenSeconds) {
    EXPECT_THAT(rw::timeTicks({0.0, 65.0}, 5), ElementsAre(0.0, 15.0, 30.0, 45.0, 60.0));
    EXPECT_THAT(rw::timeTicks({0.0, 600.0}, 5), ElementsAre(0.0, 120.0, 240.0, 360.0, 480.0, 600.0));
    EXPECT_THAT(rw::timeTicks({0.0, 20.0}, 4), ElementsAre(0.0, 5.0, 10.0, 15.0, 20.0));
}

TEST(NiceRange, endsOnTicksAndHoldsTheRange) {
    EXPECT_EQ(rw::niceRange({0.0, 41.0}, 5), (rw::Range{0.0, 50.0}));
    EXPECT_EQ(rw::niceRange({18.2, 25.4}, 4), (rw::Range{18.0, 26.0}));
    EXPECT_EQ(rw::niceRange({7.0, 7.0}, 4), (rw::Range{6.5, 7.5}));
}

TEST(DecimalsOf, writeMultiplesWithoutRounding) {
    EXPECT_EQ(rw::decimalsOf(5.0), 0);
    EXPECT_EQ(rw::decimalsOf(0.25), 2);
    EXPECT_EQ(rw::decimalsOf(0.001), 3);
}
