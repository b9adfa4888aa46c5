// runwright: the desktop program. Files on the command line are opened; a task (tasks.h) runs without a window.
#include "app/desktop/shell/program.h"
#include "app/desktop/shell/tasks.h"
#include "app/desktop/shell/theme.h"

#include <QApplication>
#include <QCommandLineParser>
#include <QIcon>
#include <QScreen>
#include <QTextStream>

#include <algorithm>
#include <cstring>

namespace {

// Without a display a task draws offscreen; must be known before the application is made.
void chooseOffscreen(int argc, char** argv) {
    const bool task = std::any_of(argv + 1, argv + argc, [](const char* word) {
        const auto names = rw::tasks();
        return std::any_of(names.begin(), names.end(), [word](const rw::Task& candidate) {
            const std::size_t length = std::strlen(candidate.option);
            return std::strncmp(word, "--", 2) == 0 && std::strncmp(word + 2, candidate.option, length) == 0 &&
                   (word[2 + length] == '\0' || word[2 + length] == '=');
        });
    });
    const bool asks = std::any_of(argv + 1, argv + argc, [](const char* word) {
        return std::strcmp(word, "--help") == 0 || std::strcmp(word, "-h") == 0 || std::strcmp(word, "--version") == 0;
    });
    const bool display = qEnvironmentVariableIsSet("DISPLAY") || qEnvironmentVariableIsSet("WAYLAND_DISPLAY");
    if ((task || asks) && !display && !qEnvironmentVariableIsSet("QT_QPA_PLATFORM"))
        qputenv("QT_QPA_PLATFORM", "offscreen");
}

int usage(const QString& sentence) {
    QTextStream(stderr) << "runwright: " << sentence << '\n';
    return 2;
}

int runTask(const rw::Task& task, const rw::TaskArguments& arguments) {
    try {
        return task.run(arguments);
    } catch (const std::exception& error) {
        QTextStream(stderr) << "runwright: " << error.what() << '\n';
        return 1;
    }
}

int runWindow(QApplication& application, const rw::TaskArguments& arguments) {
    rw::Program program;
    const rw::Theme theme(application, program.settings);
    rw::Shell& window = program.window();
    if (!arguments.garage.isEmpty()) program.garage.open(arguments.garage);
    window.resize(QSize(1440, 900).boundedTo(window.screen()->availableSize()));
    window.begin();
    window.show();
    if (!arguments.files.isEmpty()) window.openFiles(arguments.files);
    return QApplication::exec();
}

} // namespace

int main(int argc, char** argv) {
    chooseOffscreen(argc, argv);
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("runwright"));
    QApplication::setApplicationDisplayName(QStringLiteral("Runwright"));
    QApplication::setApplicationVersion(QStringLiteral(RUNWRIGHT_VERSION));
    QApplication::setDesktopFileName(QStringLiteral("runwright"));
    QApplication::setWindowIcon(
        QIcon::fromTheme(QStringLiteral("runwright"), QIcon(QStringLiteral(":/icons/runwright.svg"))));

    QCommandLineParser parser;
    parser.setApplicationDescription(
        QStringLiteral("Plans, runs and reviews top-speed passes of radio-controlled electric cars."));
    parser.addPositionalArgument(QStringLiteral("files"), QStringLiteral("Garages, plans or logs to open."),
                                 QStringLiteral("[files…]"));
    const QCommandLineOption garage(QStringLiteral("garage"), QStringLiteral("Garage file to open."),
                                    QStringLiteral("FILE"));
    const QCommandLineOption to(QStringLiteral("to"), QStringLiteral("File that a page is written to."),
                                QStringLiteral("FILE"));
    const auto ofPictures = [](const char* name, const char* text, const char* value) {
        return QCommandLineOption(QLatin1String(name), QLatin1String(text), QLatin1String(value));
    };
    const QCommandLineOption size = ofPictures("size", "Of --pictures: size of the window, 1280x800.", "WxH");
    const QCommandLineOption look = ofPictures("look", "Of --pictures: light or dark alone.", "LOOK");
    const QCommandLineOption units = ofPictures("units", "Of --pictures: metric or imperial.", "UNITS");
    const QCommandLineOption only = ofPictures("only", "Of --pictures: names that begin with WORD alone.", "WORD");
    parser.addOptions({garage, to, size, look, units, only});
    for (const rw::Task& task : rw::tasks())
        parser.addOption({QLatin1String(task.option), QLatin1String(task.help), QLatin1String(task.value)});
    parser.addHelpOption();
    parser.addVersionOption();
    if (!parser.parse(QApplication::arguments())) return usage(parser.errorText());
    if (parser.isSet(QStringLiteral("version"))) parser.showVersion();
    if (parser.isSet(QStringLiteral("help"))) parser.showHelp();

    rw::TaskArguments arguments{{},
                                parser.positionalArguments(),
                                parser.value(to),
                                parser.value(garage),
                                parser.value(size),
                                parser.value(look),
                                parser.value(units),
                                parser.value(only)};
    for (const rw::Task& task : rw::tasks()) {
        const QString option = QLatin1String(task.option);
        if (!parser.isSet(option)) continue;
        arguments.value = parser.value(option);
        if (task.needsTo && arguments.to.isEmpty()) return usage(QStringLiteral("--%1 needs --to FILE").arg(option));
        return runTask(task, arguments);
    }
    return runWindow(application, arguments);
}
