// `review LOG…`: sessions, passes, figures, findings.
#pragma once

namespace CLI {
class App;
}

namespace rw::batch {

struct Report;
void addReviewCommand(CLI::App& app, Report& report);

} // namespace rw::batch
