// `estimate LABELS.json [--out PLAN.json]`: a whole plan, with uncertainties, from what boxes and labels say.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addEstimateCommand(CLI::App& app, Report& report);

} // namespace rw::batch
