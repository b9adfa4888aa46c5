// The story of the sample garage: when, where, with what. All of it invented. Private to the sample.
#pragma once

#include "storage/garage.h"

#include <optional>
#include <span>
#include <string_view>

namespace rw::sample {

enum class Car { Wren, Heron, Teal };

// One outing with one car: its log is made by the generator from the setup, the venue and this.
struct Day {
    std::string_view date;
    Car car = Car::Heron;
    double temperature_C = 18.0, wind_mps = 0.0;
    std::string_view title, notes;
    struct Change { // a new revision before this outing: no reason where the setup stays
        std::string_view reason;
        int pinion = 0;                      // teeth; 0: as it was
        std::optional<double> cutoff_V = {}; // 0: off
    } change;
    struct Driving {                       // what the day is like
        int firstPack = 1, passesEach = 2; // two packs, one after the other, unless onePack
        bool onePack = false;
        double charge = 1.0;       // of the packs at the start
        double waits_s = 80.0;     // between passes
        double airborneAt_s = 0.0; // goes light over a bump in the first pass
        bool mainDay = false;      // on the whole taxiway; the second pack is one of eight cells, lent by Old Teal
    } driving;
};
[[nodiscard]] std::span<const Day> season();

// What the logs of the middle car taught, early, in the middle and late in the season: nearer to the truth each time.
// How near is made up.
void addFits(Garage& garage, Id vehicle, Id venue);

} // namespace rw::sample
