// `gears FILE.json`: every pinion and spur that fits, ranked.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addGearsCommand(CLI::App& app, Report& report);

} // namespace rw::batch
