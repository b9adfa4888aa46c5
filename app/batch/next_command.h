// runwright-batch next: what to change next, after learning from the logs.
#pragma once

#include "app/batch/command.h"

namespace CLI {
class App;
}

namespace rw::batch {

void addNextCommand(CLI::App& app, Report& report);

} // namespace rw::batch
