// A plan with another part, cell count, winding or gearing, everything that hangs on it along; and its first pass,
// judged like a row of the gear table: completed, no margin negative.
#pragma once

#include "core/plan/gears.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace rw {

// Keys of the group ("motor") carry the part's uncertainties from now on; correlations with what was there end.
void replaceUncertainty(PlanInput& plan, std::string_view group, const std::map<std::string, double>& uncertainty);

// More or fewer of the plan's cells: the pack's heat capacity, slow resistance and, inversely, slow capacitance go with
// them; so do its mass and the vehicle's where pack.mass_kg is known. Uncertainties stay the same share of their
// values.
[[nodiscard]] PlanInput withCells(const PlanInput& plan, int series);

// The plan's motor wound for another speed constant: the same copper in the same slots. Turns go with 1 / kv, the
// resistance with their square, the no-load current with kv at the no-load voltage that gives the same speed; heat and
// inertia stay. Source: any text on winding design, e.g. Hendershot & Miller, Design of Brushless Permanent-Magnet
// Machines, on scaling the number of turns (from memory). Uncertainties stay the same share of their values.
[[nodiscard]] PlanInput woundFor(const PlanInput& plan, double kv_rpm_per_V);

[[nodiscard]] PlanInput geared(const PlanInput& plan, const GearPair& pair);
// The overall ratio through vehicle.internal_ratio, gears as they are.
[[nodiscard]] PlanInput withRatio(const PlanInput& plan, double overallRatio);

// None: no pass can be computed, the values lie too far apart.
[[nodiscard]] std::optional<JudgedPass> judgedIfAny(const PlanInput& input, const PassSetup& setup,
                                                    const PassPrecision& precision = fullPrecision);

// How far a sketched figure may lie from the full one, generously: what is nearer than this to deciding is looked at in
// full before it decides.
inline constexpr double doubtOfSketches = 1e-4;

} // namespace rw
