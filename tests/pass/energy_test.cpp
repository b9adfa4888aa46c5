// Energy over whole passes: what the cells gave is found again in motion, on the road and as heat, each counted from
// the trace with formulas written here. Conservation of energy; the trapezoid rule on 5 kHz errs far less than 1e-6.
#include "core/units.h"
#include "tests/pass/samples/sample_passes.h"

#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

namespace {

using rw::Instant;
using rw::PassSetup;

struct Powers {        // W
    double road = 0.0; // drag and rolling resistance
    double slip = 0.0;
    double driveline = 0.0;
    double spin = 0.0; // into rotating masses, as the equation of motion counts it
    double brake = 0.0;
    double copper = 0.0, iron = 0.0, controller = 0.0, auxiliary = 0.0;
    double cells = 0.0, leads = 0.0, polarisation = 0.0;
    double caseOut = 0.0;   // case to air
    double brakeHeat = 0.0; // braking's share in the winding

    [[nodiscard]] double losses() const {
        return road + slip + driveline + spin + brake + copper + iron + controller + auxiliary + cells + leads +
               polarisation;
    }
};

Powers powersAt(const PassSetup& s, const Instant& i) {
    Powers p;
    p.road = (i.drag + i.rolling) * i.speed;
    const double radius =
        s.tyre.radius * (1.0 + s.tyre.growth * i.wheelSpeed * i.wheelSpeed /
                                   (i.wheelSpeed * i.wheelSpeed + s.tyre.halfGrowthSpeed * s.tyre.halfGrowthSpeed));
    const double surface = i.wheelSpeed * radius;
    p.slip = i.tyreForce * (surface - i.speed);
    const double shaft = i.shaftTorque * i.motorSpeed;
    const double eta = s.gearing.efficiency;
    p.driveline =
        (shaft > 0.0 ? shaft * (1.0 - eta) : -shaft * (1.0 / eta - 1.0)) + s.gearing.dragTorque * i.wheelSpeed;
    const double inertia = s.chassis.wheelInertia + s.motor.inertia * s.gearing.ratio * s.gearing.ratio;
    p.spin = inertia / (radius * radius) * i.acceleration * surface;
    p.brake = i.brake * surface;
    const double current2 = i.motorCurrent * i.motorCurrent;
    p.copper = current2 * s.motor.resistance20 * (1.0 + 0.00393 * (i.winding - 20.0));
    const double k = 60.0 / (2.0 * std::numbers::pi * s.motor.kv_rpmPerVolt) * std::cos(s.motor.timing) *
                     (1.0 + s.motor.magnetCoefficient * (i.winding - 20.0));
    const double noLoad =
        s.motor.noLoad.constant + s.motor.noLoad.viscous * i.motorSpeed / s.motor.noLoad.referenceSpeed;
    p.iron = k * i.motorSpeed * noLoad;
    p.controller = current2 * s.controller.resistance;
    p.auxiliary = i.packVoltage * s.controller.auxiliaryCurrent;
    const double cell =
        s.pack.cellResistance25 * std::exp(s.pack.resistanceB * (1.0 / (i.pack + 273.15) - 1.0 / 298.15));
    p.cells = i.packCurrent * i.packCurrent * cell * s.pack.series / s.pack.parallel;
    p.leads = i.packCurrent * i.packCurrent * s.pack.leadResistance;
    p.polarisation = i.polarisation * i.packCurrent; // stored in and lost by the RC pair
    p.brakeHeat = s.driving.brakeHeatFraction * i.brake * i.speed;
    p.caseOut = (i.motorCase - s.strip.airTemperature) / s.motor.heat.toAir.standing *
                (1.0 + s.motor.heat.toAir.coefficient * std::pow(i.speed, 0.8));
    return p;
}

void accumulate(Powers& sum, const Powers& a, const Powers& b, double seconds) {
    const double h = 0.5 * seconds;
    for (double Powers::*part :
         {&Powers::road, &Powers::slip, &Powers::driveline, &Powers::spin, &Powers::brake, &Powers::copper,
          &Powers::iron, &Powers::controller, &Powers::auxiliary, &Powers::cells, &Powers::leads, &Powers::polarisation,
          &Powers::caseOut, &Powers::brakeHeat})
        sum.*part += h * (a.*part + b.*part);
}

struct Account {
    rw::PassResult result;
    Powers energies;        // J
    double restSpeed = 0.0; // m/s, with which it comes to rest there and then
};

Account account(const rw::testing::SamplePass& pass) {
    Account a;
    rw::PassOptions options;
    options.traceRate = 5000.0;
    std::optional<Instant> before;
    a.result = rw::simulatePass(pass.setup, pass.start, options, [&](const Instant& i) {
        if (before && i.time > before->time)
            accumulate(a.energies, powersAt(pass.setup, *before), powersAt(pass.setup, i), i.time - before->time);
        before = i;
        if (i.phase != rw::Phase::Rest) a.restSpeed = i.speed;
    });
    return a;
}

// Energy of the cells between two charges, ∫ s OCV(z) Q dz, by Simpson between the knots (exact for cubics).
double cellEnergy(const rw::Pack& pack, double from, double to) {
    std::vector<double> marks{to};
    for (std::size_t i = 0; i < pack.ocv.size(); ++i)
        if (pack.ocv.knot(i) > to && pack.ocv.knot(i) < from) marks.push_back(pack.ocv.knot(i));
    marks.push_back(from);
    double sum = 0.0;
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double width = marks[i + 1] - marks[i];
        sum += width / 6.0 *
               (pack.ocv.at(marks[i]) + 4.0 * pack.ocv.at(marks[i] + width / 2.0) + pack.ocv.at(marks[i + 1]));
    }
    return sum * pack.series * pack.capacity;
}

