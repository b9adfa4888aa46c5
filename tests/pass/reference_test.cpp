// The whole pass against SUNDIALS CVODE on the same equations, with an event loop and peak search of its own; and
// against itself with a tighter tolerance. A figure agrees if it differs by less than 1e-6 of itself.
#include "tests/pass/reference/pass.h"
#include "tests/pass/samples/sample_passes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace {

void expectAgreement(const rw::PassResult& found, const rw::PassResult& expected) {
    EXPECT_EQ(found.completed, expected.completed);
    const std::vector<rw::testing::Figure> ours = rw::testing::figuresOf(found);
    const std::vector<rw::testing::Figure> theirs = rw::testing::figuresOf(expected);
    for (std::size_t i = 0; i < ours.size(); ++i) {
        EXPECT_EQ(ours[i].value.has_value(), theirs[i].value.has_value()) << ours[i].name;
        if (!ours[i].value || !theirs[i].value) continue;
        const double scale = std::max(std::abs(*theirs[i].value), theirs[i].scale);
        EXPECT_LE(std::abs(*ours[i].value - *theirs[i].value), 1e-6 * scale)
            << ours[i].name << ": " << *ours[i].value << " against " << *theirs[i].value;
    }
}

TEST(Samples, everyFigureAgreesWithCvode) {
    const std::vector<rw::testing::SamplePass> passes = rw::testing::samplePasses();
    ASSERT_EQ(passes.size(), 12u);
    for (const rw::testing::SamplePass& pass : passes) {
        SCOPED_TRACE(pass.name);
        expectAgreement(rw::simulatePass(pass.setup, pass.start), rw::reference::simulatePass(pass.setup, pass.start));
    }
}

TEST(HarderPasses, everyFigureAgreesWithCvode) {
    for (const rw::testing::SamplePass& pass : rw::testing::harderPasses()) {
        SCOPED_TRACE(pass.name);
        expectAgreement(rw::simulatePass(pass.setup, pass.start), rw::reference::simulatePass(pass.setup, pass.start));
    }
}

TEST(HarderPasses, makeEveryLimitBindSomewhere) {
    rw::BoundTimes total;
    bool incomplete = false;
    for (const rw::testing::SamplePass& pass : rw::testing::harderPasses()) {
        const rw::PassResult r = rw::simulatePass(pass.setup, pass.start);
        total.motorCurrent += r.bound.motorCurrent;
        total.packCurrent += r.bound.packCurrent;
        total.traction += r.bound.traction;
        total.cutoff += r.bound.cutoff;
        incomplete = incomplete || !r.completed;
    }
    EXPECT_GT(total.motorCurrent, 1.0);
    EXPECT_GT(total.packCurrent, 1.0);
    EXPECT_GT(total.traction, 1.0);
    EXPECT_GT(total.cutoff, 1.0);
    EXPECT_TRUE(incomplete);
}

TEST(Samples, noFigureMovesWhenTheToleranceIsTightenedTenfold) {
    std::vector<rw::testing::SamplePass> passes = rw::testing::samplePasses();
    const std::vector<rw::testing::SamplePass> harder = rw::testing::harderPasses();
    passes.insert(passes.end(), harder.begin(), harder.end());
    rw::PassOptions tight;
    tight.precision.tolerance /= 10.0;
    for (const rw::testing::SamplePass& pass : passes) {
        SCOPED_TRACE(pass.name);
        expectAgreement(rw::simulatePass(pass.setup, pass.start), rw::simulatePass(pass.setup, pass.start, tight));
    }
}

} // namespace
