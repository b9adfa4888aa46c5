// What a field paints is its value: whole, at every unit and both window sizes; what does not fit is shortened at the
// right with the whole in the tool tip.
#include "app/desktop/plan/field_row.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/field_edit.h"
#include "app/desktop/shared/field_view.h"
#include "plotting/look.h"
#include "tests/desktop/window_fixture.h"

#include <cmath>

using namespace rw;
using rw::test::await;
using rw::test::samplePlan;

namespace {

// Every field set, also those that a plan may leave out, and long figures where units make them long.
PlanInput everythingSet() {
    PlanInput input = samplePlan();
    for (const PlanField& field : planFields())
        if (field.get && !field.get(input)) field.set(input, 0.5 * (field.usualLow + field.usualHigh));
    input.venue.length_m = 399.87654;
    input.vehicle.lift_area_rear_m2 = -0.015;
    input.uncertainty["vehicle.lift_area_rear_m2"] = 0.0075;
    input.vehicle.drag_area_m2 = 0.021;
    input.uncertainty["vehicle.drag_area_m2"] = 0.00123456;
    input.wind.speed_mps = 26.517345;
    input.uncertainty["wind.speed_mps"] = 0.5;
    return input;
}

class FieldPaintTest : public rw::test::WindowTest {
protected:
    SetupPanel& show(QSize size) {
        Shell& window = open(size);
        window.showWorkspace(QStringLiteral("plan"));
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(everythingSet());
        program.bench.put(content);
        auto* panel = window.findChild<SetupPanel*>();
        panel->openAll();
        for (const PlanField& field : planFields())
            panel->reveal(QString::fromStdString(field.key()));
        window.setFocus();
        QTest::qWait(20);
        return *panel;
    }

    // Nothing reaches into the margins: a figure whose left digits are cut paints up to the edge of its box.
    static void expectClearEdges(FieldEdit& edit, const std::string& where) {
        const QImage image = edit.grab().toImage();
        for (const int x : {1, image.width() - 2})
            for (int y = 2; y < image.height() - 3; ++y)
                ASSERT_EQ(image.pixelColor(x, y), image.pixelColor(0, 0)) << where << " at " << x << ", " << y;
    }

    void expectFieldsWhole(SetupPanel& panel, const std::string& where) {
        const PlanInput input = everythingSet();
        for (const PlanField& field : planFields()) {
            FieldRow* row = panel.row(QString::fromStdString(field.key()));
            ASSERT_TRUE(row);
            auto* edit = qobject_cast<FieldEdit*>(row->editor());
            if (!edit) continue;
            const std::string place = where + " " + field.key();
            const FieldEdit::Painted painted = edit->painted();
            if (!painted.whole) {
                EXPECT_TRUE(edit->toolTip().startsWith(edit->text())) << place;
            }
            expectClearEdges(*edit, place);
            if (!field.get || field.kind == FieldKind::Choice) continue;
            // The figure is whole and is the value, to half of its last digit.
            const double seen = typedNumber(painted.value);
            const double value = fieldUnit(field, program.units).shown(*field.get(input));
            const qsizetype point = painted.value.indexOf(u'.');
            const auto decimals = point < 0 ? 0 : painted.value.size() - point - 1;
            EXPECT_NEAR(seen, value, 0.5001 * std::pow(10.0, -static_cast<double>(decimals))) << place;
            if (std::abs(value) > 0.0) {
                EXPECT_NEAR(seen / value, 1.0, 5e-3) << place; // three digits at the least
            }
            EXPECT_LE(painted.value.size(), 9) << place << ": " << painted.value.toStdString();
        }
    }

    void everyUnit(QSize size) {
        SetupPanel& panel = show(size);
        for (const SpeedUnit speed : {SpeedUnit::Kmh, SpeedUnit::Mph, SpeedUnit::Mps}) {
            for (const bool imperial : {false, true}) {
                program.units.set(&UnitChoice::speed, speed);
                program.units.set(&UnitChoice::temperature,
                                  imperial ? TemperatureUnit::Fahrenheit : TemperatureUnit::Celsius);
                program.units.set(&UnitChoice::length, imperial ? LengthUnit::Inch : LengthUnit::Metric);
                program.units.set(&UnitChoice::mass, imperial ? MassUnit::Pound : MassUnit::Metric);
                QTest::qWait(1);
                expectFieldsWhole(panel, (imperial ? "imperial " : "metric ") + std::to_string(size.width()));
            }
        }
    }

    // As a wheel turns over what is under the pointer.
    static void wheel(QWidget& widget) {
        const QPointF at = QRectF(widget.rect()).center();
        QWheelEvent event(at, widget.mapToGlobal(at), {}, {0, 120}, Qt::NoButton, Qt::NoModifier, Qt::NoScrollPhase,
                          false);
        QCoreApplication::sendEvent(&widget, &event);
    }

    FieldEdit& edit(SetupPanel& panel, const char* key) {
        return *qobject_cast<FieldEdit*>(panel.row(QLatin1String(key))->editor());
    }
    PlanSession& session() {
        return dynamic_cast<PlanWorkspace*>(program.window().workspace(QStringLiteral("plan")))->session();
    }
};

} // namespace

