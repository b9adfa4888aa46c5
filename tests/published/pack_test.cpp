// Pack: interpolation and resistances against published data and closed forms.
#include "core/physics/pack.h"

#include "core/error.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace {

// Fritsch, Carlson, SIAM J. Numer. Anal. 17 (1980) 238–246, data RPN 14 (seen in eight public tests).
const std::vector<double> rpnX{7.99, 8.09, 8.19, 8.7, 9.2, 10.0, 12.0, 15.0, 20.0};
const std::vector<double> rpnF{0.0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.943740, 0.998636, 0.999919, 0.999994};

TEST(OpenCircuitVoltage, staysMonotoneOnTheDataThatSplinesOvershoot) {
    const rw::OpenCircuitVoltage curve(rpnX, rpnF);
    for (std::size_t i = 0; i < rpnX.size(); ++i)
        EXPECT_NEAR(curve.at(rpnX[i]), rpnF[i], 1e-15);
    double before = curve.at(7.99);
    for (int i = 1; i <= 24000; ++i) {
        const double value = curve.at(7.99 + (20.0 - 7.99) * i / 24000.0);
        ASSERT_GE(value, before - 1e-15) << i; // rounding of the last bit
        ASSERT_LE(value, 0.999994 + 1e-15);
        before = value;
    }
}

TEST(OpenCircuitVoltage, hasTheSlopesOfFritschAndButland) {
    // Fritsch, Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300: inner slope = weighted harmonic mean of the secants.
    // Charges 0, 1, 3 with secants 2 and 1: w1 = 2·2 + 1 = 5, w2 = 2 + 2·1 = 4, slope (5 + 4)/(5/2 + 4/1) = 18/13.
    const rw::OpenCircuitVoltage curve({0.0, 1.0, 3.0}, {0.0, 2.0, 4.0});
    const double h = 1e-6;
    EXPECT_NEAR((curve.at(1.0 + h) - curve.at(1.0 - h)) / (2.0 * h), 18.0 / 13.0, 1e-6);
    // End slopes are the end secants.
    EXPECT_NEAR((curve.at(h) - curve.at(0.0)) / h, 2.0, 1e-5);
    EXPECT_NEAR((curve.at(3.0) - curve.at(3.0 - h)) / h, 1.0, 1e-5);
    // Cubic Hermite half way: (f0 + f1)/2 + h (m0 − m1)/8.
    EXPECT_NEAR(curve.at(0.5), 1.0 + (2.0 - 18.0 / 13.0) / 8.0, 1e-14);
}

TEST(OpenCircuitVoltage, keepsItsEndValuesOutside) {
    const rw::OpenCircuitVoltage curve({0.0, 1.0}, {3.3, 4.2});
    EXPECT_EQ(curve.at(-0.1), 3.3);
    EXPECT_EQ(curve.at(1.1), 4.2);
    EXPECT_NEAR(curve.at(0.5), 3.75, 1e-15);
    EXPECT_THROW(rw::OpenCircuitVoltage({0.0}, {3.3}), rw::InputError);
    EXPECT_THROW(rw::OpenCircuitVoltage({0.0, 0.0}, {3.3, 3.4}), rw::InputError);
}

TEST(OpenCircuitVoltage, isFlatWhereTheTableIs) {
    // Fritsch–Butland: slope 0 where a secant is 0.
    const rw::OpenCircuitVoltage curve({0.0, 1.0, 2.0, 3.0}, {3.0, 3.5, 3.5, 4.0});
    for (double charge = 1.0; charge <= 2.0; charge += 0.01)
        EXPECT_EQ(curve.at(charge), 3.5);
}

rw::Pack cells(int series, int parallel, double cell, double b, double lead) {
    rw::Pack pack;
    pack.series = series;
    pack.parallel = parallel;
    pack.cellResistance25 = cell;
    pack.resistanceB = b;
    pack.leadResistance = lead;
    return pack;
}

TEST(PackResistance, addsSeriesCellsAndLeads) {
    // Six in series, two in parallel, 1.5 mΩ each, 1 mΩ of leads: 5.5 mΩ.
    const rw::Pack pack = cells(6, 2, 1.5e-3, 0.0, 1e-3);
    EXPECT_NEAR(pack.resistance(25.0), 5.5e-3, 1e-18);
    EXPECT_NEAR(pack.cellsResistance(60.0), 4.5e-3, 1e-18);
}

TEST(PackResistance, followsTheArrheniusForm) {
    // exp(B (1/T − 1/298.15)), B-parameter equation; evaluated in Python, 1e-8.
    struct Row {
        double b, celsius, factor;
    };
    const Row rows[] = {{2000.0, 0.0, 1.847718045},  {2000.0, 10.0, 1.426695729}, {2000.0, 25.0, 1.0},
                        {2000.0, 45.0, 0.655937382}, {2000.0, 60.0, 0.494241481}, {3950.0, 0.0, 3.362060372},
                        {3950.0, 10.0, 2.017457702}, {3950.0, 45.0, 0.434813685}, {3950.0, 60.0, 0.248616475}};
    for (const Row& row : rows)
        EXPECT_NEAR(cells(1, 1, 1.0, row.b, 0.0).cellsResistance(row.celsius), row.factor, 1e-8 * row.factor)
            << row.b << " " << row.celsius;
}

} // namespace
