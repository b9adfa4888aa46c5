#include "core/physics/air.h"

#include "core/error.h"
#include "core/units.h"

#include <cmath>

namespace rw {

namespace {
constexpr double standardLapse = 0.0065;          // K/m of geopotential height
constexpr double standardTemperature = 288.15;    // K
constexpr double standardSeaPressure = 101325.0;  // Pa
constexpr double standardAirConstant = 287.05287; // J/(kg K), ISO 2533
constexpr double earthRadius = 6356766.0;         // m, ISO 2533
constexpr double pressureExponent = standardGravity / (standardAirConstant * standardLapse);
} // namespace

MoistAir moistAir(double temperature_C, double pressure, double relativeHumidity) {
    const double t = temperature_C;
    const double kelvin = kelvinFromCelsius(t);
    MoistAir air;
    air.saturationPressure =
        std::exp(1.2378847e-5 * kelvin * kelvin - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin);
    air.enhancement = 1.00062 + 3.14e-8 * pressure + 5.6e-7 * t * t;
    const double x = relativeHumidity * air.enhancement * air.saturationPressure / pressure;
    air.vapourFraction = x;
    const double a = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t + (5.707e-6 - 2.051e-8 * t) * x +
                     (1.9898e-4 - 2.376e-6 * t) * x * x;
    const double perKelvin = pressure / kelvin;
    air.compressibility = 1.0 - perKelvin * a + perKelvin * perKelvin * (1.83e-11 - 0.765e-8 * x * x);
    constexpr double gasConstant = 8.314472; // J/(mol K), the paper's
    constexpr double dryMolarMass = 28.96546e-3;
    constexpr double waterMolarMass = 18.01528e-3;
    air.density = pressure * dryMolarMass / (air.compressibility * gasConstant * kelvin) *
                  (1.0 - x * (1.0 - waterMolarMass / dryMolarMass));
    return air;
}

double standardPressure(double elevation) {
    if (!(elevation >= -2000.0 && elevation <= 11000.0))
        throw InputError("elevation", "expected -2000 to 11000 m, where the standard atmosphere's lowest layer holds");
    const double geopotential = elevation * earthRadius / (earthRadius + elevation);
    return standardSeaPressure * std::pow(1.0 - standardLapse * geopotential / standardTemperature, pressureExponent);
}

double densityAltitude(double density) {
    constexpr double seaDensity = standardSeaPressure / (standardAirConstant * standardTemperature);
    return standardTemperature / standardLapse * (1.0 - std::pow(density / seaDensity, 1.0 / (pressureExponent - 1.0)));
}

double headWind(double speed, double from_deg, double heading_deg) {
    return speed * std::cos((from_deg - heading_deg) * radPerDeg);
}

} // namespace rw
