// `reach FILE.json --target MPS`: which gearing, cell count or drag area makes the target, each alone.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addReachCommand(CLI::App& app, Report& report);

} // namespace rw::batch
