// Each finding on a log made for it, and on one that only just escapes it.
#include "core/review/finding_kinds.h"
#include "tests/review/hand_log.h"

#include <gmock/gmock.h>

#include <cmath>

namespace rw {
namespace {

using namespace test;
using enum Quantity;

using Make = std::function<void(HandLog&, ReviewOptions&)>;
struct Case {
    const char* name;
    const char* id;
    Make make;
    bool found;
    Severity severity = Severity::Watch;
};

std::ostream& operator<<(std::ostream& out, const Case& c) { return out << c.name; }

// The pass's voltage lowered so that its lowest cell reads about this.
Make lowest(double cell, double from = 22.0, double to = 22.5) {
    return [=](HandLog& log, ReviewOptions&) {
        log.change(PackVoltage, [=](double t, double was) { return t > from && t < to ? 4.0 * cell : was; });
    };
}
Make hot(Quantity q, double celsius) {
    return [=](HandLog& log, ReviewOptions&) {
        log.change(q, [=](double t, double) {
            return 273.15 + celsius - 6.0 + std::clamp((t - opens) / 4.0, 0.0, 3.0) * 2.0 -
                   std::max(0.0, t - 40.0) * 0.1;
        });
    };
}
Make both(Make a, Make b) {
    return [=](HandLog& log, ReviewOptions& o) { a(log, o), b(log, o); };
}
Make withPlan(std::function<void(PlanInput&)> edit = [](PlanInput&) {}) {
    return [=](HandLog&, ReviewOptions& o) {
        o.plan = handPlan();
        edit(*o.plan);
    };
}
Make cutoffAt(double volts) {
    return [=](HandLog&, ReviewOptions& o) { o.cutoffCell = volts; };
}
Make output(std::function<double(double, double)> how) {
    return [=](HandLog& log, ReviewOptions&) { log.change(Output, how); };
}
Make change(Quantity q, std::function<double(double, double)> how) {
    return [=](HandLog& log, ReviewOptions&) { log.change(q, how); };
}
Make put(Quantity q, Course course) {
    return [=](HandLog& log, ReviewOptions&) { log.put(q, course); };
}
// Motor speed up and current down for 0.2 s from 24 s on.
Make lightWheels(double jump, double current) {
    const auto light = [](double t) { return t > 24.01 && t < 24.24; };
    return both(change(MotorSpeed, [=](double t, double was) { return light(t) ? was * (1.0 + jump) : was; }),
                change(PackCurrent, [=](double t, double was) { return light(t) ? was * current : was; }));
}
// At 100 Hz: motor speed climbs to 8 % over its course within 0.15 s.
Make gettingLight() {
    const auto light = [](double t) { return t < 24.3 ? std::clamp((t - 24.0) / 0.15, 0.0, 1.0) : 0.0; };
    return both([](HandLog& log, ReviewOptions&) { log.sampled(100.0); },
                both(change(MotorSpeed, [=](double t, double was) { return was * (1.0 + 0.08 * light(t)); }),
                     change(PackCurrent, [=](double t, double was) { return was * (1.0 - 0.5 * light(t)); })));
}
// The motor's case starts each of `starts` passes at a given temperature.
Make passesFrom(std::vector<double> starts) {
    return [=](HandLog& log, ReviewOptions&) {
        const double apart = 60.0;
        const auto within = [=](double t) { return t - apart * std::floor(std::max(0.0, t - 10.0) / apart); };
        for (const Quantity q : {Throttle, Output, PackCurrent, PackVoltage, MotorSpeed})
            log.put(q, [=, was = log.of(q)](double t) { return was(within(t)); });
        log.put(MotorTemperature, [=](double t) {
            const auto k = static_cast<std::size_t>(std::max(0.0, t - 10.0) / apart);
            const double at = within(t), from = starts[std::min(k, starts.size() - 1)];
            const double up = at < opens ? 0.0 : 10.0 * (1.0 - std::exp(-(at - opens) / 5.0)),
                         down = at < 40.0 ? 0.0 : (at - 40.0) * 0.3;
            return 273.15 + from + up - down;
        });
        log.lasts(10.0 + apart * static_cast<double>(starts.size()));
    };
}

// rpm = kv·(U − I·R), by which a motor's speed constant is defined; the second pass at 14 % more current.
Make lossyMotor(double second) {
    return [=](HandLog& log, ReviewOptions&) {
        const auto load = [was = log.of(PackCurrent)](double t) { return (t > 70.0 ? 2.3 : 2.0) * was(t); };
        const auto voltage = [=](double t) { return (t > 70.0 ? 16.3 : 16.72) - 0.006 * load(t); };
        log.put(PackCurrent, load).put(PackVoltage, voltage);
        log.put(MotorSpeed, [=, throttle = log.of(Throttle)](double t) {
            constexpr double kv = 3000.0, ohm = 0.035, perRpm = 0.10471975511965977;
            return throttle(t) < 0.5 ? 0.0 : (t > 70.0 ? second : 1.0) * kv * (voltage(t) - ohm * load(t)) * perRpm;
        });
    };
}

const std::vector<Case>& cases() {
    static const std::vector<Case> all{
        {"OutputAt95", "output-below-full", output([](double, double was) { return 0.95 * was; }), true},
        {"OutputAt99Point6", "output-below-full", output([](double, double was) { return 0.996 * was; }), false},
        {"OutputThatWanders", "output-below-full",
         output([](double t, double was) { return was * (0.9 + 0.08 * std::sin(12.0 * t)); }), false},
        {"OutputTakes2s", "throttle-slow",
         output([](double t, double was) { return std::min(was, std::max(0.0, (t - opens) / 2.5)); }), true,
         Severity::Note},
        {"OutputTakes1s", "throttle-slow",
         output([](double t, double was) { return std::min(was, std::max(0.0, (t - opens) / 1.25)); }), false},
        {"ThrottleAlongALine", "throttle-slow",
         both(put(Throttle, [](double t) { return t < opens || t >= closes ? 0.0 : std::min(1.0, (t - opens) / 2.5); }),
              put(Output, [](double t) { return t < opens || t >= closes ? 0.0 : std::min(1.0, (t - opens) / 2.5); })),
         true, Severity::Note},
        {"RampThatThePlanHas", "throttle-slow",
         both(withPlan([](PlanInput& p) { p.drive.throttle_ramp_s = 2.5; }),
              both(put(Throttle,
                       [](double t) { return t < opens || t >= closes ? 0.0 : std::min(1.0, (t - opens) / 2.5); }),
                   put(Output,
                       [](double t) { return t < opens || t >= closes ? 0.0 : std::min(1.0, (t - opens) / 2.5); }))),
         false},
        {"VoltageAtTheCutoffThatTakesNothing", "cutoff-acted", both(cutoffAt(3.4), lowest(3.4)), false},
        {"VoltageUnderTheCutoff", "cutoff-passed", both(cutoffAt(3.5), lowest(3.4, 22.0, 23.5)), true, Severity::Note},
        {"OutputFallsNearTheCutoff", "cutoff-acted",
         both(both(cutoffAt(3.4), lowest(3.45)),
              output([](double t, double was) { return t > 22.2 && t < 22.6 ? 0.9 * was : was; })),
         true},
        {"PowerCutAtTheCutoff", "cutoff-acted",
         both(both(cutoffAt(3.4), lowest(3.38)),
              output([](double t, double was) { return t > 22.4 && t < closes ? 0.0 : was; })),
         true, Severity::Act},
        {"OutputFallsFarFromTheCutoff", "cutoff-acted",
         both(cutoffAt(3.2), output([](double t, double was) { return t > 22.2 && t < 22.6 ? 0.9 * was : was; })),
         false},
        {"UnknownCutoffLowVoltage", "cutoff-acted", both(lowest(3.5, 22.0, 24.0), output([](double t, double was) {
                                                             return t > 22.2 && t < 24.0 ? 0.8 * was : was;
                                                         })),
         true, Severity::Note},
        {"UnknownCutoffHighVoltage", "cutoff-acted",
         output([](double t, double was) { return t > 22.2 && t < 24.0 ? 0.8 * was : was; }), false},
        {"SagTo3Point1", "sag-deep", lowest(3.1), true},
        {"SagTo2Point9", "sag-deep", lowest(2.9), true, Severity::Act},
        {"SagTo3Point25", "sag-deep", lowest(3.25), false},
        {"SagOfOneSample", "sag-deep", lowest(3.1, 22.01, 22.09), false},
        {"PackOverContinuous", "pack-current-over",
         withPlan([](PlanInput& p) { p.pack.continuous_c_rate = 15.0, p.pack.burst_c_rate = 40.0; }), true},
        {"PackOverBurst", "pack-current-over", withPlan([](PlanInput& p) { p.pack.continuous_c_rate = 15.0; }), true,
         Severity::Act},
        {"PackWithinRating", "pack-current-over", withPlan([](PlanInput& p) { p.pack.continuous_c_rate = 25.0; }),
         false},
        {"ControllerOverContinuous", "controller-current-over",
         withPlan([](PlanInput& p) { p.controller.continuous_A = 70.0, p.controller.burst_A = 300.0; }), true},
        {"ControllerWithinRating", "controller-current-over",
         withPlan([](PlanInput& p) { p.controller.continuous_A = 130.0; }), false},
        {"RippleOf6Percent", "ripple-high",
         change(RippleVoltage, [](double t, double was) { return t > 22.0 && t < 22.5 ? 0.95 : was; }), true},
        {"RippleOf12Percent", "ripple-high",
         change(RippleVoltage, [](double t, double was) { return t > 22.0 && t < 22.5 ? 1.9 : was; }), true,
         Severity::Act},
        {"RippleOf4Percent", "ripple-high",
         change(RippleVoltage, [](double t, double was) { return t > 22.0 && t < 22.5 ? 0.62 : was; }), false},
        {"Motor85", "motor-hot", hot(MotorTemperature, 85.0), true},
        {"Motor105", "motor-hot", hot(MotorTemperature, 105.0), true, Severity::Act},
        {"Motor79", "motor-hot", hot(MotorTemperature, 79.0), false},
        {"Controller85", "controller-hot", hot(ControllerTemperature, 85.0), true},
        {"Controller79", "controller-hot", hot(ControllerTemperature, 79.0), false},
        {"Pack55", "pack-hot", hot(PackTemperature, 55.0), true},
        {"Pack49", "pack-hot", hot(PackTemperature, 49.0), false},
        {"ThreeStartsRise4", "heat-accumulates", passesFrom({30.0, 34.0, 38.0}), true},
        {"ThreeStartsRise2", "heat-accumulates", passesFrom({30.0, 32.0, 34.0}), false},
        {"TwoStartsRise11", "heat-accumulates", passesFrom({30.0, 41.0}), true},
        {"TwoStartsRise9", "heat-accumulates", passesFrom({30.0, 39.0}), false},
        {"NextWouldBreakTheLimit", "heat-accumulates", passesFrom({62.0, 73.0, 84.0}), true, Severity::Act},
        {"MotorOverItsSpeed", "motor-overspeed", withPlan([](PlanInput& p) { p.motor.max_speed_rpm = 38000.0; }), true,
         Severity::Act},
        {"MotorWithinItsSpeed", "motor-overspeed", withPlan([](PlanInput& p) { p.motor.max_speed_rpm = 41000.0; }),
         false},
        {"TyresOverTheirSpeed", "motor-overspeed", withPlan([](PlanInput& p) { p.tyre.max_speed_radps = 1000.0; }),
         true, Severity::Act},
        {"ElectricalOverItsSpeed", "motor-overspeed",
         withPlan([](PlanInput& p) { p.controller.max_electrical_rpm = 76000.0; }), true, Severity::Act},
        {"LightWheels", "wheels-unloaded", lightWheels(0.08, 0.5), true},
        {"LightWheelsSampledFinely", "wheels-unloaded",
         both(lightWheels(0.08, 0.5), [](HandLog& log, ReviewOptions&) { log.sampled(100.0); }), true},
        {"WheelsThatGetLightSlowly", "wheels-unloaded", gettingLight(), true},
        {"SmallJump", "wheels-unloaded", lightWheels(0.03, 0.5), false},
        {"JumpAtFullCurrent", "wheels-unloaded", lightWheels(0.08, 0.85), false},
        {"JumpAfterAnOutputChange", "wheels-unloaded",
         both(lightWheels(0.08, 0.5), output([](double t, double was) { return t < 23.8 ? 0.9 * was : was; })), false},
        {"CurrentAtALimit", "current-limited",
         both(
             change(PackCurrent,
                    [](double t, double was) {
                        return t >= opens + 0.3 && t < 22.5 ? 70.0 + wobble(t, 0.4) : std::min(was, 70.0);
                    }),
             output([](double t, double was) { return t < 22.5 ? 0.3 * was + 0.28 * std::max(0.0, t - opens) : was; })),
         true, Severity::Note},
        {"CurrentRounded", "current-limited",
         output([](double t, double was) { return std::min(was, 0.5 + 0.2 * std::max(0.0, t - opens)); }), false},
        {"OutputLeavesWhenHot", "heat-limited", both(hot(ControllerTemperature, 88.0), output([](double t, double was) {
                                                         return t > 23.0 && t < closes ? was - 0.1 * (t - 23.0) : was;
                                                     })),
         true},
        {"OutputLeavesWhenCool", "heat-limited",
         output([](double t, double was) { return t > 23.0 && t < closes ? was - 0.1 * (t - 23.0) : was; }), true},
        {"OutputLeavesAtOnce", "heat-limited",
         output([](double t, double was) { return t > 23.0 && t < closes ? was - 0.2 : was; }), false},
        {"Receiver4Point6", "receiver-low",
         change(ReceiverVoltage, [](double t, double was) { return t > 40.0 && t < 40.3 ? 4.6 : was; }), true},
        {"Receiver4Point2", "receiver-low",
         change(ReceiverVoltage, [](double t, double was) { return t > 40.0 && t < 40.3 ? 4.2 : was; }), true,
         Severity::Act},
        {"ReceiverFallsByAFifth", "receiver-low",
         change(ReceiverVoltage, [](double t, double was) { return (t > 40.0 && t < 40.3 ? 5.7 : was + 1.4); }), true},
        {"ReceiverOneSample", "receiver-low",
         change(ReceiverVoltage, [](double t, double was) { return t > 40.01 && t < 40.09 ? 4.6 : was; }), false},
        {"NegativeVoltage", "sensor-fault",
         change(PackVoltage, [](double t, double was) { return t > 50.01 && t < 50.3 ? -2.0 : was; }), true},
        {"HotInASample", "sensor-fault",
         change(MotorTemperature, [](double t, double was) { return t > 22.01 && t < 22.09 ? was + 60.0 : was; }),
         true},
        {"OneSampleOff", "sensor-fault",
         change(PackVoltage, [](double t, double was) { return t > 24.01 && t < 24.09 ? 3.0 : was; }), true},
        {"OneSampleOffWhileOthersMove", "sensor-fault",
         both(change(PackVoltage, [](double t, double was) { return t > 24.01 && t < 24.09 ? was - 3.0 : was; }),
              change(PackCurrent, [](double t, double was) { return t > 24.01 && t < 24.09 ? was + 60.0 : was; })),
         false},
        {"StuckSpeed", "sensor-fault",
         change(MotorSpeed, [](double t, double was) { return t > 20.8 && t < 22.3 ? 1900.0 : was; }), true},
        {"StuckForHalfASecond", "sensor-fault",
         change(MotorSpeed, [](double t, double was) { return t > 20.8 && t < 21.3 ? 1900.0 : was; }), false},
        {"ClippedCurrent", "sensor-fault",
         change(PackCurrent, [](double t, double was) { return t > 22.01 && t < 22.8 ? 120.0 : was; }), true},
        {"MissingVoltage", "sensor-fault",
         change(PackVoltage,
                [](double t, double was) {
                    return t > 22.01 && t < 23.6 ? std::numeric_limits<double>::quiet_NaN() : was;
                }),
         true},
        {"MissingForAMoment", "sensor-fault",
         change(PackVoltage,
                [](double t, double was) {
                    return t > 22.01 && t < 22.6 ? std::numeric_limits<double>::quiet_NaN() : was;
                }),
         false},
        {"FiveHertz", "sampled-too-slowly", [](HandLog& log, ReviewOptions&) { log.sampled(5.0); }, true,
         Severity::Note},
        {"FiftyHertz", "sampled-too-slowly", [](HandLog& log, ReviewOptions&) { log.sampled(50.0); }, false},
        {"ElectricalRpm", "speed-implausible",
         both(withPlan(), change(MotorSpeed, [](double, double was) { return 2.0 * was; })), true},
        {"PlausibleRpm", "speed-implausible", withPlan(), false},
        {"StartsAt3Point9", "start-charge-low",
         change(PackVoltage, [](double, double was) { return was - 4.0 * 0.25; }), true, Severity::Note},
        {"StartsAt4Point18", "start-charge-low", [](HandLog&, ReviewOptions&) {}, false},
        {"LeftAt3Point4", "left-empty",
         change(PackVoltage, [](double t, double was) { return t > 30.0 ? 13.6 + (was - 16.7) : was - 1.4; }), true,
         Severity::Note},
        {"LeftAt4", "left-empty", [](HandLog&, ReviewOptions&) {}, false},
        {"SagsCold", "cold-pack", both(lowest(3.1), hot(PackTemperature, 18.0)), true, Severity::Note},
        {"SagsWarm", "cold-pack", lowest(3.1), false},
        {"LiftedEarly", "lifted-early", withPlan([](PlanInput& p) { p.venue.run_up_m = 300.0; }), true, Severity::Note},
        {"HeldThroughTheZone", "lifted-early", withPlan(), false},
        {"EndsAfter5s", "log-ends-early",
         both(put(MotorTemperature, [](double t) { return 300.0 + std::max(0.0, t - opens) * 0.8; }),
              [](HandLog& log, ReviewOptions&) { log.lasts(closes + 5.0); }),
         true, Severity::Note},
        {"EndsAfter30s", "log-ends-early",
         both(put(MotorTemperature, [](double t) { return 300.0 + std::max(0.0, t - opens) * 0.8; }),
              [](HandLog& log, ReviewOptions&) { log.lasts(closes + 30.0); }),
         false},
        {"OlderPack", "pack-ageing",
         [](HandLog&, ReviewOptions& o) { o.packHistory = {{0.008, 300.0, {}}, {0.0082, 301.0, {}}}; }, true},
        {"SamePack", "pack-ageing", [](HandLog&, ReviewOptions& o) { o.packHistory = {{0.0115, 300.0, {}}}; }, false},
        {"OtherPackTemperature", "pack-ageing",
         [](HandLog&, ReviewOptions& o) { o.packHistory = {{0.008, 280.0, {}}}; }, false},
        {"FarOffPlan", "off-plan", withPlan([](PlanInput& p) { p.vehicle.mass_kg = 6.0; }), true, Severity::Note},
        {"GearingAsTold", "ratio-changed",
         both(withPlan(),
              [](HandLog& log, ReviewOptions&) {
                  log.put(Speed, [s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 / 1.01; });
              }),
         false},
        {"GearingOther", "ratio-changed",
         both(withPlan(),
              [](HandLog& log, ReviewOptions&) {
                  log.put(Speed, [s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 / 1.05; });
              }),
         true},
        {"WheelsSpin", "wheelspin",
         both(withPlan(),
              [](HandLog& log, ReviewOptions&) {
                  log.put(Speed,
                          [s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 * (t < 21.2 ? 0.75 : 0.97); });
              }),
         true, Severity::Note},
        {"WheelsGrip", "wheelspin",
         both(withPlan(),
              [](HandLog& log, ReviewOptions&) {
                  log.put(Speed, [s = log.of(MotorSpeed)](double t) { return s(t) / 4.0 * 0.03 * 0.93; });
              }),
         false},
        {"ConstantShifts", "kv-shift",
         both(passesFrom({30.0, 31.0}),
              [](HandLog& log, ReviewOptions&) {
                  log.change(MotorSpeed, [](double t, double was) { return t > 70.0 ? 1.05 * was : was; });
              }),
         true},
        // A motor of 3000 rpm/V that gives a quarter of it away at 200 A: a tenth more load takes 2.5 % of rpm per volt
        // with it, and 3.6 % at the lower voltage.
        {"LoadExplainsIt", "kv-shift", both(passesFrom({30.0, 31.0}), lossyMotor(1.0)), false},
        {"LoadDoesNotExplainIt", "kv-shift", both(passesFrom({30.0, 31.0}), lossyMotor(0.95)), true},
        {"ConstantHolds", "kv-shift",
         both(passesFrom({30.0, 31.0}),
              [](HandLog& log, ReviewOptions&) {
                  log.change(MotorSpeed, [](double t, double was) { return t > 70.0 ? 1.02 * was : was; });
              }),
         false},
    };
    return all;
}

class Findings : public testing::TestWithParam<Case> {};

TEST_P(Findings, showOrDoNot) {
    const Case& c = GetParam();
    HandLog log = goodPass();
    ReviewOptions options;
    c.make(log, options);
    const LogReview review = reviewLog(log.build(), options);
    ASSERT_FALSE(review.passes.empty());
    const Finding* found = findingOf(review, c.id);
    EXPECT_EQ(found != nullptr, c.found) << (found ? textOf(found->seen) : "") << testing::PrintToString(idsOf(review));
    if (!found || !c.found) return;
    EXPECT_EQ(found->severity, c.severity) << textOf(found->seen);
    EXPECT_FALSE(found->seen.empty());
    EXPECT_FALSE(found->meaning.empty());
    EXPECT_FALSE(found->advice.empty());
    EXPECT_LE(found->from, found->at);
    EXPECT_LE(found->at, found->to + 60.0);
}
INSTANTIATE_TEST_SUITE_P(Log, Findings, testing::ValuesIn(cases()),
                         [](const auto& c) { return std::string(c.param.name); });

TEST(FindingsOfAGoodPass, areNone) {
    const LogReview review = reviewLog(goodPass().build());
    EXPECT_TRUE(review.findings.empty()) << testing::PrintToString(idsOf(review));
}

TEST(FindingsOfAGoodPass, whatCannotBeJudgedIsSaid) {
    HandLog log = goodPass();
    for (const Quantity q : {Output, MotorTemperature, RippleVoltage, MotorSpeed})
        log.drop(q);
    const LogReview review = reviewLog(log.build());
    for (const char* id : {"output-below-full", "heat-limited", "motor-hot", "ripple-high", "wheels-unloaded",
                           "pack-current-over", "off-plan", "pack-ageing", "kv-shift"})
        EXPECT_TRUE(notJudged(review, id)) << id;
    EXPECT_FALSE(notJudged(review, "sag-deep"));
    EXPECT_FALSE(notJudged(review, "controller-hot"));
}

TEST(Findings_, everyKindHasItsTexts) {
    for (const FindingKind& kind : findingKinds()) {
        EXPECT_FALSE(kind.title.empty()) << kind.id;
        EXPECT_FALSE(kind.meaning.empty()) << kind.id;
        EXPECT_FALSE(kind.advice.empty()) << kind.id;
        // Each has a log above that shows it; a restart has one of its own.
        const bool shown =
            std::any_of(cases().begin(), cases().end(), [&](const Case& c) { return c.id == kind.id && c.found; });
        EXPECT_TRUE(shown || kind.id == "controller-restarted") << kind.id;
    }
}

} // namespace
} // namespace rw
