#include "core/log/quantity.h"

#include "core/units.h"

#include <gtest/gtest.h>

#include <numbers>
#include <set>

namespace {

using rw::Quantity;

TEST(Quantities, keysAreUniqueAndReadBack) {
    std::set<std::string_view> keys;
    for (const rw::QuantityInfo& info : rw::quantityTable()) {
        EXPECT_TRUE(keys.insert(info.key).second) << info.key;
        EXPECT_EQ(rw::quantityFromKey(info.key), info.quantity);
        EXPECT_EQ(rw::quantityKey(info.quantity), info.key);
    }
    EXPECT_FALSE(rw::quantityFromKey("pack voltage"));
}

// NIST SP 811 (2008), appendix B: 0 °C is 273.15 K; 1 mi/h, 1.609344 km/h, is 0.44704 m/s exactly; 1 rpm is 2π/60
// rad/s.
TEST(Quantities, areShownInTheTradesUnits) {
    EXPECT_NEAR(rw::toDisplay(Quantity::MotorTemperature, 353.15), 80.0, 1e-12);
    EXPECT_NEAR(rw::toDisplay(Quantity::Speed, 44.704), 160.9344, 1e-10);
    EXPECT_NEAR(rw::toDisplay(Quantity::MotorSpeed, 2.0 * std::numbers::pi), 60.0, 1e-12);
    EXPECT_DOUBLE_EQ(rw::toDisplay(Quantity::Charge, 3600.0), 1000.0);
    EXPECT_DOUBLE_EQ(rw::toDisplay(Quantity::Throttle, 0.5), 50.0);
}

} // namespace
