// From first start to a plan with chances by someone who knows only boxes: keys and mouse on the real window,
// offscreen.
#include "app/desktop/garage/garage_tree.h"
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
#include <QAction>
#include <QApplication>
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

// Tab, letters, Space and arrows: nothing needs the mouse.
TEST_F(LabelsJourney, KeysAloneLeadFromFirstStartToThePlan) {
    Shell& window = open();
    window.activateWindow();
    const auto at = [](const QWidget* target) {
        const QWidget* now = QApplication::focusWidget();
        return now && target && (now == target || target->isAncestorOf(now));
    };
    const auto tabTo = [&](QWidget* target, int most) {
        for (int i = 0; i < most && !at(target); ++i)
            QTest::keyClick(QApplication::focusWidget() ? QApplication::focusWidget() : &window, Qt::Key_Tab);
        return at(target);
    };
    ASSERT_TRUE(tabTo(named<QPushButton>(QStringLiteral("welcomeLabels")), 12));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Space);
    ASSERT_TRUE(page().isVisible());
    struct Typed {
        const char *key, *text;
        int arrows = -1; // of a choice: so many steps to the right
    };
    const Typed sequence[] = {{"vehicle.mass_kg", "4.1"},
                              {"vehicle.wheelbase_m", "330"},
                              {"vehicle.width_m", "300"},
                              {"vehicle.height_m", "135"},
                              {"vehicle.body", "", 2},
                              {"vehicle.driven", "", 2},
                              {"vehicle.internal_ratio", "2.6"},
                              {"tyre.diameter_m", "100"},
                              {"tyre.kind", "", 2},
                              {"gears.module_m", "1.0"},
                              {"gears.pinions", "25 26 27 28"},
                              {"gears.spurs", "46 50"},
                              {"motor.kv_rpm_per_V", "2000"},
                              {"motor.mass_kg", "0.38"},
                              {"controller.continuous_A", "220"},
                              {"pack.series", "6"},
                              {"pack.capacity_Ah", "5"},
                              {"pack.continuous_c_rate", "40"},
                              {"venue.length_m", "650"},
                              {"venue.run_up_m", "200"},
                              {"venue.timed_m", "30"},
                              {"venue.surface", "", 0},
                              {"target_mps", "50"}};
    for (const Typed& one : sequence) {
        auto* row = named<QWidget>(QStringLiteral("label:") + QLatin1String(one.key));
        ASSERT_TRUE(tabTo(row, 8)) << one.key;
        if (one.arrows < 0) {
            QTest::keyClicks(QApplication::focusWidget(), QLatin1String(one.text));
            continue;
        }
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Space);
        for (int i = 0; i < one.arrows; ++i)
            QTest::keyClick(QApplication::focusWidget(), Qt::Key_Right);
    }
    ASSERT_TRUE(page().sheet().missing().isEmpty()) << page().sheet().missing().join(u' ').toStdString();
    ASSERT_TRUE(settled());
    ASSERT_TRUE(tabTo(named<QPushButton>(QStringLiteral("labelsBench")), 40));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Space);
    ASSERT_TRUE(await([this] { return !program.bench.empty(); }));
    EXPECT_EQ(program.bench.content().input->motor.kv_rpm_per_V, 2000.0);
}

TEST_F(LabelsJourney, RarerLabelsAreFoldedAwayAndAMeasuredOneNarrowsTheBand) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    page().sheet().setLabels(exampleLabels());
    ASSERT_TRUE(settled());
    auto* fan = named<QWidget>(QStringLiteral("label:controller.fan"));
    ASSERT_NE(fan, nullptr);
    EXPECT_FALSE(fan->isVisible());
    auto* more = named<QAbstractButton>(QStringLiteral("labelsMore:Controller and pack"));
    ASSERT_NE(more, nullptr);
    more->setFocus();
    QTest::keyClick(more, Qt::Key_Space);
    QTest::qWait(20);
    EXPECT_TRUE(fan->isVisible());
    for (const char* key : {"controller.burst_A", "controller.cutoff.cell_V", "pack.burst_c_rate", "pack.mass_kg",
                            "tyre.max_speed_radps", "motor.poles", "motor.can_diameter_m", "venue.elevation_m"})
        EXPECT_NE(named<QWidget>(QStringLiteral("label:") + QLatin1String(key)), nullptr) << key;
    // Without a fan the case runs hotter: common practice says 3 K/W, not 1.2.
    choose("controller.fan", 0);
    ASSERT_TRUE(settled());
    EXPECT_FALSE(page().sheet().labels().controller.fan);
    // A no-load current alone was taken at the pack's nominal voltage.
    type("motor.no_load_current_A", "4.0");
    ASSERT_TRUE(settled());
    EXPECT_DOUBLE_EQ(page().outlook().outcome()->estimated.plan.motor.no_load_voltage_V, 6 * 3.7);
    // Measured kv: as sure as a careful measurement, 1 %, not 3 %.
    auto* row = named<QWidget>(QStringLiteral("label:motor.kv_rpm_per_V"));
    QAbstractButton* measured = nullptr;
    for (QAbstractButton* button : row->findChildren<QAbstractButton*>())
        if (button->text().startsWith(QLatin1String("measured"))) measured = button;
    ASSERT_NE(measured, nullptr);
    const double label = page().outlook().outcome()->estimated.plan.uncertainty.at("motor.kv_rpm_per_V");
    QTest::mouseClick(measured, Qt::LeftButton);
    ASSERT_TRUE(settled());
    EXPECT_LT(page().outlook().outcome()->estimated.plan.uncertainty.at("motor.kv_rpm_per_V"), 0.5 * label);
}

