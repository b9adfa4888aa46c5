// A pass driven by its own recorded duty gives its own figures: at 1 kHz to 1e-4; at 20 Hz to what linear interpolation
// leaves out, which falls with the square of the interval (standard error bound of linear interpolation, h²/8 |f''|).
#include "core/error.h"
#include "core/pass/driven.h"
#include "tests/pass/samples/sample_passes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace rw::testing {

namespace {

struct Recorded {
    DriveRecord drive;
    std::vector<double> times;
    std::vector<Instant> truth;
    PassResult result;
};

Recorded recordedAt(const SamplePass& pass, double rate) {
    Recorded out;
    std::vector<Instant> all;
    out.result = simulatePass(pass.setup, pass.start, {.traceRate = rate}, [&](const Instant& i) { all.push_back(i); });
    for (const Instant& i : all) {
        const double slot = i.time * rate;
        if (std::abs(slot - std::round(slot)) > 1e-9) continue;
        if (!out.times.empty() && i.time <= out.times.back()) continue;
        out.times.push_back(i.time);
        out.truth.push_back(i);
    }
    const double close = out.result.zoneExit.value_or(0.0);
    double lastDuty = 0.0;
    for (const Instant& i : out.truth)
        if (i.time <= close) {
            out.drive.duty.push_back({i.time, i.duty});
            lastDuty = i.duty;
        }
    out.drive.duty.push_back({close, lastDuty});
    out.drive.close = close;
    out.drive.end = out.result.duration;
    out.drive.brakeAfter = pass.setup.driving.reaction;
    return out;
}

// The largest error of each quantity, as a share of its largest value.
std::map<std::string, double> errorsOf(const Recorded& recorded, const DrivenResult& driven) {
    std::map<std::string, double> error, most;
    const auto look = [&](const std::string& name, double is, double was) {
        error[name] = std::max(error[name], std::abs(is - was));
        most[name] = std::max(most[name], std::abs(was));
    };
    for (std::size_t i = 0; i < recorded.truth.size(); ++i) {
        const Instant& was = recorded.truth[i];
        const DrivenSample& is = driven.samples[i];
        if (was.time == 0.0 || std::abs(was.time - recorded.drive.close) < 1e-9) continue; // either side of a jump
        look("speed", is.speed, was.speed);
        look("voltage", is.packVoltage, was.packVoltage);
        look("current", is.packCurrent, was.packCurrent);
        look("motor speed", is.motorSpeed, was.motorSpeed);
        look("case", is.motorCase, was.motorCase);
        look("controller", is.controller, was.controller);
        look("pack", is.pack, was.pack);
    }
    for (auto& [name, value] : error)
        value /= std::max(most[name], 1e-9);
    return error;
}

TEST(Driven, ByItsOwnDutyAtOneKilohertzGivesItsOwnFigures) {
    for (const SamplePass& pass : samplePasses()) {
        const Recorded recorded = recordedAt(pass, 1000.0);
        ASSERT_TRUE(recorded.result.completed) << pass.name;
        const DrivenResult driven = driveThrough(pass.setup, pass.start, recorded.drive, recorded.times);
        ASSERT_EQ(driven.samples.size(), recorded.times.size());
        for (const auto& [name, error] : errorsOf(recorded, driven))
            EXPECT_LT(error, 1e-4) << pass.name << " " << name;
        EXPECT_NEAR(*driven.zoneMean, *recorded.result.zoneMean, 1e-4 * *recorded.result.zoneMean);
        EXPECT_NEAR(driven.peakSpeed, recorded.result.peakSpeed, 1e-4 * recorded.result.peakSpeed);
        EXPECT_NEAR(driven.end.charge, recorded.result.end.charge, 1e-5);
        EXPECT_NEAR(driven.end.winding, recorded.result.end.winding, 1e-4 * recorded.result.end.winding);
    }
}

TEST(Driven, AtTwentyHertzTheErrorIsThatOfLinearInterpolation) {
    for (const SamplePass& pass : samplePasses()) {
        double fine = 0.0, coarse = 0.0;
        for (const auto& [rate, sum] : {std::pair{20.0, &coarse}, std::pair{40.0, &fine}}) {
            const Recorded recorded = recordedAt(pass, rate);
            const DrivenResult driven = driveThrough(pass.setup, pass.start, recorded.drive, recorded.times);
            *sum = std::abs(*driven.zoneMean / *recorded.result.zoneMean - 1.0);
        }
        EXPECT_LT(coarse, 2e-3) << pass.name;
        // A quarter for smooth duty; where a limit takes over between two rows, at least a half.
        EXPECT_LT(fine, 0.6 * coarse + 1e-6) << pass.name;
    }
}

TEST(Driven, ItsOwnLimitsActOnTheThrottle) {
    // Asked for what the throttle asks for, the limits of the setup give the planned pass again.
    for (const SamplePass& pass : harderPasses()) {
        if (pass.setup.controller.cutoff == CutoffMode::Hard) continue; // a recorded duty shows it
        Recorded recorded = recordedAt(pass, 50.0);
        if (!recorded.result.completed) continue;
        const double ramp = pass.setup.driving.throttleRamp, end = pass.setup.controller.endpoint;
        const double full = std::max(ramp, 1.0 / pass.setup.controller.dutyRate.value_or(1e12));
        recorded.drive.duty = {{0.0, 0.0}, {full, end}, {recorded.drive.close, end}};
        const DrivenResult driven = driveThrough(pass.setup, pass.start, recorded.drive, recorded.times);
        EXPECT_NEAR(*driven.zoneMean, *recorded.result.zoneMean, 1e-6 * *recorded.result.zoneMean) << pass.name;
        for (const auto& [name, error] : errorsOf(recorded, driven))
            EXPECT_LT(error, 1e-5) << pass.name << " " << name;
    }
}

// A current limit that would be passed for a moment only, however short it is beside the steps: it is never passed.
TEST(Driven, ALimitThatTakesOverForAMomentHolds) {
    for (const SamplePass& pass : samplePasses()) {
        PassSetup setup = pass.setup;
        setup.controller.packCurrentLimit.reset();
        setup.controller.motorCurrentLimit.reset();
        DriveRecord drive;
        drive.duty = {{0.0, 0.0}, {4.0, 1.0}, {8.0, 1.0}};
        drive.close = drive.end = 8.0;
        std::vector<double> times(8000);
        for (std::size_t i = 0; i < times.size(); ++i)
            times[i] = 1e-3 * static_cast<double>(i);
        const auto mostOf = [&] {
            double most = 0.0;
            for (const DrivenSample& sample : driveThrough(setup, pass.start, drive, times).samples)
                most = std::max(most, sample.motorCurrent);
            return most;
        };
        const double most = mostOf();
        for (const double share : {1e-5, 1e-4, 3e-4, 1e-3, 3e-3}) {
            const double limit = (1.0 - share) * most;
            setup.controller.motorCurrentLimit = limit;
            EXPECT_LT(mostOf(), limit * (1.0 + 1e-7)) << pass.name << ", " << share << " below the most";
        }
    }
}

TEST(Driven, KnownSpeedsAfterTheCloseGiveTheSameHeat) {
    for (const SamplePass& pass : samplePasses()) {
        Recorded recorded = recordedAt(pass, 50.0);
        recorded.drive.rolling.push_back({recorded.drive.close, 0.0});
        for (const Instant& i : recorded.truth)
            if (i.time > recorded.drive.close)
                recorded.drive.rolling.push_back(
                    {i.time, i.wheelSpeed * pass.setup.tyre.radiusAt(i.wheelSpeed)}); // what a motor speed tells
        recorded.drive.rolling.front().speed = recorded.drive.rolling[1].speed;
        recorded.drive.rolling.push_back({recorded.result.duration, 0.0});
        const DrivenResult driven = driveThrough(pass.setup, pass.start, recorded.drive, recorded.times);
        EXPECT_NEAR(driven.end.motorCase, recorded.result.end.motorCase, 0.02) << pass.name;
        EXPECT_NEAR(driven.end.controller, recorded.result.end.controller, 0.02) << pass.name;
    }
}

TEST(Driven, StandingBeforeAndAfterIsTheClosedForm) {
    const SamplePass pass = samplePasses().front();
    DriveRecord drive;
    drive.end = 100.0;
    const std::vector<double> times{0.0, 40.0, 100.0};
    const DrivenResult stood = driveThrough(pass.setup, pass.start, drive, times);
    const StartState after = standFor(pass.setup, pass.start, 100.0);
    EXPECT_NEAR(stood.end.motorCase, after.motorCase, 1e-9);
    EXPECT_NEAR(stood.end.charge, after.charge, 1e-12);
    EXPECT_EQ(stood.samples.size(), 3U);
    EXPECT_NEAR(stood.samples.back().controller, after.controller, 1e-9);
}

// A search for a car's values asks for impossible cars too.
TEST(Driven, HeatWithoutEndIsRefused) {
    SamplePass pass = samplePasses().front();
    pass.setup.motor.heat.windingCapacity = 1e-4; // less than a milligram of copper: rolling's steps cannot follow it
    DriveRecord drive;
    drive.duty = {{0.0, 0.0}, {1.0, 1.0}, {2.0, 1.0}};
    drive.rolling = {{2.0, 8.0}, {4.0, 0.0}};
    drive.close = 2.0;
    drive.end = 4.0;
    EXPECT_THROW(static_cast<void>(driveThrough(pass.setup, pass.start, drive, {})), InputError);
}

} // namespace

} // namespace rw::testing
