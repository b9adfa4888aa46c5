// Forces and loads on the vehicle. core/physics/README.md 8. SI; lift up positive.
#pragma once

namespace rw {

enum class DrivenAxle { Front, Rear, All };

struct Chassis {
    double mass = 0.0;          // kg
    double wheelbase = 0.0;     // m
    double cgBehindFront = 0.0; // l_f, m
    double cgHeight = 0.0;      // m
    DrivenAxle drive = DrivenAxle::Rear;
    double dragArea = 0.0;                          // C_d A, m²
    double dragHeight = 0.0;                        // m
    double liftAreaFront = 0.0, liftAreaRear = 0.0; // m²
    double rolling0 = 0.0;                          // c_0, 1
    double rolling2 = 0.0;                          // c_2, s²/m²
    double wheelInertia = 0.0;                      // kg m², all wheels
};

struct AxleLoads {
    double front = 0.0, rear = 0.0; // N, never below 0
    [[nodiscard]] double total() const { return front + rear; }
};

// ½ρ of the air and the strip's slope, with what depends on speed but not on acceleration.
struct RoadForces {
    double drag = 0.0;                      // N against the travel
    double liftFront = 0.0, liftRear = 0.0; // N
    double weightAcross = 0.0;              // m g cos θ
    double slopeForce = 0.0;                // m g sin θ
    double rolling = 0.0;                   // N
};

[[nodiscard]] RoadForces roadForces(const Chassis& chassis, double airDensity, double grade, double airSpeed,
                                    double speed);
[[nodiscard]] AxleLoads axleLoads(const Chassis& chassis, const RoadForces& forces, double acceleration);
[[nodiscard]] double drivenLoad(const Chassis& chassis, const AxleLoads& loads);

} // namespace rw
