#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/shared/labels.h"
#include "app/desktop/shell/about_dialog.h"
#include "tests/desktop/window_fixture.h"

#include <QAbstractButton>
#include <QMenuBar>
#include <QPushButton>
#include <QTabWidget>
#include <QToolButton>

using namespace rw;
using rw::test::await;

namespace {

// A label's words fit its box: in one line, or in as many as its width asks for.
void expectLabelsFit(QWidget& top, const std::string& where) {
    int seen = 0;
    for (const QLabel* label : top.findChildren<QLabel*>()) {
        if (!label->isVisible() || label->text().isEmpty()) continue;
        ++seen;
        const QFontMetrics metrics(label->font());
        if (label->wordWrap()) {
            const QRect needed = metrics.boundingRect(0, 0, label->width(), 10000, Qt::TextWordWrap, label->text());
            EXPECT_LE(needed.height(), label->height() + 1) << where << ": " << label->text().toStdString();
        } else {
            EXPECT_LE(metrics.horizontalAdvance(label->text()), label->width())
                << where << ": " << label->text().toStdString();
        }
    }
    for (const FigureLabel* label : top.findChildren<FigureLabel*>()) {
        if (!label->isVisible()) continue;
        EXPECT_LE(label->sizeHint().width(), label->width()) << where << ": " << label->text().toStdString();
    }
    for (const QAbstractButton* button : top.findChildren<QAbstractButton*>()) {
        if (!button->isVisible() || button->text().isEmpty()) continue;
        const QString words = QString(button->text()).remove(u'&');
        EXPECT_LE(QFontMetrics(button->font()).horizontalAdvance(words), button->width())
            << where << ": " << words.toStdString();
    }
    EXPECT_GT(seen, 0) << where;
}

void expectNamed(QWidget& top) {
    for (const QWidget* widget : top.findChildren<QWidget*>()) {
        if (!widget->isVisible() || widget->focusPolicy() == Qt::NoFocus ||
            !qobject_cast<const QAbstractButton*>(widget))
            continue;
        const auto* button = qobject_cast<const QAbstractButton*>(widget);
        EXPECT_FALSE(button->text().isEmpty() && button->accessibleName().isEmpty())
            << button->metaObject()->className();
    }
}

class LabelFitTest : public rw::test::WindowTest {
protected:
    void inEveryTab(QSize size) {
        Shell& window = open(size);
        expectLabelsFit(window, "welcome");
        window.openFiles({QStringLiteral(":/samples/example.json")});
        auto* plan = dynamic_cast<PlanWorkspace*>(window.workspace(QStringLiteral("plan")));
        ASSERT_TRUE(await([&] { return plan->session().current() && !plan->busy(); }));
        auto* tabs = plan->widget()->findChild<QTabWidget*>();
        for (int i = 0; i < tabs->count(); ++i) {
            tabs->setCurrentIndex(i);
            ASSERT_TRUE(await([&] { return !plan->busy(); }));
            QTest::qWait(50);
            expectLabelsFit(window, tabs->tabText(i).toStdString());
        }
        expectNamed(window);
    }
};

} // namespace

TEST_F(LabelFitTest, onASmallWindow) { inEveryTab({1280, 800}); }
TEST_F(LabelFitTest, onALargeWindow) { inEveryTab({1920, 1080}); }

TEST_F(LabelFitTest, inImperialUnitsAndTheDark) {
    program.units.setSpeed(SpeedUnit::Kmh);
    program.units.setTemperature(TemperatureUnit::Fahrenheit);
    program.units.setLength(LengthUnit::Inch);
    program.units.setMass(MassUnit::Pound);
    theme.force(true);
    inEveryTab({1280, 800});
}

TEST_F(LabelFitTest, inDialogs) {
    AboutDialog about;
    about.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&about));
    expectLabelsFit(about, "about");
    Shell& window = open();
    KeysDialog keys(*window.menuBar());
    keys.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&keys));
    expectLabelsFit(keys, "keys");
}
