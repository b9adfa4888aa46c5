// Conversions and constants. SI inside; these are used at edges only (JSON, columns, widgets, reports).
#pragma once

#include <numbers>

namespace rw {

inline constexpr double standardGravity = 9.80665; // m/s², ISO 80000-3
inline constexpr double zeroCelsius_K = 273.15;    // K
inline constexpr double rpmPerRadps = 60.0 / (2.0 * std::numbers::pi);
inline constexpr double radpsPerRpm = (2.0 * std::numbers::pi) / 60.0;
inline constexpr double radPerDeg = std::numbers::pi / 180.0;
inline constexpr double secondsPerHour = 3600.0;
inline constexpr double kmhPerMps = 3.6;
inline constexpr double mphPerMps = 3600.0 / 1609.344; // international mile, exact
inline constexpr double metrePerInch = 0.0254;         // exact
inline constexpr double kilogramPerPound = 0.45359237; // exact
inline constexpr double mpsPerKnot = 1852.0 / 3600.0;  // exact

[[nodiscard]] constexpr double kelvinFromCelsius(double celsius) { return celsius + zeroCelsius_K; }
[[nodiscard]] constexpr double celsiusFromKelvin(double kelvin) { return kelvin - zeroCelsius_K; }
[[nodiscard]] constexpr double fahrenheitFromCelsius(double celsius) { return celsius * 1.8 + 32.0; }

} // namespace rw
