// From the garage or a file to the bench, with names, sources and revision.
#pragma once

#include "app/desktop/shared/bench.h"
#include "storage/garage.h"

#include <QString>

namespace rw {

// Throws GarageError and InputError (a key that is missing) for a person to read.
[[nodiscard]] BenchContent benchFromSetup(Garage& garage, Id setup, Id venue);
[[nodiscard]] BenchContent benchFromPlan(Garage& garage, Id plan);
// Where the values of a part come from, added to what is known of the others.
void addSources(const Values& values, BenchContent& content);
// What the named pack is, so that a plan of other cells does not go by its name.
void describePack(const Values& values, BenchContent& content);
// The pack of an input becomes this one; how full it is and how warm stay as they are.
void fitPack(const Values& pack, PlanInput& input);
// A plan document on the disk, or one of the program's own (":/…").
[[nodiscard]] BenchContent benchFromFile(const QString& path);

} // namespace rw
