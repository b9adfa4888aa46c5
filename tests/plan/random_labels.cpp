#include "tests/plan/random_labels.h"

#include "core/plan/normal.h"

#include <cmath>

namespace rw::testing {

namespace {

class Draw {
public:
    explicit Draw(std::uint64_t seed)
        : random_(seed) {}
    double between(double low, double high) { return low + (high - low) * random_.inUnit(); }
    int whole(int low, int high) {
        return low + static_cast<int>(random_.below(static_cast<std::size_t>(high - low + 1)));
    }
    bool coin() { return random_.below(2) == 1; }

private:
    SeededUniform random_;
};

} // namespace

LabelsInput randomLabels(std::uint64_t seed) {
    Draw draw(seed);
    LabelsInput out;
    const int series = draw.whole(2, 12);
    auto& car = out.vehicle;
    car.wheelbase_m = draw.between(0.18, 0.6), car.width_m = draw.between(0.14, 0.42);
    car.height_m = draw.between(0.06, 0.26);
    car.mass_kg = 0.6 * series * draw.between(0.8, 1.6);
    car.body = static_cast<BodyClass>(draw.whole(0, 4)), car.driven = static_cast<DrivenAxle>(draw.whole(0, 2));
    car.internal_ratio = draw.coin() ? 1.0 : draw.between(1.5, 3.5);
    out.tyre.diameter_m = draw.between(0.05, 0.13), out.tyre.kind = static_cast<TyreKind>(draw.whole(0, 2));
    const int pinion = draw.whole(16, 34), spur = draw.whole(40, 76);
    out.gears.module_m = draw.between(0.0005, 0.0012);
    out.gears.pinions = {pinion, pinion + 1, pinion + 2}, out.gears.spurs = {spur};
    // A motor of 45 to 85 g a cell, wound for 30,000 to 55,000 rpm on the pack.
    const double mass = series * draw.between(0.045, 0.085);
    out.motor.kv_rpm_per_V = draw.between(30000.0, 55000.0) / (3.7 * series);
    if (draw.coin()) {
        out.motor.mass_kg = mass;
    } else {
        out.motor.can_diameter_m = std::cbrt(mass / 4241.0), out.motor.can_length_m = 1.5 * *out.motor.can_diameter_m;
    }
    out.controller.continuous_A = draw.between(60.0, 400.0), out.controller.fan = draw.coin();
    out.pack.series = series, out.pack.parallel = draw.whole(1, 2);
    out.pack.capacity_Ah = out.pack.parallel * draw.between(2.0, 5.0);
    out.pack.continuous_c_rate = draw.between(20.0, 100.0);
    out.venue.run_up_m = draw.between(50.0, 300.0), out.venue.timed_m = draw.between(10.0, 40.0);
    out.venue.length_m = *out.venue.run_up_m + draw.between(200.0, 500.0);
    out.venue.surface = static_cast<Surface>(draw.whole(0, 3));
    return out;
}

} // namespace rw::testing
