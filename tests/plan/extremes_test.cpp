// Every field at the ends of its range, alone and in company: computed to figures that are numbers, or refused in a
// sentence, in a bounded amount of work.
#include "core/error.h"
#include "core/plan/plan.h"
#include "core/plan/plan_fields.h"
#include "core/plan/plan_figures.h"
#include "tests/plan/sample_plans.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace rw::testing {

namespace {

// The ends of the field's range; where it has none, values beyond any vehicle's.
std::vector<double> endsOf(const PlanField& field) {
    constexpr double near = 1e-9, far = 1e9;
    std::vector<double> ends;
    if (std::isfinite(field.low))
        ends = {field.low, field.low + near};
    else
        ends = {-far, -1e3};
    if (std::isfinite(field.high))
        ends.push_back(field.high);
    else
        ends.insert(ends.end(), {1e3, far});
    std::erase_if(ends, [&](double value) {
        return !fieldAllows(field, value) || (field.kind == FieldKind::Whole && value != std::round(value));
    });
    return ends;
}

std::vector<const PlanField*> numberFields() {
    std::vector<const PlanField*> fields;
    for (const PlanField& field : planFields())
        if (field.get && field.kind != FieldKind::Choice) fields.push_back(&field);
    return fields;
}

void expectFiguresOrSentence(const PlanInput& plan) {
    try {
        checkPlanInput(plan, "");
        const PassSetup setup = convertedSetup(plan);
        const PassResult pass = simulatePass(setup, startState(plan));
        for (const PlanFigure& figure : planFigures())
            if (const auto value = figure.get(plan, pass)) {
                EXPECT_FALSE(std::isnan(*value)) << figure.key;
            }
        const StartState after = standFor(setup, pass.end, 60.0);
        EXPECT_FALSE(std::isnan(after.pack) || std::isnan(after.motorCase));
        const auto steady = steadyTopSpeed(setup, startState(plan));
        EXPECT_FALSE(steady && std::isnan(*steady));
    } catch (const InputError& error) {
        EXPECT_EQ(std::string(error.what()).find('\n'), std::string::npos);
        EXPECT_GT(error.message().size(), 20U);
    }
}

TEST(FieldExtremes, AreComputedOrRefusedAlone) {
    const std::array<PlanInput, 3> samples = samplePlans();
    std::size_t turn = 0;
    for (const PlanField* field : numberFields())
        for (const double value : endsOf(*field)) {
            SCOPED_TRACE(::testing::Message() << field->key() << " = " << value);
            PlanInput plan = samples[turn++ % samples.size()];
            field->set(plan, value);
            expectFiguresOrSentence(plan);
        }
}

TEST(FieldExtremes, AreComputedOrRefusedTogether) {
    const std::array<PlanInput, 3> samples = samplePlans();
    const std::vector<const PlanField*> fields = numberFields();
    for (unsigned seed = 0; seed < 300; ++seed) {
        std::mt19937 random(seed);
        PlanInput plan = samples[seed % samples.size()];
        std::string what;
        for (int k = 0; k < 4; ++k) {
            const PlanField& field = *fields[random() % fields.size()];
            const std::vector<double> ends = endsOf(field);
            if (ends.empty()) continue;
            const double value = ends[random() % ends.size()];
            field.set(plan, value);
            what += field.key() + " = " + std::to_string(value) + "; ";
        }
        SCOPED_TRACE(::testing::Message() << "seed " << seed << ": " << what);
        expectFiguresOrSentence(plan);
    }
}

// Pack straight above the rear axle: nothing stands on the front wheels, and the ratio of loads has no base.
TEST(FieldExtremes, NoLoadInFrontIsALoadRatioOfZero) {
    PlanInput plan = lightCar();
    plan.vehicle.cg_behind_front_m = plan.vehicle.wheelbase_m;
    checkPlanInput(plan, "");
    EXPECT_EQ(simulatePass(convertedSetup(plan), startState(plan)).minFrontLoadRatio, 0.0);
}

} // namespace

} // namespace rw::testing
