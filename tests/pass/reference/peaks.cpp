#include "tests/pass/reference/peaks.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace rw::reference {

using namespace pass;

Figures figuresAt(const Model& model, const State& y, const Regime& regime, const Solution& s) {
    const PassSetup& setup = model.setup();
    const Chassis& c = setup.chassis;
    const RoadForces still = roadForces(c, setup.strip.airDensity, setup.strip.grade, setup.strip.headWind, 0.0);
    const AxleLoads loads = regime.moving ? model.loads(s, true) : axleLoads(c, still, 0.0);
    const double atRest = still.weightAcross * (c.wheelbase - c.cgBehindFront) / c.wheelbase;
    Figures f;
    f[LowVoltage] = -s.packVoltage;
    f[PackAmps] = s.packCurrent;
    f[MotorAmps] = s.motorCurrent;
    f[ElectricalPower] = s.packVoltage * s.packCurrent;
    f[ShaftPower] = s.torque * s.motorSpeed;
    f[WheelSpin] = s.wheelSpeed;
    f[GroundSpeed] = y[V];
    f[WindingHeat] = y[TW];
    f[CaseHeat] = y[TH];
    f[ControllerHeat] = y[TC];
    f[PackHeat] = y[TP];
    f[RippleVolts] = model.chopping(regime) ? rippleVoltage(setup.controller, s.motorCurrent, s.duty) : 0.0;
    f[FrontShare] = -loads.front / atRest;
    return f;
}

Largest::Largest() { best_.fill(-std::numeric_limits<double>::infinity()); }

void Largest::take(const Figures& f) {
    for (std::size_t i = 0; i < figureCount; ++i)
        best_[i] = std::max(best_[i], f[i]);
}

void Largest::search(const std::function<Figures(double)>& at, int samples) {
    std::vector<Figures> seen;
    for (int i = 0; i <= samples; ++i)
        seen.push_back(at(static_cast<double>(i) / samples));
    const Figures before = best_;
    for (const Figures& f : seen)
        take(f);
    constexpr double golden = 0.6180339887498949;
    for (std::size_t i = 0; i < figureCount; ++i) {
        for (std::size_t k = 0; k + 1 < seen.size(); ++k) {
            // A smooth curve rises above its samples by less than the change over the neighbouring spacings.
            const double here = std::max(seen[k][i], seen[k + 1][i]);
            const double change = std::abs(seen[k + 1][i] - seen[k][i]);
            const bool inner = k > 0 && k + 2 < seen.size();
            const double spread = inner ? std::max({change, std::abs(seen[k][i] - seen[k - 1][i]),
                                                    std::abs(seen[k + 2][i] - seen[k + 1][i])})
                                        : change;
            if (here + spread <= std::max(before[i], best_[i])) continue;
            double low = static_cast<double>(k) / samples;
            double high = static_cast<double>(k + 1) / samples;
            double a = high - golden * (high - low);
            double b = low + golden * (high - low);
            Figures fa = at(a);
            Figures fb = at(b);
            for (int iteration = 0; iteration < 30; ++iteration) {
                best_[i] = std::max({best_[i], fa[i], fb[i]});
                if (fa[i] > fb[i]) {
                    high = b;
                    b = a;
                    fb = fa;
                    a = high - golden * (high - low);
                    fa = at(a);
                } else {
                    low = a;
                    a = b;
                    fa = fb;
                    b = low + golden * (high - low);
                    fb = at(b);
                }
            }
        }
    }
}

} // namespace rw::reference
