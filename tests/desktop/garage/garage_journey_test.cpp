// From an empty place in the garage to what changed between two revisions: new vehicle, setup, plan, revision.
#include "app/desktop/garage/part_dialog.h"
#include "app/desktop/garage/value_dialog.h"
#include "app/desktop/plan/plan_keeping.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/field_view.h"
#include "app/desktop/shared/garage_text.h"
#include "tests/desktop/garage/garage_fixture.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QLineEdit>
#include <QPushButton>

#include <algorithm>

using namespace rw;
using rw::test::await;
using rw::test::GarageTest;
using rw::test::GarageView;
using rw::test::inDialog;
using rw::test::menuAction;

namespace {

void type(PartDialog& dialog, const char* key, const QString& text) {
    ValueEditor* editor = dialog.editor(key);
    ASSERT_TRUE(editor) << key;
    if (auto* edit = qobject_cast<QLineEdit*>(editor->editor()))
        edit->setText(text);
    else
        qobject_cast<QComboBox*>(editor->editor())->setCurrentText(text);
}

void chooseKind(PartDialog& dialog, ItemKind kind) {
    for (QComboBox* choice : dialog.findChildren<QComboBox*>())
        if (choice->accessibleName() == QLatin1String("Kind")) {
            choice->setCurrentText(kindSingular(kind)); // makes the rows anew, other choices among them
            return;
        }
}

QLineEdit& nameOf(QDialog& dialog) {
    for (QLineEdit* edit : dialog.findChildren<QLineEdit*>())
        if (edit->accessibleName() == QLatin1String("Name")) return *edit;
    throw std::logic_error("no name");
}

void press(QDialog& dialog, QDialogButtonBox::StandardButton which) {
    dialog.findChild<QDialogButtonBox*>()->button(which)->click();
}

} // namespace

// 0.254 m is 10 in by definition; 399.9 m is 1312.0 ft. What was not typed over keeps the digits that are not shown.
TEST(ValueEditorTest, showsAFigureAsItIsMeantAndKeepsTheRest) {
    Units units;
    units.set(&UnitChoice::length, LengthUnit::Inch);
    const auto check = [&](const char* key, double inside, std::optional<double> deviation, const QString& shown) {
        Value value;
        value.number = inside, value.uncertainty = deviation;
        QWidget holder;
        const ValueEditor editor(key, value, units, &holder);
        for (QWidget* widget :
             {editor.editor(), static_cast<QWidget*>(editor.uncertainty()), static_cast<QWidget*>(editor.source())})
            widget->setParent(&holder);
        EXPECT_EQ(qobject_cast<QLineEdit*>(editor.editor())->text(), shown) << key;
        EXPECT_EQ(editor.read().number, inside) << key;
        EXPECT_EQ(editor.read().uncertainty, deviation) << key;
        qobject_cast<QLineEdit*>(editor.editor())->setText(QStringLiteral("10"));
        EXPECT_NE(editor.read().number, inside) << key;
    };
    check("venue.length_m", 399.9, 0.123456789, QStringLiteral("1312.01"));
    check("vehicle.wheelbase_m", 0.2599999, {}, QStringLiteral("10.24"));
}

// WCAG 2.1, 2.4.3: the focus follows the order of what is read, here rows before buttons, after a change of kind too.
TEST(PartDialogTest, tabGoesThroughEveryRowBeforeTheButtons) {
    const Units units;
    PartDialog dialog(ItemKind::Vehicle, units, nullptr);
    dialog.show();
    for (const char* kind : {"vehicle.mass_kg", "tyre.radius_m"}) {
        const ValueEditor* first = dialog.editor(kind);
        ASSERT_TRUE(first) << kind;
        std::vector<QWidget*> order;
        for (QWidget* at = &nameOf(dialog); order.empty() || at != order.front(); at = at->nextInFocusChain())
            if (order.empty() || ((at->focusPolicy() & Qt::TabFocus) != 0 && at->isVisible())) order.push_back(at);
        ASSERT_GT(order.size(), 6U);
        EXPECT_EQ(order[2], first->editor()); // after name and description
        EXPECT_EQ(order[3], first->uncertainty());
        EXPECT_EQ(order[4], first->source());
        const auto place = [&order](const QWidget* widget) { return std::find(order.begin(), order.end(), widget); };
        const auto* buttons = dialog.findChild<QDialogButtonBox*>();
        EXPECT_EQ(place(buttons->button(QDialogButtonBox::Cancel)) - place(buttons->button(QDialogButtonBox::Ok)), 1);
        EXPECT_EQ(order.end() - place(buttons->button(QDialogButtonBox::Cancel)), 2); // then round to the kind
        auto* kinds = dialog.findChild<QComboBox*>();
        kinds->setCurrentIndex(kinds->findData(static_cast<int>(ItemKind::Tyre)));
    }
}

