// Changed labels in the garage: they move what still is a label or an estimate, and nothing that was measured.
#include "core/plan/labels.h"
#include "tests/storage/support.h"

#include <gtest/gtest.h>

namespace rw::test {

namespace {

PlanParts originsOf(const LabelsPlan& estimated, const LabelsInput& labels) {
    PlanParts out;
    out.source = Source::Label;
    for (const LabelsValue& value : estimated.values)
        out.sources[value.key] = {value.origin == ValueOrigin::Estimated ? Source::Estimated : Source::Label, ""};
    out.labels = writeLabels(labels);
    return out;
}

class Relabel : public testing::Test {
protected:
    Relabel()
        : garage(Garage::create(folder.file("g")))
        , labels(exampleLabels()) {
        const LabelsPlan estimated = estimatePlan(labels);
        ids = garage.addSetupFromPlan(estimated.plan, originsOf(estimated, labels));
    }
    [[nodiscard]] rw::Setup setup() { return garage.setup(ids.setup); }
    Id relabel() {
        const LabelsPlan estimated = estimatePlan(labels);
        return garage.relabel({ids.setup, ids.venue, estimated.plan, originsOf(estimated, labels), "other labels"});
    }

    TempFolder folder;
    Garage garage;
    LabelsInput labels;
    PlanIds ids;
};

} // namespace

TEST_F(Relabel, theLabelsStayWithVehicleAndVenueThroughReopeningAndExchange) {
    EXPECT_EQ(readLabels(garage.part(setup().vehicle).document, "vehicle"), labels);
    EXPECT_EQ(garage.part(ids.venue).document, garage.part(setup().vehicle).document);
    EXPECT_EQ(garage.part(setup().motor).document, "");
    Garage other = Garage::create(folder.file("other"));
    const ImportedItems there = other.importItems(garage.exportItem(setup().vehicle), "exchange");
    EXPECT_EQ(readLabels(other.part(there.root).document, "vehicle"), labels);
}

TEST_F(Relabel, whatIsStillALabelOrAnEstimateFollowsInPartsAndANewRevision) {
    labels.motor.mass_kg = 0.45;
    const Id revision = relabel();
    EXPECT_NE(revision, ids.setup);
    EXPECT_EQ(garage.setup(revision).revision, 2);
    EXPECT_EQ(garage.setup(revision).reason, "other labels");
    EXPECT_EQ(garage.planInput(revision, ids.venue), estimatePlan(labels).plan);
    // The copper's share of the mass times its specific heat, by hand.
    EXPECT_DOUBLE_EQ(*garage.part(setup().motor).values.at("motor.winding_capacity_JpK").number, 0.18 * 0.45 * 385.0);
    EXPECT_EQ(readLabels(garage.part(setup().vehicle).document, "vehicle"), labels);
    EXPECT_EQ(garage.setup(ids.setup).revision, 1); // the old revision is as it was
}

TEST_F(Relabel, whatWasMeasuredFittedOrTypedStays) {
    Part motor = garage.part(setup().motor);
    motor.values.at("motor.resistance_ohm").number = 0.0071;
    motor.values.at("motor.resistance_ohm").source = Source::Measured;
    garage.update(motor);
    PlanInput typed = garage.planInput(ids.setup, ids.venue);
    typed.vehicle.drag_area_m2 = 0.011;
    ids.setup = garage.reviseFromPlan(ids.setup, typed, "from a coast-down");
    labels.motor.mass_kg = 0.45;
    labels.vehicle.height_m = 0.2;
    const Id revision = relabel();
    EXPECT_EQ(garage.part(motor.id).values.at("motor.resistance_ohm").number, 0.0071);
    EXPECT_EQ(garage.setup(revision).values.at("vehicle.drag_area_m2").number, 0.011);
    // The part itself still has its estimate, which follows the height.
    EXPECT_EQ(garage.part(setup().vehicle).values.at("vehicle.drag_area_m2").number,
              estimatePlan(labels).plan.vehicle.drag_area_m2);
}

TEST_F(Relabel, aChangedListOfGearsFitsOtherWheels) {
    labels.gears.pinions = {30, 31, 32};
    labels.gears.pinion_teeth.reset();
    const rw::Setup now = garage.setup(relabel());
    EXPECT_EQ(now.values.at("gears.pinion_teeth").number, 31.0);
    EXPECT_EQ(garage.part(now.pinion).values.at("gears.pinion_teeth").number, 31.0);
    EXPECT_EQ(now.spur, setup().spur);
}

TEST_F(Relabel, theSameLabelsChangeNothingAndOneUndoTakesAllBack) {
    const std::string before = contentOf(garage);
    EXPECT_EQ(relabel(), ids.setup);
    EXPECT_EQ(contentOf(garage), before);
    labels.pack.capacity_Ah = 6.0;
    labels.venue.length_m = 700.0;
    EXPECT_NE(relabel(), ids.setup);
    EXPECT_NE(contentOf(garage), before);
    garage.undo();
    EXPECT_EQ(contentOf(garage), before);
}

} // namespace rw::test
