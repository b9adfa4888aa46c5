// An invented garage: three vehicles, six packs, four motors, two venues and a season of outings with generated logs.
// Every story, name and number in it is invented, and it says so.
#pragma once

#include "storage/garage.h"

#include <functional>

namespace rw {

// Creates the file (as Garage::create) and fills it. progress: share done, 0..1.
Garage createSampleGarage(const std::string& path, const std::function<void(double)>& progress = {});

} // namespace rw
