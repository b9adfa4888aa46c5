// Air against printed tables and an independent evaluation of the published formulas.
#include "core/physics/air.h"

#include "core/error.h"

#include <gtest/gtest.h>

#include <cmath>

namespace {

constexpr double pascalPerMmHg = 101325.0 / 760.0;

struct CipmRow {
    double temperature_C, pressure, humidity;
    double saturation, enhancement, vapour, compressibility, density;
};

// Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149–155: its formula and constants evaluated in Python with NumPy.
// The first seven lie in the formula's stated range; the rest check the code beyond it, not the air.
constexpr CipmRow cipmRows[] = {
    {20.0, 101325.0, 0.50, 2339.1632, 1.004026, 0.01158934, 0.99961477, 1.19931390},
    {20.0, 101325.0, 0.00, 2339.1632, 1.004026, 0.0, 0.99964314, 1.20455734},
    {15.0, 101325.0, 0.00, 1705.6691, 1.003928, 0.0, 0.99959221, 1.22552134},
    {25.0, 101325.0, 0.50, 3169.7570, 1.004152, 0.01570647, 0.99965084, 1.17731537},
    {27.0, 110000.0, 0.90, 3567.9378, 1.004482, 0.02932307, 0.99958494, 1.26310423},
    {15.0, 60000.0, 0.20, 1705.6691, 1.002630, 0.00570052, 0.99975045, 0.72401879},
    {23.0, 98000.0, 0.45, 2810.9046, 1.003993, 0.01295876, 0.99965205, 1.14756795},
    {0.0, 101325.0, 0.00, 611.2126, 1.003802, 0.0, 0.99941596, 1.29304870},
    {5.0, 90000.0, 0.30, 872.5345, 1.003460, 0.00291851, 0.99953103, 1.12650595},
    {30.0, 100000.0, 0.80, 4246.7990, 1.004264, 0.03411926, 0.99963056, 1.13477682},
    {35.0, 95000.0, 0.60, 5628.8646, 1.004289, 0.03570320, 0.99968768, 1.05984196},
};

TEST(MoistAir, followsCipm2007InEveryPart) {
    for (const CipmRow& row : cipmRows) {
        SCOPED_TRACE(testing::Message() << row.temperature_C << " °C " << row.pressure << " Pa " << row.humidity);
        const rw::MoistAir air = rw::moistAir(row.temperature_C, row.pressure, row.humidity);
        EXPECT_NEAR(air.saturationPressure, row.saturation, 5e-5); // half a unit of the last digit
        EXPECT_NEAR(air.enhancement, row.enhancement, 5e-7);
        EXPECT_NEAR(air.vapourFraction, row.vapour, 5e-9);
        EXPECT_NEAR(air.compressibility, row.compressibility, 5e-9);
        EXPECT_NEAR(air.density, row.density, 1e-8 * row.density);
    }
}

TEST(MoistAir, agreesWithPrintedTablesOfOtherAuthors) {
    struct Row {
        double temperature_C, pressure, humidity, printed, relative;
    };
    const Row rows[] = {
        // S. V. Gupta, Mass Metrology, Springer 2012, appendix table p. 205 (as quoted in the tests of an R package).
        {10.0, 730.0 * pascalPerMmHg, 0.40, 1.19569, 2e-5},
        {40.0, 760.0 * pascalPerMmHg, 0.40, 1.11497, 1e-4},
        // NIST SOP 2 (air buoyancy), appendix examples 1 and 3, Jones 1978 equation.
        {22.3, 748.1 * pascalPerMmHg, 0.37, 1.17194, 1e-4},
        {23.4, 612.3 * pascalPerMmHg, 0.23, 0.95632, 1e-4},
        // OIML R 111-1:2004, E.3, approximate formula (from memory), stated accuracy 2e-4: 1.199294.
        {20.0, 101325.0, 0.50, 1.199294, 2e-4},
    };
    for (const Row& row : rows)
        EXPECT_NEAR(rw::moistAir(row.temperature_C, row.pressure, row.humidity).density, row.printed,
                    row.relative * row.printed);
}

TEST(StandardPressure, agreesWithPrintedTablesByGeometricHeight) {
    struct Row {
        double elevation, printed, half;
    };
    const Row rows[] = {
        {0.0, 101325.0, 0.5},
        {1000.0, 89876.3, 0.05}, // ISO 2533:1975
        {2000.0, 79501.4, 0.05},
        {11000.0, 22699.9, 0.05 + 5e-6 * 22699.9},
        {5000.0, 54048.2622, 5e-6 * 54048.0}, // U.S. Standard Atmosphere 1976, whose R differs in the sixth digit
        {500.0, 95460.0, 5.0},
        {1500.0, 84560.0, 5.0}, // a four-digit table by geometric height
        {3000.0, 70120.0, 5.0},
        {-500.0, 107480.0, 5.0},
    };
    for (const Row& row : rows)
        EXPECT_NEAR(rw::standardPressure(row.elevation), row.printed, row.half) << row.elevation;
}

TEST(StandardPressure, takesGeometricNotGeopotentialHeight) {
    // The same numbers taken as geopotential heights would give these pressures (ISO 2533 formula in H): 0.05 % off at
    // 5000 m.
    EXPECT_GT(rw::standardPressure(5000.0) - 54019.913, 25.0);
    EXPECT_GT(rw::standardPressure(2000.0) - 79495.216, 5.0);
    // 5000 m geometric by the formula of ISO 2533, evaluated in Python.
    EXPECT_NEAR(rw::standardPressure(5000.0), 54048.287, 1e-6 * 54048.0);
}

TEST(StandardPressure, refusesHeightsOutsideTheLowestLayer) {
    EXPECT_THROW((void)rw::standardPressure(11000.1), rw::InputError);
    EXPECT_THROW((void)rw::standardPressure(-2000.1), rw::InputError);
    EXPECT_THROW((void)rw::standardPressure(std::nan("")), rw::InputError);
}

TEST(DensityAltitude, returnsTheHeightWhoseStandardDensityIsGiven) {
    // ISO 2533: density of the lowest layer as a function of geopotential height, ρ0 (1 − 0.0065
    // H/288.15)^(g/(R·0.0065) − 1).
    const double seaDensity = 101325.0 / (287.05287 * 288.15);
    const double exponent = 9.80665 / (287.05287 * 0.0065) - 1.0;
    for (const double height : {-500.0, 0.0, 1500.0, 5000.0, 10999.0}) {
        const double density = seaDensity * std::pow(1.0 - 0.0065 * height / 288.15, exponent);
        EXPECT_NEAR(rw::densityAltitude(density), height, 1e-6);
    }
    // ISO 2533 prints 1.11166 kg/m³ at H = 999.843 m; half a unit of the last digit is 0.05 m.
    EXPECT_NEAR(rw::densityAltitude(1.11166), 999.843, 0.05);
    EXPECT_NEAR(rw::densityAltitude(1.22500), 0.0, 0.05);
}

TEST(DensityAltitude, agreesWithAGroundSchoolReadingOfTheStandardTable) {
    // A ground-school text reads 0.001812 slug/ft³ as 9000 ft; such a reading is good to about 10 m.
    constexpr double kilogramPerSlug = 14.593902937;
    constexpr double cubicFoot = 0.3048 * 0.3048 * 0.3048;
    EXPECT_NEAR(rw::densityAltitude(0.001812 * kilogramPerSlug / cubicFoot), 9000.0 * 0.3048, 10.0);
}

TEST(DensityAltitude, ofMoistAirMatchesAnIndependentEvaluation) {
    // CIPM-2007 density put into the ISO 2533 density law, in Python; 0.01 m.
    EXPECT_NEAR(rw::densityAltitude(rw::moistAir(20.0, 101325.0, 0.5).density), 220.187, 0.01);
    EXPECT_NEAR(rw::densityAltitude(rw::moistAir(35.0, 95000.0, 0.6).density), 1483.132, 0.01);
    EXPECT_NEAR(rw::densityAltitude(rw::moistAir(0.0, 101325.0, 0.0).density), -566.721, 0.01);
}

TEST(HeadWind, isTheShareOfTheWindAgainstTheTravel) {
    // Plane trigonometry; weather reports name the direction the wind comes from.
    EXPECT_NEAR(rw::headWind(5.0, 90.0, 90.0), 5.0, 1e-15);
    EXPECT_NEAR(rw::headWind(5.0, 270.0, 90.0), -5.0, 1e-14);
    EXPECT_NEAR(rw::headWind(5.0, 0.0, 90.0), 0.0, 1e-14);
    EXPECT_NEAR(rw::headWind(5.0, 150.0, 90.0), 2.5, 1e-14);
}

} // namespace
