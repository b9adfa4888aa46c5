#include "app/desktop/garage/labels_page.h"
#include "app/desktop/plan/hold_panel.h"
#include "app/desktop/plan/plan_columns.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/plan/setup_panel.h"
#include "app/desktop/plan/tab_groups.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/widgets.h"
#include "app/desktop/shell/help_dialogs.h"
#include "tests/desktop/window_fixture.h"

#include <QAbstractButton>
#include <QHeaderView>
#include <QLineEdit>
#include <QMenuBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSplitter>
#include <QTableView>
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

// Every head of a table stands whole over its column.
void expectHeadsFit(QWidget& top, const std::string& where) {
    for (const QTableView* table : top.findChildren<QTableView*>()) {
        const QHeaderView& head = *table->horizontalHeader();
        if (!table->isVisible() || !head.isVisible() || table->model() == nullptr) continue;
        for (int column = 0; column < head.count(); ++column) {
            if (head.isSectionHidden(column)) continue;
            const QString words = table->model()->headerData(column, Qt::Horizontal).toString();
            EXPECT_LE(QFontMetrics(head.font()).horizontalAdvance(words), head.sectionSize(column))
                << where << ": " << words.toStdString();
        }
    }
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
        auto* tabs = plan->widget()->findChild<TabGroups*>();
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

// A screen of 1600 × 1000 at 200 %.
TEST_F(LabelFitTest, onATinyWindow) {
    inEveryTab({800, 500});
    EXPECT_EQ(program.window().size(), QSize(800, 500));          // nothing asks for more
    program.window().findChild<TabGroups*>()->setCurrentIndex(0); // the ladder alone has all the room
    const auto* bar = program.window().findChild<TabGroupBar*>();
    EXPECT_GE(bar->visibleRegion().boundingRect().right() + 1.0, bar->tabRect(bar->count() - 1).right())
        << "every tab can be clicked";
    auto* bench = program.window().findChild<EdgeRail*>(QStringLiteral("benchRail"));
    ASSERT_TRUE(bench && bench->isVisible());
    EXPECT_FALSE(program.window().findChild<SetupPanel*>()->isVisible());
    bench->click();
    EXPECT_TRUE(program.window().findChild<SetupPanel*>()->isVisible());
    auto* limits = program.window().findChild<QToolButton*>(QStringLiteral("showLimits"));
    ASSERT_TRUE(limits && limits->isVisible());
    limits->click();
    QTest::qWait(20);
    EXPECT_TRUE(program.window().findChild<HoldPanel*>()->isVisible());
    EXPECT_FALSE(program.window().findChild<SetupPanel*>()->isVisible());
    expectLabelsFit(program.window(), "limits");
}

TEST_F(LabelFitTest, noTwoEntriesOfAMenuShareALetter) {
    Shell& window = open();
    for (const auto& workspace : window.workspaces()) {
        window.showWorkspace(workspace->name());
        QMap<QChar, QString> bars;
        for (const QAction* top : window.menuBar()->actions()) {
            const QString where = workspace->name() + u'/' + top->text();
            const auto letterOf = [](QString text) {
                text.remove(QStringLiteral("&&"));
                const qsizetype mark = text.indexOf(u'&');
                return mark < 0 ? QChar() : text[mark + 1].toLower();
            };
            const QChar bar = letterOf(top->text());
            EXPECT_FALSE(bars.contains(bar)) << where.toStdString() << " and " << bars[bar].toStdString();
            bars[bar] = top->text();
            QMap<QChar, QString> seen;
            for (const QAction* entry : top->menu()->actions()) {
                if (entry->isSeparator()) continue;
                const QChar letter = letterOf(entry->text());
                EXPECT_FALSE(letter.isNull()) << where.toStdString() << ": " << entry->text().toStdString();
                EXPECT_FALSE(seen.contains(letter)) << where.toStdString() << ": " << entry->text().toStdString()
                                                    << " and " << seen[letter].toStdString();
                seen[letter] = entry->text();
            }
        }
    }
}

TEST_F(LabelFitTest, inImperialUnitsAndTheDark) {
    program.units.set(&UnitChoice::speed, SpeedUnit::Kmh);
    program.units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit);
    program.units.set(&UnitChoice::length, LengthUnit::Inch);
    program.units.set(&UnitChoice::mass, MassUnit::Pound);
    theme.force(true);
    inEveryTab({1280, 800});
}

TEST_F(LabelFitTest, pagesWithNothingToShowSayAllTheyHaveToSay) {
    Shell& window = open({1600, 1000});
    const auto inEach = [&](const char* where) {
        for (const auto& workspace : window.workspaces()) {
            window.showWorkspace(workspace->name());
            QTest::qWait(20);
            expectLabelsFit(window, where + workspace->name().toStdString());
        }
    };
    inEach("without a garage, ");
    ASSERT_TRUE(program.garage.create(folder.filePath(QStringLiteral("empty.runwright"))));
    inEach("in an empty garage, ");
}

// A screen of 1600 × 1000 at 200 %: tree, page and search stand beside each other, none over another.
TEST_F(LabelFitTest, aGarageInATinyWindow) {
    Shell& window = open({800, 500});
    program.garage.openSample(folder.filePath(QStringLiteral("sample.runwright")));
    ASSERT_TRUE(await([&] { return program.garage.isOpen(); }));
    window.showWorkspace(QStringLiteral("garage"));
    QTest::qWait(20);
    EXPECT_EQ(window.size(), QSize(800, 500));
    auto* columns = window.workspace(QStringLiteral("garage"))->widget()->findChild<QSplitter*>();
    ASSERT_EQ(columns->count(), 3);
    for (int i = 0; i < 3; ++i) {
        EXPECT_GE(columns->widget(i)->x(), i == 0 ? 0 : columns->widget(i - 1)->geometry().right());
        EXPECT_LE(columns->widget(i)->geometry().right(), columns->width());
    }
    expectLabelsFit(window, "garage");
    expectHeadsFit(window, "garage");
}

TEST_F(LabelFitTest, theLabelsPageInATinyWindow) {
    Shell& window = open({800, 500});
    window.findChild<QPushButton*>(QStringLiteral("welcomeLabels"))->click();
    QTest::qWait(20);
    auto* page = window.findChild<LabelsPage*>();
    ASSERT_TRUE(page->isVisible());
    for (const QLineEdit* edit : page->findChildren<QLineEdit*>()) {
        if (!edit->isVisible()) continue;
        const QWidget* inside = edit->window();
        for (const QWidget* up = edit->parentWidget(); up != nullptr; up = up->parentWidget())
            if (qobject_cast<const QAbstractScrollArea*>(up->parentWidget()) != nullptr) inside = up;
        EXPECT_LE(edit->mapTo(inside, QPoint(edit->width(), 0)).x(), inside->width())
            << edit->accessibleName().toStdString();
    }
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
