// Every threshold of a review in one table: name, default, unit, reason.
// The list below is the only place that holds a default; the struct and the table are made from it.
// The owner sets a threshold by its name; a value out of range is refused.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace rw {

// X(name, default, unit, reason)
// clang-format off
#define RUNWRIGHT_REVIEW_THRESHOLDS(X) \
    X(restCurrentShare, 0.02, "", "share of the session's largest current under which nothing is under load") \
    X(restCurrentFloor, 0.5, "A", "receiver and servo draw this much at rest, however small the session's loads") \
    X(restThrottle, 0.02, "", "throttle under this is at rest: trim and noise stay below") \
    X(largestQuantile, 0.999, "", "the largest value of a session, without its few odd samples") \
    X(zeroOffsetShare, 0.05, "", "a resting current of more than this share of the largest is no sensor offset") \
    X(gapSteps, 5.0, "", "steps of the median interval that make a gap; together with gapSeconds") \
    X(gapSeconds, 0.5, "s", "no integral and no rise is trusted across a longer hole") \
    X(sessionStepBack, 1.0, "s", "time that steps back by more is a restart") \
    X(sessionJump, 5.0, "s", "time that jumps by more may hold a change of pack") \
    X(sessionRise, 0.15, "V", "per cell: a pack at rest does not rise so much by itself") \
    X(sessionRiseRecovering, 0.25, "V", "per cell: a pack just loaded recovers by up to this") \
    X(sessionRecovery, 120.0, "s", "after this long a pack has recovered from its last load") \
    X(sessionFall, 0.10, "V", "per cell: a pack at rest does not fall so much by itself") \
    X(sessionStep, 0.35, "V", "per cell: from one sample to the next at rest only another pack does that") \
    X(sessionMedianSpan, 2.0, "s", "longest stretch whose median is a resting voltage beside a jump") \
    X(sessionStretch, 0.5, "s", "shortest stretch at rest that tells a step without a jump") \
    X(restartWithin, 30.0, "s", "a motor that still turns after longer was not turning all the time") \
    X(restartGap, 1.0, "s", "time put between the parts of a restarted session where no clock tells") \
    X(sessionSpacing, 10.0, "s", "time put between sessions where no clock tells") \
    X(motorTurning, 10.0, "rad/s", "slower readings are the sensor's own noise") \
    X(cellToldLow, 2.5, "V", "a told cell count that puts rest below this is a mistake") \
    X(cellToldHigh, 4.45, "V", "a told cell count that puts rest above this is a mistake") \
    X(cellLow, 3.5, "V", "a lithium-polymer cell that is used for a pass rests above this") \
    X(cellHigh, 4.25, "V", "full, and the error of the sensor") \
    X(cellHighVoltage, 4.40, "V", "full where the plan's pack is a high-voltage one") \
    X(cellFull, 4.05, "V", "packs are connected full: the likeliest count is the one that gives this or more") \
    X(cellEmpty, 3.0, "V", "tried only where nothing else fits") \
    X(cellMostAssumed, 8.0, "", "beyond this many cells several counts fit a full pack") \
    X(passThrottleShare, 0.60, "", "of the session's largest throttle: a pass is near the most that was asked for") \
    X(passThrottle, 0.30, "", "less throttle is driving about") \
    X(passSpan, 0.5, "s", "shorter bursts are blips") \
    X(passPowerShare, 0.10, "", "of the session's largest power: full throttle on a stand takes little") \
    X(passPowerPerCell, 15.0, "W", "per cell: less does not move a car at speed") \
    X(passPower, 60.0, "W", "the same where the cell count is unknown") \
    X(passEdge, 0.05, "", "throttle below this is closed") \
    X(passJoin, 1.0, "s", "a lift shorter than this belongs to the pass") \
    X(rollingLow, 0.05, "", "a rolling start holds at least this throttle") \
    X(rollingHigh, 0.40, "", "a rolling start holds at most this throttle") \
    X(rollingWithin, 0.03, "", "held: within this of its level") \
    X(rollingSpan, 1.0, "s", "held for longer than this before the throttle opens") \
    X(powerPassShare, 0.20, "", "of the largest power, where neither throttle nor output is logged") \
    X(powerPassEdge, 0.03, "", "of the largest power: the ends of such a pass") \
    X(restingSpan, 1.0, "s", "rest just before a pass that its resting voltage is taken from") \
    X(restingRecovery, 5.0, "s", "a load that ended less than this before: the voltage is still climbing") \
    X(fullOutput, 0.995, "", "full output, but for the last digit of a percentage") \
    X(soakFall, 0.5, "K", "the peak of soak is over once the reading has fallen by this, and by more than one step") \
    X(soakPredictionError, 5.0, "K", "a predicted peak less certain than this is not worth saying") \
    X(resistanceGapMargin, 0.1, "s", "samples this close to a hole are left out of the resistance") \
    X(resistanceLowPass, 5.0, "s", "time constant that parts slow polarisation from resistance") \
    X(resistanceSpan, 0.30, "", "current that spans less of its peak does not determine a resistance") \
    X(resistanceSamples, 15.0, "", "fewer samples do not determine a resistance") \
    X(resistanceError, 0.25, "", "a standard error over this share of the resistance is no answer") \
    X(fullThrottle, 0.99, "", "the driver asks for everything") \
    X(outputBelowSpan, 0.3, "s", "full throttle for this long should show in the output") \
    X(outputSteady, 0.01, "", "output that stays within one point is steady") \
    X(throttleSlow, 1.5, "s", "an output that takes longer to rise gives run-up away") \
    X(throttleSlowRatio, 1.5, "", "and longer than this many times the throttle's own rise") \
    X(throttleLine, 0.02, "", "of the step: a throttle this close to a line was ramped by a machine, not a finger") \
    X(throttleExplained, 0.20, "", "a rise within this share of the plan's is the plan's") \
    X(cutoffFall, 0.05, "", "output that falls by this while the throttle does not was taken, not given") \
    X(cutoffFallWithin, 1.0, "s", "the fall is that quick") \
    X(cutoffCurrentFall, 0.20, "", "without an output: current that falls by this while speed does not rise was taken") \
    X(cutoffCurrentSteady, 0.03, "", "current within this of where it stood has not begun to fall") \
    X(cutoffSpeedSteady, 0.002, "", "motor speed that rises by less does not rise: sensors flicker") \
    X(cutoffSpeedInterval, 0.25, "s", "motor speed that comes more seldom is no witness") \
    X(cutoffBlindFall, 0.60, "", "without motor speed too: any launch loses current, but not so much at once") \
    X(cutoffBlindWithin, 0.5, "s", "at once: within this") \
    X(cutoffThrottle, 0.02, "", "throttle within this is steady") \
    X(cutoffHeldAfter, 0.2, "s", "a throttle that closes sooner after the fall explains it: columns lag each other") \
    X(cutoffNear, 0.10, "V", "per cell: a fall that starts from a voltage this near the cutoff is the cutoff's") \
    X(cutoffCurrentBack, 0.10, "", "current within this of where it stood is back") \
    X(cutoffJoin, 0.2, "s", "spans closer together are one: a cutoff that hunts") \
    X(cutoffBeside, 1.0, "s", "output this near a span of the cutoff is its doing: it lets go slowly") \
    X(cutoffHard, 0.90, "", "power that loses more was cut, not held back") \
    X(cutoffHardSpan, 1.0, "s", "current, which falls by itself as well, stays lost for this long") \
    X(cutoffLies, 0.05, "V", "per cell: voltage this near the cutoff lies at it") \
    X(cutoffLiesSpan, 0.5, "s", "shorter it only passes by") \
    X(cutoffPinned, 0.025, "V", "per cell: voltage that a regulator holds stays within this") \
    X(cutoffUnder, 0.02, "", "output under a full throttle by this is held") \
    X(rampKink, 0.7, "", "of its earlier rise: output that still rises this fast is a ramp and not held") \
    X(cutoffUnknownFall, 0.10, "", "the fall of output where the cutoff is unknown: clearer, to be believed") \
    X(cutoffUnknownCurrentFall, 0.30, "", "the same of current") \
    X(cutoffUnknownVoltage, 3.6, "V", "per cell: no cutoff is set above this") \
    X(cutoffPassed, 0.05, "V", "per cell: under a cutoff by more than a sensor's error") \
    X(cutoffPassedSpan, 1.0, "s", "longer than controllers take to act") \
    X(sagWatch, 3.2, "V", "per cell under load: a lithium-polymer pack is at its limit") \
    X(sagAct, 3.0, "V", "per cell under load: a lithium-polymer cell is damaged") \
    X(sagSpan, 0.1, "s", "sag this long is no glitch; together with two samples") \
    X(rippleWatch, 0.05, "", "of pack voltage: capacitors run hot") \
    X(rippleAct, 0.10, "", "of pack voltage: capacitors fail") \
    X(accumulateThree, 3.0, "K", "start temperatures of three passes that each rise by this never settle") \
    X(accumulateTwo, 10.0, "K", "so much between two passes is too short a wait") \
    X(unloadedJump, 0.04, "", "motor speed that jumps by this in unloadedWithin lost its load") \
    X(unloadedWithin, 0.3, "s", "a car on the ground does not gain speed so fast near its top") \
    X(unloadedCurrentFall, 0.25, "", "current falls by this when the wheels leave the ground") \
    X(unloadedBack, 0.02, "", "back within this of the course that speed had") \
    X(unloadedReturn, 1.5, "s", "longer in the air is a crash") \
    X(unloadedOutputQuiet, 0.5, "s", "a change of output this near explains the jump") \
    X(unloadedRate, 10.0, "Hz", "slower logs do not show it") \
    X(spinSpeed, 3.0, "m/s", "below this slip is a division by little") \
    X(spinSpan, 0.3, "s", "shorter slips are chatter") \
    X(spinSlip, 0.15, "", "wheel over ground speed") \
    X(limitedSpan, 0.5, "s", "output held under the throttle for this long; shorter is a response") \
    X(limitedUnder, 0.05, "", "output under the throttle by at least this") \
    X(limitedFlat, 0.03, "", "of its median: current within this is held") \
    X(limitedFlatAmperes, 1.0, "A", "or within this: a coarse sensor's step") \
    X(limitedShare, 0.80, "", "of the largest current of the pass: a limit is near it") \
    X(limitedVoltage, 0.15, "V", "per cell above the cutoff: the voltage is no reason") \
    X(limitedEndpoint, 0.10, "", "current that is lower by this lets a limited output go, but no endpoint") \
    X(heatFall, 0.05, "", "output that falls by this at a steady throttle was taken") \
    X(heatSpan, 0.5, "s", "heat takes power slowly: a quicker fall has another reason") \
    X(heatVoltageRise, 0.02, "V", "per cell: the pack is relieved, so it was not the pack that gave way") \
    X(receiverWatch, 4.8, "V", "servos and receivers are uneasy below") \
    X(receiverAct, 4.3, "V", "receivers drop out below") \
    X(receiverDrop, 0.20, "", "under its median: the supply gives way") \
    X(stuckSpan, 1.0, "s", "one value for longer; together with stuckSamples") \
    X(stuckSamples, 20.0, "", "one value over so many samples") \
    X(stuckChange, 5.0, "", "samples within which a live channel changes under load") \
    X(stuckOther, 0.20, "", "another channel that moves by this shows that the car did something") \
    X(distinctValues, 50.0, "", "a channel of fewer distinct values is too coarse to be judged stuck or clipped") \
    X(clippedSamples, 10.0, "", "samples in a row at exactly the largest value") \
    X(clippedTimes, 3.0, "", "times as many as at any other value above clippedAbove of the largest") \
    X(clippedChange, 3.0, "", "samples within which a channel that can be clipped changes under load") \
    X(clippedAbove, 0.80, "", "of the largest value: where the others are counted") \
    X(missingSpan, 1.0, "s", "a hole this long within a pass; together with missingIntervals") \
    X(missingIntervals, 5.0, "", "of the channel's own interval") \
    X(faultJoin, 1.0, "s", "faults of one kind closer together are told as one") \
    X(voltageMost, 150.0, "V", "no pack has more") \
    X(temperatureLeast, -40.0, "°C", "colder is a broken sensor") \
    X(temperatureMost, 250.0, "°C", "hotter is a broken sensor") \
    X(temperatureRate, 50.0, "K/s", "nothing with a sensor on it heats or cools so fast") \
    X(temperatureSteps, 2.0, "", "steps of the column: a flicker of the last digit is no jump") \
    X(temperatureNoise, 10.0, "", "and more than this many of its usual changes, so that a noisy sensor is no broken one") \
    X(motorSpeedMost, 250000.0, "rpm", "no motor turns faster") \
    X(spikeRate, 10.0, "Hz", "slower logs do not tell a spike from a blip") \
    X(spikeShare, 0.50, "", "of the span: one sample off both neighbours by this is a spike") \
    X(spikeSteps, 10.0, "", "and by this many of the channel's steps") \
    X(spikeNoise, 10.0, "", "and by this many of the channel's usual changes, so that noise at rest is none") \
    X(spikeOther, 0.20, "", "of its span: another channel that moves by this makes it a blip") \
    X(slowSamples, 5.0, "", "fewer samples across the rise do not show its shape") \
    X(slowRate, 8.0, "Hz", "slower logs miss peaks") \
    X(implausibleLow, 0.5, "", "motor speed over kv times voltage at full output: less is a wrong factor") \
    X(implausibleHigh, 1.1, "", "more than the motor can do") \
    X(kvShift, 0.03, "", "a motor's speed constant does not move by this") \
    X(kvTemperature, 15.0, "K", "passes further apart in motor temperature are not compared") \
    X(kvLoad, 0.15, "", "passes further apart in current at full output are not compared") \
    X(ratioCoasting, 0.03, "", "motor over measured speed while coasting: nothing slips") \
    X(ratioDriving, 0.08, "", "the same under power, where tyres slip") \
    X(startCharge, 4.0, "V", "per cell: a pack that starts below is not full") \
    X(leftEmpty, 3.5, "V", "per cell at rest: a pack left so ages") \
    X(coldPack, 20.0, "°C", "a cold pack sags") \
    X(liftedShort, 0.01, "", "of the way to the zone's end: a measured distance is no better") \
    X(endsEarly, 20.0, "s", "the peak of soak comes later than this") \
    X(ageing, 0.20, "", "resistance over the pack's own history") \
    X(ageingTemperature, 10.0, "K", "a history further off in temperature is not compared") \
    X(offPlanSpeed, 0.03, "", "a plan's band is at least this wide: speed") \
    X(offPlanCurrent, 0.08, "", "the same: current") \
    X(offPlanVoltage, 0.1, "V", "the same: per cell") \
    X(offPlanTemperature, 5.0, "K", "the same: temperature") \
    X(alignCorrelation, 0.8, "", "a measured speed that follows the wheels less is another drive's") \
    X(measuredRate, 4.9, "Hz", "fewer fixes a second miss the peak of speed; receivers of 5 lose one now and then") \
    X(chargeApart, 0.05, "", "given and integrated charge further apart: one of the two is wrong")
// clang-format on

struct ReviewThresholds {
#define X(name, value, unit, reason) double name = value;
    RUNWRIGHT_REVIEW_THRESHOLDS(X)
#undef X
    bool operator==(const ReviewThresholds&) const = default;
};

struct ThresholdField {
    std::string_view name;
    double defaultValue = 0.0;
    std::string_view unit, reason;
    double ReviewThresholds::*value = nullptr;
};

[[nodiscard]] std::span<const ThresholdField> thresholdFields();
// Throws InputError for an unknown name, or a value that is not a finite number.
void setThreshold(ReviewThresholds& thresholds, std::string_view name, double value);

} // namespace rw