TEST_F(GarageTest, severalGearsAreAddedAtOnce) {
    openFilled();
    const auto before = garage().count(ItemKind::Gear);
    inDialog<PartDialog>([](PartDialog& dialog) {
        chooseKind(dialog, ItemKind::Gear);
        nameOf(dialog).setText(QStringLiteral("steel pinion"));
        type(dialog, "gears.module_m", QStringLiteral("0.5"));
        type(dialog, "gears.pinion_teeth", QStringLiteral("20-22, 30"));
        press(dialog, QDialogButtonBox::Ok);
    });
    menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->trigger();
    EXPECT_EQ(garage().count(ItemKind::Gear), before + 4);
    const QStringList names = view.under(QStringLiteral("Gears"));
    for (const char* name : {"steel pinion 20", "steel pinion 21", "steel pinion 22", "steel pinion 30"})
        EXPECT_TRUE(names.contains(QLatin1String(name))) << name;
    inDialog<PartDialog>([](PartDialog& dialog) { // what is not understood is said, and nothing is added
        chooseKind(dialog, ItemKind::Gear);
        nameOf(dialog).setText(QStringLiteral("odd"));
        type(dialog, "gears.module_m", QStringLiteral("0.5"));
        type(dialog, "gears.pinion_teeth", QStringLiteral("20/22"));
        press(dialog, QDialogButtonBox::Ok);
        EXPECT_TRUE(dialog.isVisible());
        dialog.reject();
    });
    menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->trigger();
    EXPECT_EQ(garage().count(ItemKind::Gear), before + 4);
}

TEST_F(GarageTest, addingAVehicleAsksForWhatMattersAndTellsWhatItMeans) {
    openFilled();
    view.choose(QStringLiteral("Heron"));
    inDialog<PartDialog>([this](PartDialog& dialog) {
        press(dialog, QDialogButtonBox::Ok);
        EXPECT_TRUE(dialog.isVisible()); // no name yet
        nameOf(dialog).setText(QStringLiteral("Dunlin"));
        const PlanField& mass = *findPlanField("vehicle.mass_kg");
        const QString usual = usualText(mass, program.units);
        EXPECT_TRUE(dialog.editor("vehicle.mass_kg")->editor()->toolTip().contains(usual));
        type(dialog, "vehicle.mass_kg", QStringLiteral("2000")); // over any range
        press(dialog, QDialogButtonBox::Ok);
        EXPECT_TRUE(dialog.isVisible());
        type(dialog, "vehicle.mass_kg", QStringLiteral("1.9"));
        dialog.editor("vehicle.mass_kg")->uncertainty()->setText(QStringLiteral("0,01"));
        dialog.editor("vehicle.mass_kg")->source()->setCurrentText(QStringLiteral("measured"));
        type(dialog, "vehicle.driven", QStringLiteral("rear"));
        press(dialog, QDialogButtonBox::Ok);
    });
    menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->trigger();
    EXPECT_TRUE(view.pageText().startsWith(QStringLiteral("Dunlin")));
    EXPECT_EQ(GarageView::row(view.table("Values"), QStringLiteral("mass")).mid(1),
              QStringList({QStringLiteral("measured"), QStringLiteral("1.9\u00a0kg"), QStringLiteral("± 0.010")}));
    const Part part = garage().part(*view.part<PartPage>().shown());
    EXPECT_EQ(part.values.at("vehicle.mass_kg"), (Value{1.9, "", "", 0.01, Source::Measured, ""}));
    EXPECT_EQ(part.values.at("vehicle.driven").text, "rear");
}

