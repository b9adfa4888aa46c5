// Standing between passes against its end state in closed form, for every pace of the RC pair.
#include "core/pass/pass.h"
#include "tests/pass/samples/sample_passes.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace {

// After many time constants every node rests where its heat leaves as fast as it comes: a node at
// watts × resistance to the air over it, the RC pair at I R_1.
TEST(Standing, EndsWhereHeatLeavesAsFastAsItComes) {
    const rw::testing::SamplePass sample = rw::testing::samplePasses().front();
    rw::PassSetup setup = sample.setup;
    setup.pack.resistanceB = 0.0;
    setup.pack.rcResistance = 0.003;
    const double current = setup.controller.auxiliaryCurrent = 0.6;
    const double air = setup.strip.airTemperature;
    const double packWatts = current * current * (setup.pack.cellsResistance(25.0) + setup.pack.rcResistance);
    for (const double capacitance : {1e-3, 1.0, 1e3, 1e5}) {
        setup.pack.rcCapacitance = capacitance;
        const double seconds = 60.0 * std::max(setup.pack.heat.capacity * setup.pack.heat.toAir.standing,
                                               setup.pack.rcResistance * capacitance);
        const rw::StartState end = rw::standFor(setup, sample.start, seconds);
        EXPECT_NEAR(end.polarisation, current * setup.pack.rcResistance, 1e-12);
        EXPECT_NEAR(end.pack, air + packWatts * setup.pack.heat.toAir.standing, 1e-9);
        EXPECT_NEAR(end.controller, air + setup.controller.idle * setup.controller.heat.toAir.standing, 1e-9);
    }
}

// A limit that the auxiliary current uses up lets none through to the motor from the first instant on, the ramp's own
// beginning included.
TEST(Standing, NoCurrentIsLeftForTheMotor) {
    for (const rw::testing::SamplePass& sample : rw::testing::samplePasses()) {
        rw::PassSetup setup = sample.setup;
        setup.controller.packCurrentLimit = setup.controller.auxiliaryCurrent = 4.0;
        const rw::PassResult limited = rw::simulatePass(setup, sample.start);
        EXPECT_EQ(limited.peakMotorCurrent, 0.0) << sample.name;
        EXPECT_EQ(limited.peakPackCurrent, 4.0) << sample.name;
        setup = sample.setup;
        setup.controller.cutoff = rw::CutoffMode::Soft;
        setup.controller.cutoffVoltage = 1.1 * setup.pack.series * setup.pack.ocv.at(sample.start.charge);
        EXPECT_EQ(rw::simulatePass(setup, sample.start).peakMotorCurrent, 0.0) << sample.name;
    }
}

} // namespace
