// runwright-batch: the work of the desktop program without a screen.
#include "app/batch/command.h"
#include "app/batch/text_output.h"
#include "storage/garage_error.h"

#include <CLI/CLI.hpp>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <exception>
#include <string>

namespace {

using namespace rw::batch;

int complain(const std::string& line, int status) {
    std::fprintf(stderr, "runwright-batch: %s\n", escapeControls(line).c_str());
    return status;
}

int parseAndRun(CLI::App& app, int argc, char** argv, Report& report) {
    const auto refused = [&report](const std::exception& failure, ExitStatus status) {
        report.out.clear();
        return complain(failure.what(), status);
    };
    try {
        app.parse(argc, argv);
        return report.status;
    } catch (const CLI::Success& asked) { // --help, --version
        return app.exit(asked);
    } catch (const CLI::ParseError& wrong) {
        app.exit(wrong);
        return WrongUsage;
    } catch (const rw::GarageError& failure) {
        return refused(failure, GarageRefused);
    } catch (const std::exception& failure) {
        return refused(failure, WrongInput);
    }
}

int run(int argc, char** argv) {
    CLI::App app{"Plans and reviews top-speed passes of radio-controlled electric cars.", "runwright-batch"};
    app.set_version_flag("--version", "runwright-batch " RUNWRIGHT_VERSION);
    app.require_subcommand(1);
    app.footer("Every command has its own --help. A file called - is standard input. Predictions are estimates:\n"
               "the makers' limits and local law come first.");

    Report report;
    for (const auto add : {addPlanCommand, addEstimateCommand, addGearsCommand, addReachCommand, addSpreadCommand,
                           addChooseCommand, addSizeCommand, addLadderCommand, addDayCommand, addGarageCommand,
                           addReviewCommand, addLearnCommand, addNextCommand})
        add(app, report);

    const int status = parseAndRun(app, argc, argv, report);
    for (const std::string& line : report.complaints)
        complain(line, status);
    if (std::fwrite(report.out.data(), 1, report.out.size(), stdout) != report.out.size() || std::fflush(stdout) != 0)
        return complain(std::string("standard output: cannot be written: ") + std::strerror(errno), WrongInput);
    return status;
}

} // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& failure) { // memory that ran out while a complaint was put in words
        std::fprintf(stderr, "runwright-batch: %s\n", failure.what());
        return WrongInput;
    }
}
