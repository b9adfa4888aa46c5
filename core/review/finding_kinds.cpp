#include "core/review/finding_kinds.h"

#include <algorithm>
#include <array>
#include <cassert>

namespace rw {

namespace {

constexpr auto kinds = std::to_array<FindingKind>({
    {"output-below-full", "output stays below full", "whether the output reaches full",
     "The endpoints are not calibrated, or something delays or limits the throttle signal.",
     "Calibrate the throttle endpoints on the controller, and look for a limit in the transmitter."},
    {"throttle-slow", "throttle opens slowly", "whether the throttle opens slowly",
     "A ramp in the controller or the transmitter, or a careful finger, gives run-up away.",
     "If traction allows it, shorten the throttle ramp; if it spins the wheels, leave it."},
    {"cutoff-acted", "the low-voltage cutoff took power", "whether the low-voltage cutoff took power",
     "The pack fell to the cutoff voltage and the controller took power away.",
     "Gear shorter, use a pack of lower resistance, warm or fuller, or set the cutoff lower if the cells allow it."},
    {"cutoff-passed", "voltage under the cutoff, and nothing happened", "whether the cutoff is what was told",
     "The controller's cutoff is lower than what was told, or off.",
     "Read the cutoff in the controller's settings and tell that; a pack that is meant to be guarded by it is not."},
    {"sag-deep", "cells sag deeply under load", "whether the cells sag deeply",
     "The pack is worked beyond what it can deliver: too small, cold, worn or not full.",
     "Use a pack of lower resistance or more capacity, warm it, start full, or gear shorter."},
    {"pack-current-over", "pack current over its rating", "whether the pack's current is over its rating",
     "The pack delivers more than its maker allows; it heats and ages quickly.",
     "Gear shorter, or use a pack with a higher rating or more capacity."},
    {"controller-current-over", "controller current over its rating",
     "whether the controller's current is over its rating", "The controller carries more than its maker allows.",
     "Gear shorter or open the throttle more slowly; else use a larger controller."},
    {"ripple-high", "high ripple voltage", "whether the ripple is high",
     "Long or thin leads and small capacitors make the controller's input swing; its capacitors run hot.",
     "Shorten the battery leads or add low-resistance capacitors at the controller."},
    {"motor-hot", "motor hot", "whether the motor gets hot",
     "The motor makes more heat than it sheds; magnets and windings suffer.",
     "Gear shorter, wait longer between passes, cool the motor, or take timing out."},
    {"controller-hot", "controller hot", "whether the controller gets hot",
     "The controller makes more heat than it sheds.",
     "Improve its cooling, wait longer between passes, or gear shorter."},
    {"pack-hot", "pack hot", "whether the pack gets hot",
     "The cells heat up inside: the load is high for their resistance.",
     "Let the pack cool before the next pass, gear shorter, or use a stronger pack."},
    {"heat-accumulates", "heat accumulates from pass to pass", "whether heat accumulates from pass to pass",
     "The waits are too short: each pass starts hotter than the one before.",
     "Wait longer between passes, or cool the hot part while you wait."},
    {"motor-overspeed", "turning faster than allowed", "whether anything turns faster than allowed",
     "Motor, controller or tyres turn beyond their limit; parts can burst.",
     "Stop here, and lower what turns too fast."},
    {"wheels-unloaded", "wheels lost their load", "whether the wheels lose their load",
     "The car was light or airborne: a bump, or lift at the driven axle. Speed read from the wheels there is not speed "
     "over ground.",
     "Look for the bump, add downforce or weight over the driven wheels, and do not go faster before it stays on the "
     "ground."},
    {"wheelspin", "wheels spin", "whether the wheels spin", "The tyres are asked for more than they can hold.",
     "Open the throttle more slowly at the start, or find more grip."},
    {"current-limited", "current is limited", "whether the current is limited",
     "The controller holds the current at a limit of its own.",
     "If the parts allow it, raise the limit; else gear shorter, so that the same push comes at less current."},
    {"heat-limited", "power held back by heat", "whether heat holds the power back",
     "The controller takes power away because it, or the motor, is hot.",
     "Cool down before the next pass, and improve cooling; look up at which temperature the controller gives way."},
    {"controller-restarted", "controller restarted under way", "whether the controller restarted under way",
     "The supply gave way for an instant: a loose connector, a brown-out, or a protection that tripped.",
     "Check connectors, solder joints and the receiver's supply before any further pass."},
    {"receiver-low", "receiver voltage low", "whether the receiver's voltage is low",
     "The supply of receiver and servo gives way; control of the car can be lost.",
     "Find the load that pulls it down, usually a servo, or use a stronger supply; do not run before that."},
    {"sensor-fault", "a sensor reads wrong", "whether a sensor reads wrong",
     "A channel froze, ran into its end, dropped out or showed what cannot be; that span was left out everywhere.",
     "Check the sensor and its plug; choose a wider range if it ran into its end."},
    {"sampled-too-slowly", "sampled too slowly", "whether it is sampled too slowly",
     "What happens between two samples is not seen: peaks are lower bounds.", "Raise the logging rate."},
    {"speed-implausible", "motor speed does not fit kv and voltage", "whether motor speed fits kv and voltage",
     "The pole count or a factor in the logger is wrong, or the motor's kv is not what is told.",
     "Check the pole count and the scale of the speed channel, then the motor's kv."},
    {"kv-shift", "rpm per volt shifted", "whether rpm per volt shifted",
     "The same motor at the same load turns differently: magnets weakened by heat, timing moved, or another motor or "
     "gear.",
     "Check timing and motor; if it got hot, measure its no-load speed."},
    {"ratio-changed", "motor and ground speed do not fit the gearing", "whether motor and ground speed fit the gearing",
     "Another pinion, spur or tyre is fitted than told, the tyres grow differently, or something slips.",
     "Count the teeth, measure the tyres' rollout, and correct the setup."},
    {"start-charge-low", "started with a pack that is not full", "whether the pack was full at the start",
     "Some of the voltage was given away before the first pass.", "Charge fully, and shortly before the run."},
    {"left-empty", "pack left nearly empty", "whether the pack is left nearly empty",
     "Cells that rest low age quickly.", "Recharge to storage voltage soon, and end the session earlier."},
    {"cold-pack", "cold pack", "whether a cold pack explains the sag",
     "A cold pack has a high resistance: much of the sag is the temperature.",
     "Warm the pack to 30 °C or more before the pass."},
    {"lifted-early", "throttle closed before the zone's end", "whether the throttle closed too early",
     "The pass was given up, or braking began too early.",
     "Hold the throttle through the zone if it is safe; else move the zone."},
    {"log-ends-early", "the log ends while heat still rises", "whether the log ends too early",
     "The peak of soak comes after the pass and was not recorded.",
     "Leave the logger on for a few minutes after the last pass."},
    {"pack-ageing", "pack resistance has grown", "whether the pack's resistance has grown",
     "The pack is ageing, or a connector is.",
     "Check the connectors; plan with the new resistance, and keep the pack for easier days."},
    {"off-plan", "outside what was planned", "whether it went as planned",
     "Something differs from the setup, the air or the strip that was planned with.",
     "Compare the figures one by one; learn from the log, and plan the next step from that."},
});

} // namespace

std::span<const FindingKind> findingKinds() { return kinds; }

const FindingKind& findingKind(std::string_view id) {
    const auto* kind = std::ranges::find(kinds, id, &FindingKind::id);
    assert(kind != kinds.end());
    return *kind;
}

} // namespace rw
