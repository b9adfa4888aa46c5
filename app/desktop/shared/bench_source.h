// From the garage or a file to the bench, with names, sources and revision.
#pragma once

#include "app/desktop/shared/bench.h"
#include "storage/garage.h"

#include <QString>

namespace rw {

// Throws GarageError and InputError (a key that is missing) for a person to read.
[[nodiscard]] BenchContent benchFromSetup(Garage& garage, Id setup, Id venue);
[[nodiscard]] BenchContent benchFromPlan(Garage& garage, Id plan);
// A plan document on the disk, or one of the program's own (":/…").
[[nodiscard]] BenchContent benchFromFile(const QString& path);

} // namespace rw
