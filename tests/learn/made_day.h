// Invented days with known truth, for calibration: a car drawn from a plan's uncertainties drives some passes, and
// sensors with gains, noise and steps of their own write rows. The vehicle is the core's; the rows are made here and
// share nothing with how the estimate reads them.
#pragma once

#include "core/log/log.h"
#include "core/pass/pass.h"
#include "core/plan/plan_input.h"
#include "core/review/review.h"
#include "samples/generate/random.h"

#include <map>
#include <string>
#include <vector>

namespace rw::testing {

struct SensorErrors {
    double currentGain = 0.03, voltageGain = 0.005, currentZero = 1.0; // standard deviations that are drawn from
    double voltageNoise = 0.02, voltageStep = 0.01;
    double currentNoise = 0.4, currentStep = 0.1;
    double speedNoise = 20.0, speedStep = 10.0; // rpm
    double outputStep = 0.5;                    // %
    double heatNoise = 0.05, heatStep = 0.1;    // K
    double heatLag = 0.0;                       // s, of the motor's sensor
    bool motorSpeed = true, output = true, throttle = true, heat = true, groundSpeed = false;
    double groundNoise = 0.15; // m/s
};

struct DayStyle {
    double rate = 25.0; // rows a second
    int passes = 3;
    SensorErrors sensors;
    double gust = 0.0;                   // share of the drag added in one pass
    std::map<std::string, double> truth; // of these keys, in place of what is drawn
    double tyreShare = 0.0;              // the tyre is so much larger than the plan says, and the plan is sure of it
};

struct MadeDay {
    PlanInput plan;                    // what the owner believes, with uncertainties
    PlanInput truth;                   // what drove
    std::vector<double> headWind;      // m/s, of each pass
    std::size_t gusty = 0;             // the pass that DayStyle::gust is in
    std::vector<double> opens, closes; // s of the session, of the throttle
    std::vector<StartState> starts;    // as each pass begins
    double currentGain = 1.0, voltageGain = 1.0, currentZero = 0.0;
    std::string text; // the log's bytes
    Log log;
    LogReview review;
};

// The sample that grip holds back at the start.
[[nodiscard]] PlanInput heavyCar();
[[nodiscard]] MadeDay makeDay(const PlanInput& plan, const DayStyle& style, std::uint64_t seed);

} // namespace rw::testing
