#include "app/desktop/plan/tab_groups.h"

#include <QLabel>
#include <QTest>

#include <gmock/gmock.h>

using namespace rw;

namespace {

struct Bar {
    TabGroups tabs;
    Bar() {
        for (const char* title : {"Forces", "Gears", "Heat"})
            tabs.addPanel(QStringLiteral("This setup"), QLatin1String(title), new QLabel);
        for (const char* title : {"What matters", "Chances", "Compare"})
            tabs.addPanel(QStringLiteral("How sure"), QLatin1String(title), new QLabel);
        for (const char* title : {"Power", "Ladder"})
            tabs.addPanel(QStringLiteral("Other setups"), QLatin1String(title), new QLabel);
        tabs.resize(700, 300);
        tabs.show();
    }
};

TEST(TabGroups, ArrowKeysWalkEveryTabAcrossTheGroups) {
    Bar bar;
    for (int i = 1; i < 8; ++i) {
        QTest::keyClick(&bar.tabs.bar(), Qt::Key_Right);
        EXPECT_EQ(bar.tabs.currentIndex(), i);
        EXPECT_EQ(bar.tabs.currentWidget(), bar.tabs.widget(i));
    }
    QTest::keyClick(&bar.tabs.bar(), Qt::Key_Right); // the end
    EXPECT_EQ(bar.tabs.currentIndex(), 7);
    QTest::keyClick(&bar.tabs.bar(), Qt::Key_Home);
    EXPECT_EQ(bar.tabs.currentIndex(), 0);
}

TEST(TabGroups, ReadersHearGroupAndTab) {
    Bar bar;
    bar.tabs.setCurrentIndex(6);
    const QString name = bar.tabs.bar().accessibleName();
    EXPECT_TRUE(name.contains(QStringLiteral("Other setups"))) << name.toStdString();
    EXPECT_TRUE(name.contains(QStringLiteral("Power"))) << name.toStdString();
}

TEST(TabGroups, AClickOpensATabAndAllStandBesideEachOther) {
    Bar bar;
    for (int i = 7; i >= 0; --i) {
        QTest::mouseClick(&bar.tabs.bar(), Qt::LeftButton, {}, bar.tabs.bar().tabRect(i).center().toPoint());
        EXPECT_EQ(bar.tabs.currentIndex(), i);
    }
    for (int i = 1; i < 8; ++i)
        EXPECT_GT(bar.tabs.bar().tabRect(i).left(), bar.tabs.bar().tabRect(i - 1).right());
    // The middle of a window 1280 wide with both side columns open.
    EXPECT_LE(bar.tabs.bar().minimumSizeHint().width(), 640);
}

} // namespace
