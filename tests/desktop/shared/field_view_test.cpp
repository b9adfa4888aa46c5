#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/figure_text.h"
#include "core/error.h"
#include "tests/desktop/window_fixture.h"

#include <gtest/gtest.h>

#include <set>

using namespace rw;
using rw::test::samplePlan;

namespace {

const PlanField& field(const char* key) { return *findPlanField(key); }

std::vector<const PlanField*> allShown() {
    std::vector<const PlanField*> all;
    for (const FieldGroup& group : fieldGroups()) {
        all.insert(all.end(), group.fields.begin(), group.fields.end());
        all.insert(all.end(), group.more.begin(), group.more.end());
    }
    return all;
}

} // namespace

TEST(FieldGroups, holdEveryFieldOfTheInputOnce) {
    const auto shown = allShown();
    EXPECT_EQ(std::set<const PlanField*>(shown.begin(), shown.end()).size(), shown.size());
    EXPECT_EQ(shown.size(), planFields().size());
}

TEST(FieldView, everyFieldReadsBackWhatItShowsInEveryUnit) {
    const PlanInput sample = samplePlan();
    for (const bool imperial : {false, true}) {
        Units units;
        units.set(&UnitChoice::speed, imperial ? SpeedUnit::Mph : SpeedUnit::Kmh);
        units.set(&UnitChoice::temperature, imperial ? TemperatureUnit::Fahrenheit : TemperatureUnit::Celsius);
        units.set(&UnitChoice::length, imperial ? LengthUnit::Inch : LengthUnit::Metric);
        units.set(&UnitChoice::mass, imperial ? MassUnit::Pound : MassUnit::Metric);
        for (const PlanField* shown : allShown()) {
            if (!shown->get || shown->kind == FieldKind::Choice) continue;
            const auto value = shown->get(sample);
            if (!value) continue;
            PlanInput again = sample;
            setFieldText(*shown, units, fieldText(*shown, units, sample), again);
            // Four digits at the least, or to the second digit of the standard uncertainty.
            const auto spread = sample.uncertainty.find(shown->key());
            const double unsure = spread == sample.uncertainty.end() ? 0.0 : 0.05 * spread->second;
            EXPECT_NEAR(*shown->get(again), *value, 5e-4 * std::abs(*value) + unsure) << shown->key();
        }
    }
}

TEST(FieldView, aFigureHasTheDigitsThatItMeans) {
    EXPECT_EQ(meantText(1.85), QStringLiteral("1.85"));
    EXPECT_EQ(meantText(60000.0), QStringLiteral("60000"));
    EXPECT_EQ(meantText(101325.0), QStringLiteral("101325"));
    EXPECT_EQ(meantText(-0.015), QStringLiteral("\u22120.015"));
    EXPECT_EQ(meantText(59.3175853), QStringLiteral("59.32"));
    EXPECT_EQ(meantText(1312.335958), QStringLiteral("1312"));
    // Two digits of the standard uncertainty (JCGM 100:2008, 7.2.6).
    EXPECT_EQ(meantText(59.3175853, 5.8), QStringLiteral("59.3"));
    EXPECT_EQ(meantText(1312.335958, 0.31), QStringLiteral("1312.34"));
    EXPECT_EQ(meantText(1834.62738, 23.0), QStringLiteral("1835"));
    EXPECT_EQ(meantUncertainty(0.0098425), QStringLiteral("0.0098"));
    EXPECT_EQ(meantUncertainty(0.5), QStringLiteral("0.5"));
}

TEST(FieldView, hintsStandInTheUnitOfTheirField) {
    Units units;
    EXPECT_TRUE(usualText(field("vehicle.wheelbase_m"), units).startsWith(QStringLiteral("180 to 600\u00a0mm.")));
    EXPECT_TRUE(usualText(field("vehicle.driveline_efficiency"), units).startsWith(QStringLiteral("85 to 98\u00a0%.")));
    EXPECT_TRUE(usualText(field("pack.cell_resistance_ohm"), units).startsWith(QStringLiteral("0.5 to 5\u00a0mΩ.")));
    EXPECT_TRUE(usualText(field("controller.pwm_Hz"), units).startsWith(QStringLiteral("8 to 32\u00a0kHz.")));
    EXPECT_TRUE(usualText(field("gears.module_m"), units).startsWith(QStringLiteral("0.4 to 1.5\u00a0mm.")));
    units.set(&UnitChoice::length, LengthUnit::Inch);
    EXPECT_TRUE(usualText(field("vehicle.wheelbase_m"), units).startsWith(QStringLiteral("7.1 to 24\u00a0in.")));
    // A tooth's module is a number of millimetres in every system of units.
    EXPECT_TRUE(usualText(field("gears.module_m"), units).startsWith(QStringLiteral("0.4 to 1.5\u00a0mm.")));
}

