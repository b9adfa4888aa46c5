// `plan FILE.json…`: a pass simulated, its margins and what bound it.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addPlanCommand(CLI::App& app, Report& report);

} // namespace rw::batch
