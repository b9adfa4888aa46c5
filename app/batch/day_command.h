// `day FILE.json`: passes back to back against waits.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addDayCommand(CLI::App& app, Report& report);

} // namespace rw::batch
