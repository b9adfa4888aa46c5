// Lumped heat against textbook examples and the closed form of two nodes.
#include "core/physics/heat.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace {

// A sphere as one node: capacity ρ c V, resistance 1/(h A).
rw::OneNodeHeat sphere(double diameter, double density, double specificHeat, double convection) {
    rw::OneNodeHeat node;
    const double area = std::numbers::pi * diameter * diameter;
    node.capacity = density * specificHeat * area * diameter / 6.0;
    node.toAir.standing = 1.0 / (convection * area);
    return node;
}

TEST(OneNode, readsLikeTheThermocoupleJunctionOfATextbook) {
    // Çengel, Heat and Mass Transfer, Example 4-1 (data and steps seen in an open set of solutions): sphere of 1 mm,
    // ρ 8500, c_p 320, h 210: 99 % of the change after 10 s (9.9413 s by ln(100)/b, b = 0.463235 1/s).
    const rw::OneNodeHeat junction = sphere(1e-3, 8500.0, 320.0, 210.0);
    EXPECT_NEAR(rw::settle(junction, 0.0, 100.0, 0.0, 10.0), 99.0, 0.05);
    EXPECT_NEAR(rw::settle(junction, 0.0, 100.0, 0.0, 9.9413), 99.0, 1e-4);
}

TEST(OneNode, heatsLikeTheSecondTextbooksJunction) {
    // Incropera et al., Fundamentals of Heat and Mass Transfer, Example 5.1: h 400, c 400, ρ 8500, time constant 1 s
    // gives 0.705882 mm; from 25 to 199 °C in gas of 200 °C in 5.2 s (5.164786 s; end temperature and answer from
    // memory).
    const rw::OneNodeHeat junction = sphere(0.705882e-3, 8500.0, 400.0, 400.0);
    EXPECT_NEAR(junction.capacity * junction.toAir.standing, 1.0, 1e-6);
    EXPECT_NEAR(rw::settle(junction, 25.0, 200.0, 0.0, 5.164786), 199.0, 1e-5);
}

TEST(OneNode, comesToRestWherePowerEqualsLoss) {
    // Steady state: T = T_a + P R.
    rw::OneNodeHeat node;
    node.capacity = 50.0;
    node.toAir.standing = 3.0;
    EXPECT_NEAR(rw::settle(node, 20.0, 25.0, 10.0, 1e5), 55.0, 1e-10);
    // First slope P/C while it is at the air's temperature.
    EXPECT_NEAR(rw::settle(node, 25.0, 25.0, 10.0, 1e-4) - 25.0, 10.0 / 50.0 * 1e-4, 1e-9);
}

// C_w 60, C_h 180 J/K, R_wh 0.25, R_ha 3.0 K/W; from 120 and 60 °C in air of 25 °C: x' = A x solved by eigenvalues
// (λ −0.08935916 and −0.00138158 1/s) in double precision with NumPy.
rw::TwoNodeHeat motor() {
    rw::TwoNodeHeat heat;
    heat.windingCapacity = 60.0;
    heat.caseCapacity = 180.0;
    heat.windingToCase = 0.25;
    heat.toAir.standing = 3.0;
    return heat;
}

TEST(TwoNodes, coolAlongTheClosedForm) {
    struct Row {
        double seconds, winding, motorCase;
    };
    const Row rows[] = {{10.0, 93.31916123, 68.15790729},
                        {30.0, 76.96675501, 71.91408816},
                        {60.0, 72.17292969, 70.92295533},
                        {120.0, 68.23121807, 67.33402913},
                        {600.0, 47.27315807, 46.81157597}};
    for (const Row& row : rows) {
        const rw::TwoNodeTemperatures t = rw::cool(motor(), {120.0, 60.0}, 25.0, row.seconds);
        EXPECT_NEAR(t.winding, row.winding, 1e-7) << row.seconds;
        EXPECT_NEAR(t.motorCase, row.motorCase, 1e-7) << row.seconds;
    }
    EXPECT_NEAR(rw::cool(motor(), {120.0, 60.0}, 25.0, 870.9873886).motorCase, 40.0, 1e-6);
}

TEST(TwoNodes, soakPeakIsWhereTheClosedFormHasIt) {
    // t = ln(−a_i λ_i/(a_j λ_j))/(λ_j − λ_i): 33.69019177 s, 71.9583552 °C; the winding is then at 75.87155147 °C.
    const rw::CasePeak peak = rw::casePeak(motor(), {120.0, 60.0}, 25.0);
    ASSERT_TRUE(peak.after.has_value());
    EXPECT_NEAR(*peak.after, 33.69019177, 1e-6);
    EXPECT_NEAR(peak.temperature, 71.9583552, 1e-6);
    EXPECT_NEAR(rw::cool(motor(), {120.0, 60.0}, 25.0, *peak.after).winding, 75.87155147, 1e-6);
}

TEST(TwoNodes, withoutStoredHeatFallAtOnceOrClimbToTheAir) {
    // Second law: a case warmer than winding and air can only fall; one colder than both, below the air, only climbs to
    // it.
    const rw::CasePeak falling = rw::casePeak(motor(), {60.0, 70.0}, 25.0);
    EXPECT_EQ(falling.temperature, 70.0);
    ASSERT_TRUE(falling.after.has_value());
    EXPECT_EQ(*falling.after, 0.0);
    const rw::CasePeak climbing = rw::casePeak(motor(), {12.0, 10.0}, 25.0);
    EXPECT_EQ(climbing.temperature, 25.0);
    EXPECT_FALSE(climbing.after.has_value());
}

TEST(Cooling, growsWithTheFourFifthsPowerOfSpeed) {
    // Turbulent flat plate, Nu = 0.037 Re^0.8 Pr^(1/3), Incropera ch. 7 (from memory): doubling the speed
    // × 1.741101127.
    rw::AirCooling wind{3.0, 1e9};
    EXPECT_NEAR(wind.resistance(10.0) / wind.resistance(20.0), 1.741101127, 1e-8);
    // 3.0 K/W, coefficient 0.05: by hand.
    wind.coefficient = 0.05;
    EXPECT_EQ(wind.resistance(0.0), 3.0);
    EXPECT_NEAR(wind.resistance(10.0), 2.280538684, 2e-8);
    EXPECT_NEAR(wind.resistance(20.0), 1.936383013, 2e-8);
    EXPECT_NEAR(wind.resistance(40.0), 1.533465978, 2e-8);
}

} // namespace
