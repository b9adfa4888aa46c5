// The window killed while it keeps a log: outing and log are there whole or not at all, and what was changed on the
// bench is there at the next start. A process of its own, killed at several moments of the keeping.
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "tests/desktop/invented_log.h"
#include "tests/desktop/window_fixture.h"

#include <QDir>
#include <QElapsedTimer>
#include <QProcess>
#include <QThread>

namespace rw::test {

namespace {

// Started, and about to keep.
void startKeeping(QProcess& process, const QString& folder) {
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    environment.insert(QStringLiteral("QT_QPA_PLATFORM"), QStringLiteral("offscreen"));
    process.setProcessEnvironment(environment);
    process.start(QStringLiteral(RUNWRIGHT_KEEPING_PROGRAM), {folder});
    ASSERT_TRUE(process.waitForStarted(patience_ms));
    QByteArray said;
    while (!said.contains("keeping")) {
        ASSERT_TRUE(process.waitForReadyRead(patience_ms)) << process.readAllStandardError().toStdString();
        said += process.readAllStandardOutput();
    }
}

struct Folder {
    explicit Folder(const QString& from) {
        for (const char* name : {"own.runwright", "day.csv"})
            QFile::copy(QDir(from).filePath(QLatin1String(name)), path.filePath(QLatin1String(name)));
    }
    QTemporaryDir path;
};

void expectWholeOrNothing(const QString& file, std::size_t passes) {
    Garage garage = Garage::open(file.toStdString());
    EXPECT_TRUE(garage.check(true).ok);
    const std::size_t logs = garage.logs().size();
    EXPECT_LE(logs, 1U);
    EXPECT_EQ(garage.outings().size(), logs) << "an outing without its log, or a log without its outing";
    EXPECT_EQ(garage.passes({}).size(), logs * passes);
}

void expectBenchChanges(const QString& folder) {
    Program next(QDir(folder).filePath(QStringLiteral("settings.ini")));
    auto& plan = dynamic_cast<PlanWorkspace&>(*next.window().workspace(QStringLiteral("plan")));
    ASSERT_FALSE(plan.session().empty());
    EXPECT_EQ(plan.session().input().gears.pinion_teeth, 33);
    EXPECT_EQ(next.bench.content().changes, 1);
}

} // namespace

TEST(KillTest, aWindowThatIsKilledWhileItKeepsLosesNothingAndLeavesNothingHalf) {
    const QTemporaryDir template_;
    {
        Garage garage = Garage::create(template_.filePath(QStringLiteral("own.runwright")).toStdString());
        garage.addSetupFromPlan(samplePlan(), {.setup = "Sandpiper",
                                               .vehicle = "Sandpiper",
                                               .motor = {},
                                               .controller = {},
                                               .pack = {},
                                               .tyre = {},
                                               .venue = {}});
    }
    writeInventedDay(QDir(template_.path()), QStringLiteral("day.csv"));
    qint64 whole = 0;
    std::size_t passes = 0;
    {
        const Folder undisturbed(template_.path());
        QProcess process;
        startKeeping(process, undisturbed.path.path());
        QElapsedTimer time;
        time.start();
        ASSERT_TRUE(process.waitForReadyRead(patience_ms));
        whole = time.nsecsElapsed() / 1000;
        EXPECT_TRUE(process.readAllStandardOutput().contains("kept"));
        process.kill();
        ASSERT_TRUE(process.waitForFinished(patience_ms));
        passes =
            Garage::open(undisturbed.path.filePath(QStringLiteral("own.runwright")).toStdString()).passes({}).size();
        ASSERT_GT(passes, 0U);
    }
    constexpr int kills = 4;
    for (int i = 0; i < kills; ++i) {
        const Folder folder(template_.path());
        QProcess process;
        startKeeping(process, folder.path.path());
        QThread::usleep(static_cast<unsigned long>(whole * (2 * i + 1) / (2 * kills)));
        process.kill(); // SIGKILL
        ASSERT_TRUE(process.waitForFinished(patience_ms));
        EXPECT_EQ(process.exitStatus(), QProcess::CrashExit);
        expectWholeOrNothing(folder.path.filePath(QStringLiteral("own.runwright")), passes);
        expectBenchChanges(folder.path.path());
    }
}

} // namespace rw::test
