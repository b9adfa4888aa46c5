// `ladder FILE.json`: the steps from a proven speed to a target.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addLadderCommand(CLI::App& app, Report& report);

} // namespace rw::batch
