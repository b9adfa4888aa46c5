// What the window gives a workspace, without the window: a base of fixtures that drive a part of one.
#pragma once

#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/garage_session.h"
#include "app/desktop/shared/jobs.h"
#include "app/desktop/shared/settings.h"
#include "app/desktop/shared/units.h"

#include <QTemporaryDir>

namespace rw::test {

struct DeskThings {
    QTemporaryDir folder;
    Voice voice;
    Settings settings{folder.filePath(QStringLiteral("settings.ini"))};
    Units units;
    Bench bench;
    Jobs jobs;
    GarageSession garage{settings, jobs};
    [[nodiscard]] Desk desk() { return {voice, settings, units, bench, jobs, garage}; }
};

} // namespace rw::test
