// With the truth for every unknown, the model says what sensors without noise read: rows made apart from the estimate
// (made_day.cpp) are the outside.
#include "core/learn/estimate.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_json.h"
#include "tests/learn/made_day.h"

#include <gtest/gtest.h>

#include <cmath>

namespace rw::testing {

namespace {

using namespace learning;

DayStyle perfect(double rate) {
    DayStyle style;
    style.rate = rate;
    style.passes = 2;
    SensorErrors& s = style.sensors;
    s.voltageNoise = s.currentNoise = s.speedNoise = s.heatNoise = 0.0;
    s.voltageStep = s.currentStep = s.speedStep = s.heatStep = s.outputStep = 1e-4;
    return style;
}

double truthOf(const UnknownItem& u, const MadeDay& day, const Day& cut) {
    const StartState& start = day.starts.front();
    switch (u.kind) {
    case Unknown::Carried:
    case Unknown::OfTheDay:
        return *u.field->get(day.truth);
    case Unknown::CurrentGain:
        return day.currentGain;
    case Unknown::CurrentZero:
        return day.currentZero;
    case Unknown::VoltageGain:
        return day.voltageGain;
    case Unknown::Charge:
        return start.charge;
    case Unknown::Case:
        return start.motorCase;
    case Unknown::WindingOver:
        return start.winding - start.motorCase;
    case Unknown::Controller:
        return start.controller;
    case Unknown::Pack:
        return start.pack;
    case Unknown::Wind:
        return day.headWind[u.place];
    case Unknown::Open:
        return day.opens[u.place] - cut.pieces[u.place].from;
    case Unknown::Close:
        return day.closes[u.place] - cut.pieces[u.place].from;
    default:
        return u.mean;
    }
}

class Truth : public ::testing::TestWithParam<const char*> {};

TEST_P(Truth, IsWhatSensorsWithoutNoiseRead) {
    const std::string file = std::string(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_") + GetParam() + ".json";
    const MadeDay day = makeDay(readPlanInputFile(file), perfect(50.0), 3);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    const Problem problem = problemOf({&log, 1}, {});
    ASSERT_EQ(problem.day.pieces.size(), 2U);
    std::vector<double> x;
    for (const UnknownItem& u : problem.unknowns) {
        x.push_back(truthOf(u, day, problem.day));
        EXPECT_GE(x.back(), u.low - 1e-9);
        EXPECT_LE(x.back(), u.high + 1e-9);
    }
    const Predictor predictor(problem.day, problem.unknowns, {});
    const Prediction prediction = predictor.predict(x, Predictor::Derivatives::None);
    // What a row may be off: a duty that bends within a row of 20 ms, and 0.02 K of heat while braking.
    const auto most = [](Sensor sensor) {
        switch (sensor) {
        case Sensor::Voltage:
            return 0.03;
        case Sensor::Current:
            return 0.8;
        case Sensor::MotorSpeed:
            return 1.0;
        case Sensor::Output:
            return 1e-3;
        default:
            return 0.04;
        }
    };
    std::size_t i = 0, used = 0;
    for (const Piece& piece : problem.day.pieces)
        for (const Reading& reading : piece.readings) {
            if (reading.used) {
                ++used;
                EXPECT_NEAR(prediction.values[i], reading.value, most(reading.sensor))
                    << static_cast<int>(reading.sensor) << " at " << piece.middle(reading) << " s";
            }
            ++i;
        }
    EXPECT_GT(used, 1000U);
}

INSTANTIATE_TEST_SUITE_P(Cars, Truth,
                         ::testing::Values("light_two_wheel_drive", "heavy_all_wheel_drive", "streamliner"));

// Sensors with noise and steps: at the truth no channel may lean in any pass. Means of n independent readings are off
// by their noise / √n; five of these in some forty groups is far outside chance. What a shift of the output's column
// may take up is left to it: 3 ms.
struct Noisy {
    const char* plan;
    std::uint64_t seed;
    double lag = 0.0; // s, of the motor's temperature sensor
};
class TruthWithNoise : public ::testing::TestWithParam<Noisy> {};

TEST_P(TruthWithNoise, LeansNowhere) {
    const std::string file = std::string(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_") + GetParam().plan + ".json";
    DayStyle style;
    style.rate = 50.0;
    style.passes = 2;
    style.sensors.heatLag = GetParam().lag;
    const MadeDay day = makeDay(readPlanInputFile(file), style, GetParam().seed);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    const Problem problem = problemOf({&log, 1}, {});
    std::vector<double> x;
    for (const UnknownItem& u : problem.unknowns) {
        x.push_back(std::clamp(truthOf(u, day, problem.day), u.low, u.high));
        if (u.kind == Unknown::Lag && u.place == static_cast<std::size_t>(Sensor::Case)) x.back() = GetParam().lag;
        if (u.kind != Unknown::Open && u.kind != Unknown::Shift) continue;
        // Rounding may move the whole ramp by up to half a row.
        const Driven& driven = problem.day.pieces[u.place].driven;
        const double opened = day.opens[u.place] - problem.day.pieces[u.place].from;
        x.back() = u.kind == Unknown::Open ? driven.open : opened - driven.open;
    }
    const Predictor predictor(problem.day, problem.unknowns, {});
    const Prediction prediction = predictor.predict(x, Predictor::Derivatives::None);
    const std::vector<double> measured = measuredOf(problem.day);
    for (const Group& group : groupsOf(problem.day, prediction.steep)) {
        double sum = 0.0;
        for (const std::size_t i : group.readings)
            sum += measured[i] - prediction.values[i];
        const auto n = static_cast<double>(group.readings.size());
        double slope = 0.0; // what is left of the ramp's own error
        if (group.sensor == Sensor::Output) slope = 3e-4;
        if (group.sensor == Sensor::MotorSpeed) slope = 0.5;
        if (group.sensor >= Sensor::Case) slope = 5e-3;
        EXPECT_LT(std::abs(sum / n), 5.0 * group.changes / std::sqrt(n) + slope)
            << "sensor " << static_cast<int>(group.sensor) << " of pass " << group.piece;
    }
}

// Of the first the output's steps are rows apart while the tyre is at its edge: taken for a channel that is read less
// often, all of it stood half an interval late. Of the second a ramp rises by one step a row.
INSTANTIATE_TEST_SUITE_P(Cars, TruthWithNoise,
                         ::testing::Values(Noisy{"heavy_all_wheel_drive", 1027}, Noisy{"streamliner", 1004},
                                           Noisy{"light_two_wheel_drive", 1023},
                                           Noisy{"light_two_wheel_drive", 1023, 2.0}));

// Central quotients against one-sided ones with a step a tenth as long.
TEST(Predictor, DerivativesHoldWhateverTheStep) {
    const MadeDay day = makeDay(heavyCar(), perfect(20.0), 5);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    Problem problem = problemOf({&log, 1}, {});
    std::vector<double> x;
    for (const UnknownItem& u : problem.unknowns)
        x.push_back(truthOf(u, day, problem.day));
    const Prediction fine = Predictor(problem.day, problem.unknowns, {}).predict(x, Predictor::Derivatives::Forward);
    for (UnknownItem& u : problem.unknowns)
        u.step *= 10.0;
    const Prediction coarse = Predictor(problem.day, problem.unknowns, {}).predict(x, Predictor::Derivatives::Central);
    std::vector<Eigen::Index> used;
    Eigen::Index row = 0;
    for (const Piece& piece : problem.day.pieces)
        for (const Reading& reading : piece.readings) {
            if (reading.used) used.push_back(row);
            ++row;
        }
    for (Eigen::Index j = 0; j < coarse.jacobian.cols(); ++j) {
        if (problem.unknowns[static_cast<std::size_t>(j)].kind >= Unknown::Open) continue; // kinks where rows meet them
        const Eigen::VectorXd a = coarse.jacobian.col(j)(used), b = fine.jacobian.col(j)(used);
        EXPECT_LT((a - b).norm(), 0.02 * a.norm() + 1e-9) << "unknown " << j;
    }
}

} // namespace

} // namespace rw::testing
