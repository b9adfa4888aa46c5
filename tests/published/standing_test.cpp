// A pack under the auxiliary current alone: the Thevenin circuit's step response. Linear circuit, solved by hand
// (model: Plett, Battery Management Systems, vol. 1, from memory).
#include "core/pass/pass.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

// 25.2 V, 6 mΩ, RC pair of 4 mΩ and 500 F (2 s), 100 A; no heat leaves.
rw::PassSetup loaded(double current) {
    rw::PassSetup s;
    s.pack.series = 6;
    s.pack.capacity = 5.0 * 3600.0;
    s.pack.cellResistance25 = 0.001;
    s.pack.rcResistance = 0.004;
    s.pack.rcCapacitance = 500.0;
    s.pack.ocv = rw::OpenCircuitVoltage({0.0, 1.0}, {4.2, 4.2});
    s.pack.heat = {1000.0, {1e12, 0.0}};
    s.controller.auxiliaryCurrent = current;
    return s;
}

TEST(RcPair, stepsLikeALinearCircuit) {
    // U = U_oc − I R_0 − I R_1 (1 − e^(−t/τ)).
    const double rows[][2] = {{1.0, 24.442612264}, {2.0, 24.347151776}, {5.0, 24.232833999}, {10.0, 24.202695179}};
    for (const auto& row : rows) {
        const rw::StartState state = rw::standFor(loaded(100.0), {}, row[0]);
        EXPECT_NEAR(25.2 - 100.0 * 0.006 - state.polarisation, row[1], 1e-8) << row[0];
    }
}

TEST(RcPair, relaxesWithItsTimeConstant) {
    rw::StartState after = rw::standFor(loaded(100.0), {}, 5.0);
    EXPECT_NEAR(after.polarisation, 0.367166001, 1e-8);
    const double rows[][2] = {{1.0, 24.977302563}, {3.0, 25.118074191}, {10.0, 25.197526055}};
    for (const auto& row : rows) {
        const rw::StartState state = rw::standFor(loaded(0.0), after, row[0]);
        EXPECT_NEAR(25.2 - state.polarisation, row[1], 1e-8) << row[0];
    }
}

TEST(RcPair, countsChargeAndHeatOfTheStep) {
    // 100 A for 5 s: 0.138888889 Ah; ∫(I² R_0 + U_1²/R_1) dt = 392.864082 J, which warms 1000 J/K.
    const rw::StartState start;
    const rw::StartState after = rw::standFor(loaded(100.0), start, 5.0);
    EXPECT_NEAR((start.charge - after.charge) * 5.0, 0.138888889, 1e-9);
    EXPECT_NEAR((after.pack - start.pack) * 1000.0, 392.864082, 4e-6);
}

} // namespace
