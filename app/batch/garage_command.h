// `garage ACTION FILE …`: the garage file without a screen.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addGarageCommand(CLI::App& app, Report& report);

} // namespace rw::batch