TEST(FieldView, listsOfTeethAreReadAsPeopleWriteThem) {
    const PlanField& pinions = field("gears.pinions");
    for (const char* text :
         {"25-28, 31", "25..28 31", "25 – 28;31", "25 to 28, 31", "25, 26, 27, 28, 31", "25…28, 26, 31"})
        EXPECT_EQ(typedTeeth(pinions, QString::fromUtf8(text)), (std::vector<int>{25, 26, 27, 28, 31})) << text;
    EXPECT_EQ(teethText({25, 26, 27, 28, 31}), QStringLiteral("25 to 28, 31"));
    EXPECT_EQ(teethText({20, 21, 30}), QStringLiteral("20, 21, 30"));
    for (const char* text : {"", "25/26", "34-25", "3", "25-900", "25-", "-25", "12.5", "twenty"})
        EXPECT_THROW((void)typedTeeth(pinions, QString::fromUtf8(text)), InputError) << text;
}

TEST(FieldView, typedFiguresMayHaveACommaAndSpaces) {
    PlanInput input = samplePlan();
    const Units units;
    setFieldText(field("vehicle.mass_kg"), units, QStringLiteral(" 1,85 "), input);
    EXPECT_DOUBLE_EQ(input.vehicle.mass_kg, 1.85);
    setFieldText(field("motor.kv_rpm_per_V"), units, QStringLiteral("4 600"), input);
    EXPECT_DOUBLE_EQ(input.motor.kv_rpm_per_V, 4600.0);
}

TEST(FieldView, whatIsNotAllowedIsSaidInTheUnitsShown) {
    PlanInput input = samplePlan();
    Units units;
    units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit);
    const auto complaint = [&](const char* key, const QString& text) {
        try {
            setFieldText(field(key), units, text, input);
        } catch (const InputError& error) {
            return QString::fromStdString(error.message());
        }
        return QString();
    };
    // −40 to 150 °C is −40 to 302 °F.
    EXPECT_EQ(complaint("air.temperature_C", QStringLiteral("400")),
              QStringLiteral("Allowed is \u221240\u00a0°F to 302\u00a0°F."));
    EXPECT_EQ(complaint("gears.pinion_teeth", QStringLiteral("3")), QStringLiteral("Allowed is 5 to 200."));
    EXPECT_NE(complaint("gears.pinion_teeth", QStringLiteral("12.5")), QString());
    EXPECT_NE(complaint("vehicle.mass_kg", QStringLiteral("heavy")), QString());
    EXPECT_NE(complaint("vehicle.mass_kg", QString()), QString());
    EXPECT_EQ(input, samplePlan());
}

TEST(FieldView, anOptionalFieldMayBeEmptied) {
    PlanInput input = samplePlan();
    const Units units;
    setFieldText(field("drive.target_mps"), units, QString(), input);
    EXPECT_FALSE(input.drive.target_mps.has_value());
    EXPECT_EQ(valueWithUnit(field("drive.target_mps"), units, input), QStringLiteral("none"));
}

TEST(FieldView, arrowKeysStepTeethByOneAndPolesByTwo) {
    PlanInput input = samplePlan();
    const Units units;
    input.gears.pinion_teeth = 26;
    input.motor.poles = 4;
    EXPECT_EQ(steppedText(field("gears.pinion_teeth"), units, input, 1), QStringLiteral("27"));
    EXPECT_EQ(steppedText(field("motor.poles"), units, input, -1), QStringLiteral("2"));
}

TEST(FieldView, uncertaintyIsTypedInTheUnitShown) {
    PlanInput input = samplePlan();
    const Units units;
    setUncertaintyText(field("pack.cell_resistance_ohm"), units, QStringLiteral("0.2"), input); // milliohms
    EXPECT_NEAR(input.uncertainty.at("pack.cell_resistance_ohm"), 0.0002, 1e-15);
    EXPECT_EQ(uncertaintyText(field("pack.cell_resistance_ohm"), units, input), QStringLiteral("0.2"));
    setUncertaintyText(field("pack.cell_resistance_ohm"), units, QString(), input);
    EXPECT_EQ(input.uncertainty.count("pack.cell_resistance_ohm"), 0U);
}

TEST(Differences, nameTheFieldsThatDiffer) {
    const PlanInput was = samplePlan();
    PlanInput is = was;
    is.gears.pinion_teeth += 1;
    is.pack.ocv.back().volts_perCell += 0.01;
    is.gears.pinions.push_back(99);
    std::set<std::string> keys;
    for (const PlanField* changed : differences(was, is))
        keys.insert(changed->key());
    EXPECT_EQ(keys, (std::set<std::string>{"gears.pinion_teeth", "gears.pinions", "pack.ocv"}));
}