TEST_F(LabelsJourney, AChangedLabelOfAKeptCarMovesOnlyWhatStillIsAnEstimate) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    page().sheet().setLabels(exampleLabels());
    ASSERT_TRUE(settled());
    QTest::mouseClick(named<QPushButton>(QStringLiteral("labelsBench")), Qt::LeftButton);
    ASSERT_TRUE(await([this] { return !program.bench.empty(); }));
    Garage& garage = program.garage.garage();
    Part motor = garage.parts(ItemKind::Motor).front();
    motor.values.at("motor.resistance_ohm").number = 0.0071;
    motor.values.at("motor.resistance_ohm").source = Source::Measured;
    ASSERT_TRUE(program.garage.change(QStringLiteral("measuring"), [&](Garage& g) { g.update(motor); }));

    program.window().showWorkspace(QStringLiteral("garage"));
    auto* tree = program.window().findChild<GarageTree*>();
    tree->choose(garage.parts(ItemKind::Vehicle).front().id);
    emit tree->chose(garage.parts(ItemKind::Vehicle).front().id); // as a click says it
    QTest::qWait(20);
    QAction* action = nullptr;
    for (QAction* one : program.window().workspace(QStringLiteral("garage"))->actions(Workspace::Menu::Own))
        if (one->objectName() == QLatin1String("labelsOfCar")) action = one;
    ASSERT_TRUE(action && action->isEnabled());
    action->trigger();
    ASSERT_TRUE(page().isVisible());
    EXPECT_EQ(page().sheet().labels(), exampleLabels());
    type("motor.mass_kg", "0.45");
    ASSERT_TRUE(settled());
    QTest::mouseClick(named<QPushButton>(QStringLiteral("labelsBench")), Qt::LeftButton);
    ASSERT_TRUE(await([this] { return program.bench.content().revision == 2; }));
    const PlanInput& now = *program.bench.content().input;
    EXPECT_DOUBLE_EQ(now.motor.winding_capacity_JpK, 0.18 * 0.45 * 385.0);
    EXPECT_EQ(garage.parts(ItemKind::Motor).front().values.at("motor.resistance_ohm").number, 0.0071);
    EXPECT_EQ(garage.count(ItemKind::Vehicle), 1);
    garage.undo();
    EXPECT_EQ(garage.count(ItemKind::Setup), 1);
}

// Who types down the page with Tab loses nothing: what comes up beside a value is not in the way.
TEST_F(LabelsJourney, TabGoesFromValueToValueAndAKeySaysThatItWasMeasured) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    QLineEdit* mass = field("vehicle.mass_kg");
    EXPECT_EQ(mass->placeholderText(), QStringLiteral("needed"));
    mass->setFocus();
    QTest::keyClicks(mass, QStringLiteral("4.1"));
    const auto measured = [this] { return page().sheet().labels().measured.contains("vehicle.mass_kg"); };
    QTest::keyClick(mass, Qt::Key_M, Qt::ControlModifier);
    EXPECT_TRUE(measured());
    QTest::keyClick(mass, Qt::Key_M, Qt::ControlModifier);
    EXPECT_FALSE(measured());
    QTest::keyClick(mass, Qt::Key_Tab);
    EXPECT_EQ(QApplication::focusWidget(), field("vehicle.wheelbase_m"));
}

TEST_F(LabelsJourney, ArrowKeysChooseThoughNothingIsChosenYetAndHelpFollows) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    const auto buttons = named<QWidget>(QStringLiteral("label:vehicle.body"))->findChildren<QAbstractButton*>();
    field("vehicle.height_m")->setFocus();
    QTest::keyClick(field("vehicle.height_m"), Qt::Key_Tab);
    ASSERT_EQ(QApplication::focusWidget(), buttons[0]);
    bool helped = false;
    for (const QLabel* label : page().findChildren<QLabel*>())
        helped = helped || label->text() == QStringLiteral("body");
    EXPECT_TRUE(helped);
    QTest::keyClick(buttons[0], Qt::Key_Right);
    EXPECT_TRUE(buttons[1]->isChecked());
    EXPECT_EQ(page().sheet().labels().vehicle.body, BodyClass::Low);
    QTest::keyClick(buttons[1], Qt::Key_Left);
    EXPECT_TRUE(buttons[0]->isChecked());
}

// labels.cpp knows them; whoever has a maker's sheet types them.
TEST_F(LabelsJourney, TemperaturesOfTheMotorAndTheCutoffsDelayStandAmongTheRarerOnes) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    type("motor.comfort_C", "75");
    type("motor.limit_C", "95");
    type("motor.winding_limit_C", "140");
    type("controller.cutoff.delay_s", "0.8");
    const LabelsInput& labels = page().sheet().labels();
    EXPECT_EQ(labels.motor.comfort_C, 75.0);
    EXPECT_EQ(labels.motor.limit_C, 95.0);
    EXPECT_EQ(labels.motor.winding_limit_C, 140.0);
    EXPECT_EQ(labels.controller.cutoff.delay_s, 0.8);
}

TEST_F(LabelsJourney, WhatIsNotUnderstoodStaysAsTypedAndIsNoValue) {
    open();
    QTest::mouseClick(named<QPushButton>(QStringLiteral("welcomeLabels")), Qt::LeftButton);
    type("gears.module_m", "1-2");
    field("gears.pinions")->setFocus();
    EXPECT_EQ(field("gears.module_m")->text(), QStringLiteral("1-2"));
    EXPECT_FALSE(page().sheet().labels().gears.module_m.has_value());
    page().sheet().setLabels({}); // another car begins without it
    EXPECT_TRUE(field("gears.module_m")->text().isEmpty());
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
