#include "core/physics/chassis.h"

#include "core/units.h"

#include <algorithm>
#include <cmath>

namespace rw {

RoadForces roadForces(const Chassis& chassis, double airDensity, double grade, double airSpeed, double speed) {
    const double pressure = 0.5 * airDensity * airSpeed * airSpeed;
    const double weight = chassis.mass * standardGravity;
    const double cosine = 1.0 / std::sqrt(1.0 + grade * grade);
    RoadForces f;
    f.drag = std::copysign(pressure * chassis.dragArea, airSpeed);
    f.liftFront = pressure * chassis.liftAreaFront;
    f.liftRear = pressure * chassis.liftAreaRear;
    f.weightAcross = weight * cosine;
    f.slopeForce = weight * cosine * grade;
    const double total = f.weightAcross - f.liftFront - f.liftRear;
    f.rolling = (chassis.rolling0 + chassis.rolling2 * speed * speed) * std::max(total, 0.0);
    return f;
}

AxleLoads axleLoads(const Chassis& chassis, const RoadForces& f, double acceleration) {
    const double total = f.weightAcross - f.liftFront - f.liftRear;
    if (total <= 0.0) return {};
    const double behind = chassis.wheelbase - chassis.cgBehindFront;
    const double front = (f.weightAcross * behind - (chassis.mass * acceleration + f.slopeForce) * chassis.cgHeight -
                          f.drag * chassis.dragHeight) /
                             chassis.wheelbase -
                         f.liftFront;
    const double clipped = std::clamp(front, 0.0, total);
    return {clipped, total - clipped};
}

double drivenLoad(const Chassis& chassis, const AxleLoads& loads) {
    switch (chassis.drive) {
    case DrivenAxle::Front:
        return loads.front;
    case DrivenAxle::Rear:
        return loads.rear;
    case DrivenAxle::All:
        break;
    }
    return loads.total();
}

} // namespace rw
