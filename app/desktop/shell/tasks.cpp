#include "app/desktop/shell/tasks.h"

#include "app/desktop/pages/run_sheet.h"
#include "app/desktop/review/review_charts.h"
#include "app/desktop/shell/help_dialogs.h"
#include "app/desktop/shell/program.h"
#include "app/desktop/shell/theme.h"
#include "core/error.h"

#include <QApplication>
#include <QDeadlineTimer>
#include <QDir>
#include <QEventLoop>
#include <QMenuBar>
#include <QTemporaryDir>
#include <QTextStream>
#include <QThread>

#include <array>
#include <memory>
#include <utility>
#include <vector>

namespace rw {

namespace {

constexpr QSize usualSizes[] = {{1280, 800}, {1920, 1080}};
constexpr int longestWait_ms = 60'000;
constexpr int settled_ms = 120; // charts and folds draw within a few frames

// What of all pictures is wanted. Throws InputError for a word that it does not know.
struct Wanted {
    QString folder, only;
    std::vector<QSize> sizes;
    std::vector<bool> looks; // dark

    explicit Wanted(const TaskArguments& arguments)
        : folder(arguments.value)
        , only(arguments.only)
        , sizes(std::begin(usualSizes), std::end(usualSizes))
        , looks{false, true} {
        if (!arguments.size.isEmpty()) sizes = {sizeOf(arguments.size)};
        if (arguments.look.isEmpty()) return;
        if (arguments.look != QLatin1String("light") && arguments.look != QLatin1String("dark"))
            throw InputError("--look", "is \"" + arguments.look.toStdString() + "\"; write light or dark");
        looks = {arguments.look == QLatin1String("dark")};
    }

private:
    static QSize sizeOf(const QString& text) {
        const QStringList sides = text.split(u'x');
        const QSize size = sides.size() == 2 ? QSize(sides[0].toInt(), sides[1].toInt()) : QSize();
        if (size.width() < 640 || size.height() < 480 || size.width() > 8000 || size.height() > 8000)
            throw InputError("--size", "is \"" + text.toStdString() + "\"; write width x height, 640x480 or more");
        return size;
    }
};

void setUnits(Units& units, const QString& word) {
    if (word.isEmpty() || word == QLatin1String("metric")) return;
    if (word != QLatin1String("imperial"))
        throw InputError("--units", "is \"" + word.toStdString() + "\"; write metric or imperial");
    units.set(&UnitChoice::speed, SpeedUnit::Mph);
    units.set(&UnitChoice::temperature, TemperatureUnit::Fahrenheit);
    units.set(&UnitChoice::length, LengthUnit::Inch);
    units.set(&UnitChoice::mass, MassUnit::Pound);
}

class Painter {
public:
    Painter(Wanted wanted, Program& program, Theme& theme)
        : wanted_(std::move(wanted))
        , program_(program)
        , theme_(theme) {}

    void all() {
        for (const bool dark : wanted_.looks) {
            theme_.force(dark);
            for (const QSize& size : wanted_.sizes)
                everything(size);
        }
    }

    [[nodiscard]] int count() const { return count_; }

    // Until nothing is computed any more.
    void settle() {
        const QDeadlineTimer deadline(longestWait_ms);
        do {
            pump(settled_ms);
        } while (busy() && !deadline.hasExpired());
        pump(settled_ms); // what came last is laid out, too
    }

private:
    void everything(QSize size) {
        Shell& window = program_.window();
        window.resize(size);
        window.show();
        window.showWelcome();
        if (wants(QStringLiteral("welcome"))) draw(QStringLiteral("welcome"), nullptr);
        for (const auto& workspace : window.workspaces()) {
            window.showWorkspace(workspace->name());
            for (const Scene& scene : workspace->scenes()) {
                if (!wants(scene.name)) continue;
                if (scene.prepare) scene.prepare();
                const std::unique_ptr<QWidget> dialog(scene.dialog ? scene.dialog() : nullptr);
                draw(scene.name, dialog.get());
            }
        }
        if (size != wanted_.sizes.front() || !wanted_.only.isEmpty()) return;
        AboutDialog about(&window);
        draw(QStringLiteral("about"), &about);
        KeysDialog keys(*window.menuBar(), &window);
        draw(QStringLiteral("keys"), &keys);
        ManualDialog manual(&window);
        manual.turnTo(1);
        draw(QStringLiteral("manual"), &manual);
    }

    [[nodiscard]] bool wants(const QString& scene) const { return scene.startsWith(wanted_.only); }

    void draw(const QString& name, QWidget* widget) {
        QWidget* shown = widget ? widget : &program_.window();
        shown->show();
        settle();
        const QSize size = shown->size();
        const QString look = theme_.dark() ? QStringLiteral("dark") : QStringLiteral("light");
        const QString file =
            widget ? QStringLiteral("%1-%2.png").arg(name, look)
                   : QStringLiteral("%1-%2-%3x%4.png").arg(name, look).arg(size.width()).arg(size.height());
        const QString path = QDir(wanted_.folder).filePath(file);
        if (!shown->grab().save(path))
            throw InputError(path.toStdString(), "cannot be written; is the folder writable?");
        ++count_;
        if (widget) widget->hide();
    }

    [[nodiscard]] bool busy() const {
        if (!program_.jobs.running().empty()) return true;
        for (const auto& workspace : program_.window().workspaces())
            if (workspace->busy()) return true;
        return false;
    }

    static void pump(int milliseconds) {
        const QDeadlineTimer until(milliseconds);
        while (!until.hasExpired()) {
            QCoreApplication::processEvents(QEventLoop::AllEvents, 10);
            QThread::msleep(2);
        }
    }

    Wanted wanted_;
    Program& program_;
    Theme& theme_;
    int count_ = 0;
};

// `runwright --pictures DIR [--garage FILE]`: every workspace and dialog as PNG, for the README, the tests and the eye.
// DIR/NAME-light-1280x800.png and so on. Throws InputError where a file cannot be written.
int drawPictures(const TaskArguments& arguments) {
    if (!QDir().mkpath(arguments.value))
        throw InputError(arguments.value.toStdString(), "is no folder and cannot be made one; name another");
    const QTemporaryDir scratch;
    Program program(scratch.filePath(QStringLiteral("settings.ini")));
    Theme theme(*static_cast<QApplication*>(QCoreApplication::instance()), program.settings);
    setUnits(program.units, arguments.units);
    Painter painter(Wanted(arguments), program, theme);
    program.window().begin();
    if (arguments.garage.isEmpty())
        program.garage.openSample(scratch.filePath(QStringLiteral("sample.runwright")));
    else if (!program.garage.open(arguments.garage))
        throw InputError({}, program.window().notice().toStdString());
    painter.settle();
    painter.all();
    QTextStream(stdout) << painter.count() << " pictures in " << arguments.value << '\n';
    return 0;
}

constexpr std::array table{
    Task{"pictures", "DIR", "Draw every workspace and dialog, light and dark, in two sizes, as PNG into DIR.", false,
         drawPictures},
    Task{"review", "LOG", "Review LOG (and further logs named) as a page: --to OUT.pdf or OUT.html.", true,
         printReview},
    Task{"sheet", "FILE", "The run sheet of a plan: --to OUT.pdf or OUT.html.", true, printSheet},
};

} // namespace

std::span<const Task> tasks() { return table; }

} // namespace rw
