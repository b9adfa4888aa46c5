// State of the air over the strip. SI; temperature in °C. core/physics/README.md 1.
// Sources: CIPM-2007 (Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149–155); ISO 2533 = U.S. Standard Atmosphere
// 1976.
#pragma once

namespace rw {

// Parts of the CIPM-2007 formula, for tests and explanations; density is the result.
struct MoistAir {
    double saturationPressure = 0.0; // Pa
    double enhancement = 0.0;        // 1
    double vapourFraction = 0.0;     // mole fraction
    double compressibility = 0.0;    // 1
    double density = 0.0;            // kg/m³
};

// Stated for 15–27 °C and 600–1100 hPa, relative standard uncertainty 22e-6 there; beyond it is an extrapolation
// (within 6e-5 of printed tables at 10 and 40 °C). CO2 400 µmol/mol.
[[nodiscard]] MoistAir moistAir(double temperature_C, double pressure, double relativeHumidity);

// Station pressure of the standard atmosphere at a geometric elevation in [-2000, 11000] m; else InputError.
// Weather moves the real pressure by some percent: measure it if you can.
[[nodiscard]] double standardPressure(double elevation);

// Elevation (geopotential, m) at which the standard atmosphere has this density.
[[nodiscard]] double densityAltitude(double density);

// Head wind along the track, m/s, positive against the vehicle. Angles in degrees, `from` as weather reports give it.
[[nodiscard]] double headWind(double speed, double from_deg, double heading_deg);

} // namespace rw
