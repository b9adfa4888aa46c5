// `size FILE.json`: the winding and the cells to buy for a target.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addSizeCommand(CLI::App& app, Report& report);

} // namespace rw::batch
