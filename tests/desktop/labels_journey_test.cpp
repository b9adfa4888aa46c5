// From first start to a plan with chances by someone who knows only boxes: keys and mouse on the real window,
// offscreen.
#include "app/desktop/garage/labels_page.h"
#include "app/desktop/garage/labels_row.h"
#include "app/desktop/garage/labels_sheet.h"
#include "app/desktop/plan/field_row.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/garage_session.h"
#include "core/plan/labels.h"
#include "tests/desktop/window_fixture.h"

#include <QAbstractButton>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

namespace rw::test {

namespace {

class LabelsJourney : public WindowTest {
protected:
    // The garage that a first start makes lies with the test's own things.
    LabelsJourney() { qputenv("XDG_DATA_HOME", folder.path().toLocal8Bit()); }

    template<class T>
    T* named(const QString& name) {
        return program.window().findChild<T*>(name);
    }
    QLineEdit* field(const char* key) {
        auto* row = named<QWidget>(QStringLiteral("label:") + QLatin1String(key));
        return row ? row->findChild<QLineEdit*>() : nullptr;
    }
    void type(const char* key, const char* text) {
        QLineEdit* edit = field(key);
        ASSERT_NE(edit, nullptr) << key;
        edit->setFocus();
        edit->selectAll();
        QTest::keyClicks(edit, QLatin1String(text));
        ++entries;
    }
    void choose(const char* key, int index) {
        auto* row = named<QWidget>(QStringLiteral("label:") + QLatin1String(key));
        ASSERT_NE(row, nullptr) << key;
        QTest::mouseClick(row->findChildren<QAbstractButton*>().at(index), Qt::LeftButton);
        ++entries;
    }
    // A car that its owner knows from a scale, a ruler and four boxes.
    void typeTheBoxes() {
        type("vehicle.mass_kg", "4.1");
        type("vehicle.wheelbase_m", "330");
        type("vehicle.width_m", "300");
        type("vehicle.height_m", "135");
        choose("vehicle.body", 2);
        choose("vehicle.driven", 2);
        type("vehicle.internal_ratio", "2.6");
        type("tyre.diameter_m", "100");
        choose("tyre.kind", 2);
        type("gears.module_m", "1.0");
        type("gears.pinions", "25 26 27 28");
        type("gears.spurs", "46 50");
        type("motor.kv_rpm_per_V", "2000");
        type("motor.mass_kg", "0.38");
        type("controller.continuous_A", "220");
        type("pack.series", "6");
        type("pack.capacity_Ah", "5");
        type("pack.continuous_c_rate", "40");
        type("venue.length_m", "650");
        type("venue.run_up_m", "200");
        type("venue.timed_m", "30");
        choose("venue.surface", 0);
        type("target_mps", "50");
    }
    LabelsPage& page() { return *program.window().findChild<LabelsPage*>(); }
    bool settled() {
        return await([this] { return !page().busy(); });
    }
    int entries = 0;
};

TEST_F(LabelsJourney, FromFirstStartToAPlanWithChancesInAtMost25Entries) {
    open();
    auto* way = named<QPushButton>(QStringLiteral("welcomeLabels"));
    ASSERT_NE(way, nullptr);
    QTest::mouseClick(way, Qt::LeftButton);
    ASSERT_TRUE(page().isVisible());
    EXPECT_FALSE(named<QPushButton>(QStringLiteral("labelsBench"))->isEnabled());
    EXPECT_TRUE(named<QLabel>(QStringLiteral("labelsWhy"))->text().contains(QLatin1String("Still needed")));
    typeTheBoxes();
    EXPECT_LE(entries, 25);
    ASSERT_TRUE(settled());
    ASSERT_NE(page().outlook().outcome(), nullptr);
    EXPECT_TRUE(named<QLabel>(QStringLiteral("labelsBand"))->text().contains(QLatin1String("nine in ten")));
    // What was typed makes the same plan as the command line makes of the same labels.
    LabelsInput same = exampleLabels();
    same.gears.pinion_teeth.reset(), same.gears.spur_teeth.reset();
    same.motor.max_speed_rpm.reset(), same.venue.temperature_C.reset();
    same.controller.cutoff = {};
    const PlanInput expected = estimatePlan(same).plan;
    EXPECT_EQ(page().outlook().outcome()->estimated.plan, expected);

    QTest::mouseClick(named<QPushButton>(QStringLiteral("labelsBench")), Qt::LeftButton);
    ASSERT_TRUE(await([this] { return !program.bench.empty(); }));
    EXPECT_EQ(*program.bench.content().input, expected);
    EXPECT_EQ(program.bench.content().revision, 1);
    const auto& sources = program.bench.content().sources;
    EXPECT_EQ(sources.at(QStringLiteral("motor.kv_rpm_per_V")), QLatin1String("label"));
    EXPECT_TRUE(sources.at(QStringLiteral("motor.resistance_ohm")).startsWith(QLatin1String("estimated")));
    ASSERT_TRUE(await([this] { return program.bench.expectation().targetProbability.has_value(); }));
    // An estimate looks like one on the bench, too; a label does not.
    for (const FieldRow* row : program.window().findChildren<FieldRow*>()) {
        const auto* edit = qobject_cast<const FieldEdit*>(row->editor());
        if (edit == nullptr) continue;
        if (row->field().key() == "motor.resistance_ohm") {
            EXPECT_TRUE(edit->estimated());
        }
        if (row->field().key() == "motor.kv_rpm_per_V") {
            EXPECT_FALSE(edit->estimated());
        }
    }
    Garage& garage = program.garage.garage();
    for (const ItemKind kind : {ItemKind::Vehicle, ItemKind::Tyre, ItemKind::Motor, ItemKind::Controller,
                                ItemKind::Pack, ItemKind::Venue, ItemKind::Setup})
        EXPECT_EQ(garage.count(kind), 1);
}

TEST_F(LabelsJourney, AnEmptyFieldShowsItsEstimateAndTypingReplacesIt) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    page().sheet().setLabels(exampleLabels());
    ASSERT_TRUE(settled());
    QLineEdit* resistance = field("motor.resistance_ohm");
    EXPECT_TRUE(resistance->text().isEmpty());
    EXPECT_EQ(resistance->placeholderText(), QString::fromUtf8("6.34 ± 3.2")); // mΩ, of 4.77 mN·m/A over 0.0600
    const double width = page().outlook().outcome()->spread.worth.bestTogether.before.width();
    type("motor.resistance_ohm", "5.8");
    ASSERT_TRUE(settled());
    EXPECT_LE(page().outlook().outcome()->spread.worth.bestTogether.before.width(), 1.02 * width);
    EXPECT_EQ(page().outlook().outcome()->estimated.plan.motor.resistance_ohm, 0.0058);
    // Another label moves only what still is an estimate.
    type("motor.mass_kg", "0.45");
    ASSERT_TRUE(settled());
    EXPECT_EQ(page().outlook().outcome()->estimated.plan.motor.resistance_ohm, 0.0058);
    EXPECT_DOUBLE_EQ(page().outlook().outcome()->estimated.plan.motor.winding_capacity_JpK, 0.18 * 0.45 * 385.0);
    // Emptied, the estimate is back.
    resistance->setFocus();
    resistance->selectAll();
    QTest::keyClick(resistance, Qt::Key_Delete);
    ASSERT_TRUE(settled());
    EXPECT_EQ(page().outlook().outcome()->estimated.plan.uncertainty.at("motor.resistance_ohm"),
              0.5 * page().outlook().outcome()->estimated.plan.motor.resistance_ohm);
}

TEST_F(LabelsJourney, WhatIsWrongIsSaidAtTheFieldInItsUnit) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    type("motor.kv_rpm_per_V", "20");
    auto* row = static_cast<LabelsRow*>(named<QWidget>(QStringLiteral("label:motor.kv_rpm_per_V")));
    EXPECT_TRUE(row->complaint().contains(QLatin1String("50"))) << row->complaint().toStdString();
    QTest::keyClicks(field("motor.kv_rpm_per_V"), QStringLiteral("00"));
    EXPECT_TRUE(row->complaint().isEmpty());
}

} // namespace

} // namespace rw::test
