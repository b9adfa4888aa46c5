// `choose GARAGE`: every motor, controller and pack of a garage in a setup, with its best gears.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addChooseCommand(CLI::App& app, Report& report);

} // namespace rw::batch