class EveryPass : public testing::TestWithParam<rw::testing::SamplePass> {};

TEST_P(EveryPass, spendsWhatTheCellsGave) {
    const rw::testing::SamplePass& pass = GetParam();
    const Account a = account(pass);
    const double given = cellEnergy(pass.setup.pack, pass.start.charge, a.result.end.charge);
    const double climbed =
        pass.setup.chassis.mass * 9.80665 * std::sin(std::atan(pass.setup.strip.grade)) * a.result.stopAt;
    const double left = 0.5 * pass.setup.chassis.mass * a.restSpeed * a.restSpeed;
    EXPECT_NEAR(a.energies.losses() + climbed + left, given, 1e-6 * given);
    // The terminals' share is what the pass reports.
    const double inside = a.energies.cells + a.energies.leads + a.energies.polarisation;
    EXPECT_NEAR(given - inside, a.result.energyUsed, 1e-6 * given);
}

TEST_P(EveryPass, heatsTheMotorWithItsLosses) {
    const rw::testing::SamplePass& pass = GetParam();
    const Account a = account(pass);
    const rw::Motor& m = pass.setup.motor;
    const double stored = m.heat.windingCapacity * (a.result.end.winding - pass.start.winding) +
                          m.heat.caseCapacity * (a.result.end.motorCase - pass.start.motorCase);
    const double put = a.energies.copper + a.energies.iron + a.energies.brakeHeat;
    EXPECT_NEAR(stored + a.energies.caseOut, put, 1e-6 * put);
}

std::vector<rw::testing::SamplePass> everyPass() {
    std::vector<rw::testing::SamplePass> passes = rw::testing::samplePasses();
    const std::vector<rw::testing::SamplePass> harder = rw::testing::harderPasses();
    passes.insert(passes.end(), harder.begin(), harder.end());
    return passes;
}

INSTANTIATE_TEST_SUITE_P(Energy, EveryPass, testing::ValuesIn(everyPass()), [](const auto& pass) {
    std::string name = pass.param.name;
    for (char& c : name)
        if (!std::isalnum(static_cast<unsigned char>(c))) c = '_';
    return name;
});

} // namespace
