// What the command line gave to a task that needs no window.
#pragma once

#include <QStringList>

namespace rw {

struct TaskArguments {
    QString value;     // of the task's own option: a folder or a file
    QStringList files; // the other words on the command line
    QString to;        // --to
    QString garage;    // --garage
    // Of pictures; empty: both looks, two sizes, the units of a first start, every scene.
    QString size, look, units, only; // "1600x1000", "dark", "imperial", "plan-power"
};

} // namespace rw
