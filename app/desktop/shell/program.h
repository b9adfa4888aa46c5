// The things of one running window, made in the order in which they need each other.
#pragma once

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/units.h"
#include "app/desktop/shell/shell.h"

#include <QString>

#include <memory>

namespace rw {

struct Program {
    // settingsFile empty: the platform's own place.
    explicit Program(const QString& settingsFile = {})
        : settings(settingsFile)
        , garage(settings, jobs) {
        settings.load(units);
        settings.follow(units);
    }
    // The window; made once, after the application's look is set.
    [[nodiscard]] Shell& window();

    Voice voice;
    Settings settings;
    Units units;
    Bench bench;
    Jobs jobs;
    GarageSession garage;
    std::unique_ptr<Shell> shell;
};

} // namespace rw
