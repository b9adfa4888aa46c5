// The Review workspace without the window, and an invented day to open.
#pragma once

#include "app/desktop/review/review_workspace.h"
#include "core/plan/plan_json.h"
#include "tests/desktop/desk_things.h"
#include "tests/desktop/invented_log.h"

#include <gtest/gtest.h>

#include <QTest>

namespace rw::test {

struct ReviewFixture : testing::Test, DeskThings {
    ReviewFixture()
        : workspace(desk()) {
        QObject::connect(&voice, &Voice::complained, &workspace, [this](const QString& title, const QString& sentence) {
            complaints << title + QStringLiteral(": ") + sentence;
        });
        widget = workspace.widget();
        widget->resize(1280, 720);
        widget->show();
    }
    ~ReviewFixture() override { settle(); }

    void openDay(const InventedDay& day = {}) {
        path = writeInventedDay(QDir(folder.path()), QStringLiteral("invented day.csv"), day);
        workspace.openFiles({path});
        settle();
        ASSERT_TRUE(complaints.isEmpty()) << complaints.join(u'\n').toStdString();
        ASSERT_NE(review().data(), nullptr);
    }
    void putPlan(int cells) {
        PlanInput plan =
            readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/plans/invented_light_two_wheel_drive.json");
        plan.pack.series = cells;
        BenchContent content;
        content.input = std::make_shared<const PlanInput>(plan);
        bench.put(content);
    }
    void settle() {
        EXPECT_TRUE(QTest::qWaitFor([this] { return !workspace.busy(); }, 30'000));
        QTest::qWait(100); // cards come a handful at a time, replots are queued
    }
    ReviewDesk& review() { return workspace.review(); }
    template<class T>
    T& part() {
        return *widget->findChild<T*>();
    }

    ReviewWorkspace workspace;
    QWidget* widget = nullptr;
    QStringList complaints;
    QString path;
};

} // namespace rw::test