TEST_F(FieldPaintTest, showsEveryValueWholeInASmallWindow) { everyUnit({1280, 800}); }
TEST_F(FieldPaintTest, showsEveryValueWholeInALargeWindow) { everyUnit({1920, 1080}); }

TEST_F(FieldPaintTest, aWheelScrollsThePanelUnlessTheFieldWasClickedInto) {
    SetupPanel& panel = show({1280, 800});
    panel.reveal(QStringLiteral("motor.kv_rpm_per_V"));
    FieldEdit& kv = edit(panel, "motor.kv_rpm_per_V");
    const double was = session().input().motor.kv_rpm_per_V;
    ASSERT_TRUE(kv.hasFocus()); // by the keyboard: nobody clicked
    wheel(kv);
    EXPECT_EQ(session().input().motor.kv_rpm_per_V, was);
    QTest::mouseClick(&kv, Qt::LeftButton);
    wheel(kv);
    EXPECT_NE(session().input().motor.kv_rpm_per_V, was);
    const double turned = session().input().motor.kv_rpm_per_V;
    QEvent leave(QEvent::Leave); // the page scrolls on under the pointer, and the field comes back to it
    QCoreApplication::sendEvent(&kv, &leave);
    wheel(kv);
    EXPECT_EQ(session().input().motor.kv_rpm_per_V, turned);
    FieldRow* cutoff = panel.row(QStringLiteral("controller.cutoff.mode"));
    const CutoffMode mode = session().input().controller.cutoff.mode;
    wheel(*cutoff->editor());
    EXPECT_EQ(session().input().controller.cutoff.mode, mode);
}

TEST_F(FieldPaintTest, undoWorksWhileAFieldHasTheFocus) {
    SetupPanel& panel = show({1280, 800});
    panel.reveal(QStringLiteral("gears.pinion_teeth"));
    FieldEdit& pinion = edit(panel, "gears.pinion_teeth");
    const int was = session().input().gears.pinion_teeth;
    pinion.selectAll();
    QTest::keyClicks(&pinion, QStringLiteral("31"));
    QTest::keyClick(&pinion, Qt::Key_Return);
    ASSERT_TRUE(pinion.hasFocus());
    ASSERT_EQ(session().input().gears.pinion_teeth, 31);
    QTest::keySequence(&pinion, QKeySequence(QKeySequence::Undo));
    EXPECT_EQ(session().input().gears.pinion_teeth, was);
    EXPECT_EQ(pinion.text(), QString::number(was));
    QTest::keySequence(&pinion, QKeySequence(QKeySequence::Redo));
    EXPECT_EQ(session().input().gears.pinion_teeth, 31);
}

TEST_F(FieldPaintTest, aListUnderstandsRangesAndRefusesTheRestWhole) {
    SetupPanel& panel = show({1280, 800});
    panel.reveal(QStringLiteral("gears.pinions"));
    FieldEdit& list = edit(panel, "gears.pinions");
    const auto type = [&](const QString& text) {
        list.setFocus();
        list.selectAll();
        QTest::keyClicks(&list, text);
    };
    type(QStringLiteral("25-34"));
    QTest::keyClick(&list, Qt::Key_Return);
    EXPECT_EQ(session().input().gears.pinions, (std::vector<int>{25, 26, 27, 28, 29, 30, 31, 32, 33, 34}));
    EXPECT_EQ(list.text(), QStringLiteral("25 to 34"));
    type(QStringLiteral("20..22, 30"));
    QTest::keyClick(&list, Qt::Key_Return);
    EXPECT_EQ(session().input().gears.pinions, (std::vector<int>{20, 21, 22, 30}));
    type(QStringLiteral("24/25"));
    EXPECT_TRUE(panel.row(QStringLiteral("gears.pinions"))->complaint().contains(QStringLiteral("not understood")));
    QTest::keyClick(&list, Qt::Key_Return);
    EXPECT_EQ(session().input().gears.pinions, (std::vector<int>{20, 21, 22, 30})); // not even 24 of it
    EXPECT_EQ(list.text(), QStringLiteral("20 to 22, 30"));
    EXPECT_TRUE(program.window().notice().contains(QStringLiteral("not understood")));
}

TEST_F(FieldPaintTest, tabGoesFromValueToUncertaintyToTheNextValue) {
    SetupPanel& panel = show({1280, 800});
    panel.reveal(QStringLiteral("motor.kv_rpm_per_V"));
    FieldEdit& kv = edit(panel, "motor.kv_rpm_per_V");
    FieldEdit& resistance = edit(panel, "motor.resistance_ohm");
    const auto* uncertainty = panel.findChild<QLineEdit*>(QStringLiteral("uncertainty"));
    QTest::keyClick(&kv, Qt::Key_Tab);
    ASSERT_TRUE(uncertainty->hasFocus());
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("25"));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    EXPECT_TRUE(resistance.hasFocus());
    EXPECT_EQ(session().input().uncertainty.at("motor.kv_rpm_per_V"), 25.0);
    QTest::keyClick(&resistance, Qt::Key_Tab, Qt::ShiftModifier);
    ASSERT_TRUE(uncertainty->hasFocus());
    EXPECT_EQ(uncertainty->text(), QStringLiteral("25"));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab, Qt::ShiftModifier);
    EXPECT_TRUE(kv.hasFocus());
}
