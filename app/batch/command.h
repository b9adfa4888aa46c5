// The commands and what one hands back. Nothing is printed while it works: main prints when all of it is done. One that
// throws prints nothing but one line on standard error: WrongUsage for the errors of the argument parser, GarageRefused
// for a GarageError, WrongInput for anything else.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace rw::batch {

enum ExitStatus { Done = 0, WrongInput = 1, WrongUsage = 2, GarageRefused = 3 };

struct Report {
    std::string out;                          // goes to standard output, whole
    std::vector<std::string> complaints = {}; // one line each on standard error
    int status = Done;
};

// Each in a file of its name; `next` beside `learn`.
using AddCommand = void(CLI::App& app, Report& report);
AddCommand addPlanCommand, addEstimateCommand, addGearsCommand, addReachCommand, addSpreadCommand, addChooseCommand,
    addSizeCommand, addLadderCommand, addDayCommand, addGarageCommand, addReviewCommand, addLearnCommand,
    addNextCommand;

} // namespace rw::batch
