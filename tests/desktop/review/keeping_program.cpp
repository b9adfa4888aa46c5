// A window of its own process, for those who kill it: opens the garage of a folder, changes the pinion of what lies on
// the bench, opens the folder's log and keeps it. Says "keeping" as it begins and "kept" when it is done.
#include "app/desktop/plan/bench_recovery.h"
#include "app/desktop/plan/plan_session.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/review/keeping.h"
#include "app/desktop/review/review_actions.h"
#include "app/desktop/review/review_workspace.h"
#include "app/desktop/shared/bench_source.h"
#include "app/desktop/shell/program.h"
#include "plotting/look.h"

#include <QApplication>
#include <QDir>
#include <QFile>
#include <QTest>
#include <QTextStream>
#include <QTimer>

namespace {

constexpr int patience_ms = 60'000;

void say(const char* word) { QTextStream(stdout) << word << Qt::endl; }

int keepIn(const QDir& folder) {
    rw::Program program(folder.filePath(QStringLiteral("settings.ini")));
    rw::Shell& window = program.window();
    if (!program.garage.open(folder.filePath(QStringLiteral("own.runwright")))) return 3;
    rw::Garage& garage = program.garage.garage();
    const rw::Id setup = garage.setups().front().id, venue = garage.parts(rw::ItemKind::Venue).front().id;
    window.begin();
    window.show();
    program.bench.put(rw::benchFromSetup(garage, setup, venue));
    auto& plan = dynamic_cast<rw::PlanWorkspace&>(*window.workspace(QStringLiteral("plan")));
    rw::PlanInput next = plan.session().input();
    next.gears.pinion_teeth = 33;
    plan.session().edit(QStringLiteral("pinion"), {}, next);
    const auto written = [&] { return QFile::exists(plan.recovery().file()) && !plan.recovery().busy(); };
    if (!QTest::qWaitFor(written, patience_ms)) return 4;
    auto& review = dynamic_cast<rw::ReviewWorkspace&>(*window.workspace(QStringLiteral("review")));
    window.openFiles({folder.filePath(QStringLiteral("day.csv"))});
    if (!QTest::qWaitFor([&] { return !review.busy(); }, patience_ms) || !review.review().data()) return 5;
    rw::Outing outing;
    outing.name = "Saturday", outing.date = "2026-11-21", outing.venue = venue;
    rw::KeepChoice choice;
    choice.setup = setup;
    choice.newOuting = outing;
    QObject::connect(&review.reviewActions().keeper(), &rw::LogKeeper::kept, [] { say("kept"); });
    say("keeping");
    review.reviewActions().keeper().keep(choice);
    QTimer::singleShot(patience_ms, qApp, &QApplication::quit); // never left behind
    return QApplication::exec();
}

} // namespace

int main(int argc, char** argv) {
    const QApplication application(argc, argv);
    QApplication::setFont(rw::baseFont());
    return argc == 2 ? keepIn(QDir(QString::fromLocal8Bit(argv[1]))) : 2;
}
