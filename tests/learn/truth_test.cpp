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
                    << static_cast<int>(reading.sensor) << " at " << piece.times[reading.at] << " s";
            }
            ++i;
        }
    EXPECT_GT(used, 1000U);
}

INSTANTIATE_TEST_SUITE_P(Cars, Truth,
                         ::testing::Values("light_two_wheel_drive", "heavy_all_wheel_drive", "streamliner"));

// Central quotients against one-sided ones with a step a tenth as long.
TEST(Predictor, DerivativesHoldWhateverTheStep) {
    const MadeDay day = makeDay(
        readPlanInputFile(RUNWRIGHT_SOURCE_DIR "/samples/plans/invented_heavy_all_wheel_drive.json"), perfect(20.0), 5);
    const LearnLog log{&day.log, &day.review, day.plan, ""};
    Problem problem = problemOf({&log, 1}, {});
    std::vector<double> x;
    for (const UnknownItem& u : problem.unknowns)
        x.push_back(truthOf(u, day, problem.day));
    const Prediction coarse = Predictor(problem.day, problem.unknowns, {}).predict(x, Predictor::Derivatives::Central);
    for (UnknownItem& u : problem.unknowns)
        u.step *= 0.1;
    const Prediction fine = Predictor(problem.day, problem.unknowns, {}).predict(x, Predictor::Derivatives::Forward);
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
