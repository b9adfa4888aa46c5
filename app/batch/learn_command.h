// runwright-batch learn: parameters back from logs, with standard errors.
#pragma once

#include "app/batch/command.h"

namespace CLI {
class App;
}

namespace rw::batch {

void addLearnCommand(CLI::App& app, Report& report);

} // namespace rw::batch
