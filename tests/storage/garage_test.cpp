// The garage's promises, one test each: what is stored comes back, whole; nothing that is referred to can go.
#include "core/error.h"
#include "tests/storage/support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace rw::test {

namespace {

using ::testing::HasSubstr;

GarageError::Kind kindOf(const std::function<void()>& work) {
    try {
        work();
    } catch (const GarageError& error) {
        return error.kind();
    }
    ADD_FAILURE() << "nothing was thrown";
    return GarageError::Kind::Failed;
}

} // namespace

TEST(Garage, keepsOneOfEverythingAcrossReopening) {
    const TempFolder folder;
    std::string before;
    {
        Garage garage = Garage::create(folder.file("g.garage"));
        fill(garage);
        before = contentOf(garage);
    }
    Garage garage = Garage::open(folder.file("g.garage"));
    EXPECT_EQ(contentOf(garage), before);
    const GarageCheck check = garage.check(true);
    EXPECT_TRUE(check.ok) << (check.problems.empty() ? "" : check.problems.front());
    EXPECT_EQ(check.schema, Garage::schemaVersion);
    EXPECT_EQ(check.counts.at("vehicles"), 1);
    EXPECT_EQ(check.counts.at("gears"), 2);
    EXPECT_EQ(check.counts.at("passes"), 3);
}

TEST(Garage, returnsThePlanInputThatASetupWasMadeFromBitForBit) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g.garage"));
    const PlanInput input = fullPlan();
    const PlanIds ids = garage.addSetupFromPlan(input, {});
    const PlanInput back = garage.planInput(ids.setup, ids.venue);
    EXPECT_EQ(back, input);
    EXPECT_TRUE(std::signbit(back.venue.grade)); // == cannot tell -0 from 0
}

TEST(Garage, undoesAndRedoesEveryActionToEqualContent) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g.garage"));
    std::vector<std::string> states{contentOf(garage)};
    fill(garage);
    const std::string full = contentOf(garage);
    int steps = 0;
    while (garage.undoText())
        garage.undo(), ++steps;
    EXPECT_EQ(contentOf(garage), states.front());
    EXPECT_GE(steps, 8);
    while (garage.redoText())
        garage.redo();
    EXPECT_EQ(contentOf(garage), full);
    EXPECT_TRUE(garage.check(true).ok);
}

TEST(Garage, refusesToRemoveWhatSomethingRefersTo) {
    const TempFolder folder;
    Garage garage = Garage::create(folder.file("g.garage"));
    const Filled ids = fill(garage);
    const std::string before = contentOf(garage);
    const Id vehicle = garage.setup(ids.plan.setup).vehicle;
    for (const Id id : {vehicle, ids.plan.setup, ids.revision, ids.plan.venue, ids.outing, ids.map, ids.log})
        EXPECT_EQ(kindOf([&] { garage.remove(id); }), GarageError::Kind::Refused) << toString(id);
    EXPECT_EQ(contentOf(garage), before);
    garage.retire(vehicle);
    EXPECT_TRUE(garage.parts(ItemKind::Vehicle).empty());
    EXPECT_EQ(garage.parts(ItemKind::Vehicle, true).size(), 1u);
    garage.remove(ids.fit);
    garage.remove(ids.log);
    EXPECT_EQ(garage.count(ItemKind::Pass), 0);
}

} // namespace rw::test
