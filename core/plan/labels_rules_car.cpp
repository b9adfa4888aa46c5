// Car, tyres, strip. Published ranges that the constants lie in stand beside each; where there is no source, common
// practice from memory.
#include "core/plan/labels_rules.h"

#include <array>
#include <cmath>

namespace rw {

namespace {

constexpr double frontalShare = 0.85; // of width × height, for cars: vehicle technology texts

RuleResult relative(double value, double share, std::string_view from) {
    return {value, share * std::abs(value), from};
}

} // namespace

// Published: saloons 0.22–0.40, sports cars 0.28–0.40, rigid trucks 0.55–0.9; streamliners and open cars from memory.
double dragCoefficient(BodyClass body) {
    constexpr std::array<double, 5> coefficients{0.16, 0.32, 0.40, 0.65, 0.80};
    return coefficients[static_cast<std::size_t>(body)];
}

RuleResult dragAreaRule(BodyClass body, const Frontal& frontal) {
    constexpr std::array<std::string_view, 5> from{
        "drag coefficient 0.16 of a streamlined body × 0.85 × width × height; vehicle technology tables",
        "drag coefficient 0.32 of a low body × 0.85 × width × height; vehicle technology tables",
        "drag coefficient 0.40 of a saloon × 0.85 × width × height; vehicle technology tables",
        "drag coefficient 0.65 of a truck × 0.85 × width × height; vehicle technology tables",
        "drag coefficient 0.80 of an open car × 0.85 × width × height; vehicle technology tables"};
    return relative(dragCoefficient(body) * frontalShare * frontal.width * frontal.height, 0.30,
                    from[static_cast<std::size_t>(body)]);
}

RuleResult liftAreaRule(double dragArea) {
    return {0.0, 0.3 * dragArea, "none, within 0.3 of the drag area; common practice, from memory"};
}

RuleResult cgBehindFrontRule(double wheelbase) {
    return {0.5 * wheelbase, 0.05 * wheelbase,
            "middle of the wheelbase, within 5 % of it; common practice, from memory"};
}

// Moments about the front axle: rear load × wheelbase = weight × distance.
double cgFromAxles(double wheelbase, double mass, double frontAxle) { return wheelbase * (1.0 - frontAxle / mass); }

RuleResult cgHeightRule(double wheelbase) {
    return relative(0.13 * wheelbase, 0.25, "0.13 of the wheelbase; common practice, from memory");
}

// Full-size car tyres 0.010–0.015 on asphalt (vehicle dynamics texts); small wheels more.
RuleResult rollingRule(TyreKind kind) {
    constexpr std::array<double, 3> coefficients{0.020, 0.030, 0.018};
    constexpr std::array<std::string_view, 3> from{"0.020 for rubber on asphalt; common practice, from memory",
                                                   "0.030 for foam on asphalt; common practice, from memory",
                                                   "0.018 for belted rubber on asphalt; common practice, from memory"};
    const auto i = static_cast<std::size_t>(kind);
    return relative(coefficients[i], 0.30, from[i]);
}

// Gear handbooks: 0.97–0.99 a spur mesh, 0.95–0.98 a straight bevel mesh.
RuleResult drivelineEfficiencyRule(double internalRatio, DrivenAxle axle) {
    constexpr double spurMesh = 0.98, bevelMesh = 0.97, uncertainty = 0.02;
    if (internalRatio <= 1.0) return {spurMesh, uncertainty, "0.98 for one spur mesh; gear handbooks"};
    if (axle != DrivenAxle::All)
        return {spurMesh * bevelMesh, uncertainty, "0.98 for the spur mesh × 0.97 for a bevel mesh; gear handbooks"};
    return {spurMesh * bevelMesh * bevelMesh, uncertainty,
            "0.98 for the spur mesh × 0.97 for the bevel mesh of each axle; gear handbooks"};
}

RuleResult wheelInertiaRule(double tyreDiameter) {
    constexpr double wheels = 4.0, mass = 0.12, ofDiameter = 0.1, gyration = 0.75;
    const double scale = tyreDiameter / ofDiameter;
    const double radius = gyration * 0.5 * tyreDiameter;
    return relative(wheels * mass * scale * scale * scale * radius * radius, 0.40,
                    "four wheels of 120 g at 100 mm, mass with the cube of the diameter, turning at 0.75 of the "
                    "radius; common practice, from memory");
}

RuleResult tyreGrowthRule(TyreKind kind) {
    switch (kind) {
    case TyreKind::Rubber:
        return {0.05, 0.03, "5 ± 3 % for rubber without a belt; common practice, from memory"};
    case TyreKind::Foam:
        return {0.005, 0.005, "0.5 ± 0.5 % for foam; common practice, from memory"};
    case TyreKind::Belted:
        break;
    }
    return {0.010, 0.008, "1 ± 0.8 % for rubber with a belt; common practice, from memory"};
}

// Vehicle dynamics texts: normalised longitudinal stiffness of 10–30 for car tyres.
RuleResult slipStiffnessRule() { return relative(15.0, 0.30, "15 per unit of slip; vehicle dynamics texts"); }

RuleResult frictionRule(Surface surface) {
    constexpr std::array<double, 4> grip{1.6, 1.1, 1.4, 0.8};
    constexpr std::array<std::string_view, 4> from{
        "1.6 on clean asphalt; common practice, from memory", "1.1 on dusty asphalt; common practice, from memory",
        "1.4 on concrete; common practice, from memory", "0.8 on a damp strip; common practice, from memory"};
    const auto i = static_cast<std::size_t>(surface);
    return relative(grip[i], 0.25, from[i]);
}

RuleResult airTemperatureRule() { return {20.0, 5.0, "no reading yet: a mild day"}; }

} // namespace rw
