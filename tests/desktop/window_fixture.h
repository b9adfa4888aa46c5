// A whole window over settings, data and garage of its own, in a folder that goes away with the test.
#pragma once

#include "app/desktop/shell/program.h"
#include "app/desktop/shell/theme.h"
#include "core/plan/plan_json.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QDeadlineTimer>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include <functional>

namespace rw::test {

inline constexpr int patience_ms = 90'000; // under sanitizers on a busy machine

// Runs the event loop until it holds; false when patience ends.
inline bool await(const std::function<bool()>& condition) { return QTest::qWaitFor(condition, patience_ms); }

inline PlanInput samplePlan(const char* name = "invented_light_two_wheel_drive") {
    return readPlanInputFile(std::string(RUNWRIGHT_SOURCE_DIR) + "/samples/plans/" + name + ".json");
}

class WindowTest : public testing::Test {
protected:
    WindowTest()
        : program(folder.filePath(QStringLiteral("settings.ini")))
        , theme(*static_cast<QApplication*>(QCoreApplication::instance()), program.settings) {
        theme.force(false);
        program.units.set(&UnitChoice::speed, SpeedUnit::Mps);
    }

    Shell& open(QSize size = {1280, 800}) {
        Shell& window = program.window();
        window.resize(size);
        window.begin();
        window.show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(&window));
        return window;
    }

    QTemporaryDir folder;
    Program program;
    Theme theme;
};

} // namespace rw::test
