// What a garage offers for choosing a power system (core/choose/choose_power.h).
#pragma once

#include "core/choose/choose_power.h"
#include "storage/garage.h"

namespace rw {

// A setup as it stands at a venue, with every motor, controller and pack of the garage and every gear wheel of its
// module; retired ones left out. A part that is in the setup has the setup's own values. Another one has its own, and
// where it does not tell them the setup's settings of timing, endpoint, throttle rate, cutoff and charge, which are the
// driver's and not the part's. Parts with values missing are left out and named.
// Throws GarageError, InputError as Garage::planInput.
[[nodiscard]] ChooseSet chooseSet(Garage& garage, Id setup, Id venue);

} // namespace rw