TEST_F(GarageTest, aNewVehicleBecomesASetupAPlanAndARevisionWithItsDifference) {
    openFilled();
    inDialog<PartDialog>([&](PartDialog& dialog) {
        nameOf(dialog).setText(QStringLiteral("Dunlin"));
        const std::pair<const char*, double> values[] = {
            {"vehicle.mass_kg", 3.9},       {"vehicle.wheelbase_m", 0.4},   {"vehicle.cg_behind_front_m", 0.2},
            {"vehicle.cg_height_m", 0.04},  {"vehicle.drag_area_m2", 0.02}, {"vehicle.rolling_c0", 0.02},
            {"vehicle.internal_ratio", 2.6}};
        for (const auto& [key, value] : values)
            type(dialog, key, QString::number(fieldUnit(*findPlanField(key), program.units).shown(value)));
        type(dialog, "vehicle.driven", QStringLiteral("all"));
        press(dialog, QDialogButtonBox::Ok);
    });
    menuAction(view.window(), QStringLiteral("Add a part or vehicle…"))->trigger();
    ASSERT_TRUE(view.pageText().startsWith(QStringLiteral("Dunlin")));

    QString missing;
    inDialog<SetupDialog>([&](SetupDialog& dialog) { // a value was forgotten
        press(dialog, QDialogButtonBox::Save);
        missing = dialog.complaint();
        dialog.reject();
    });
    menuAction(view.window(), QStringLiteral("New setup from parts…"))->trigger();
    EXPECT_TRUE(missing.contains(QStringLiteral("driveline efficiency"))) << missing.toStdString();
    ASSERT_TRUE(program.garage.attempt({}, [this](Garage& g) {
        Part part = g.part(*view.part<PartPage>().shown());
        part.values["vehicle.driveline_efficiency"].number = 0.9;
        g.update(part);
    }));
    inDialog<SetupDialog>([](SetupDialog& dialog) { press(dialog, QDialogButtonBox::Save); });
    menuAction(view.window(), QStringLiteral("New setup from parts…"))->trigger();
    ASSERT_EQ(view.table("Setup revisions").model()->rowCount(), 1);

    for (QPushButton* button : view.workspace().widget()->findChildren<QPushButton*>())
        if (button->text() == QLatin1String("Put on the bench")) button->click();
    ASSERT_EQ(view.window().current()->name(), QStringLiteral("plan"));
    auto& plan = *dynamic_cast<PlanWorkspace*>(view.window().workspace(QStringLiteral("plan")));
    EXPECT_EQ(plan.session().input().vehicle.mass_kg, 3.9);
    EXPECT_EQ(plan.session().input().motor.kv_rpm_per_V, rw::test::fullPlan().motor.kv_rpm_per_V);
    PlanInput next = plan.session().input();
    next.gears.pinion_teeth += 1;
    plan.session().edit(QStringLiteral("pinion"), {}, next);
    ASSERT_TRUE(plan.keeping().keepRevisionBecause(QStringLiteral("room left")));

    view.window().showWorkspace(QStringLiteral("garage"));
    EXPECT_EQ(view.table("Setup revisions").model()->rowCount(), 2);
    EXPECT_EQ(view.table("Setup revisions").model()->index(0, 2).data().toString(), QStringLiteral("room left"));
    const QString was = QStringLiteral("%1\u00a0teeth").arg(next.gears.pinion_teeth - 1),
                  is = QStringLiteral("%1\u00a0teeth").arg(next.gears.pinion_teeth);
    EXPECT_EQ(GarageView::row(view.table("What changed"), QStringLiteral("pinion")),
              QStringList({QStringLiteral("pinion"), was, is}));
}
