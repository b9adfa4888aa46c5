// `spread FILE.json --runs N --seed S`: probabilities and 90 % intervals from the stated uncertainties.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addSpreadCommand(CLI::App& app, Report& report);

} // namespace rw::batch
