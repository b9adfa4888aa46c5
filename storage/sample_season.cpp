#include "storage/sample_season.h"

#include <array>

namespace rw::sample {

namespace {

constexpr Day day(std::string_view date, Car car, double temperature_C, double wind_mps, std::string_view title,
                  std::string_view notes, const Day::Change& change = {}, const Day::Driving& driving = {}) {
    return {date, car, temperature_C, wind_mps, title, notes, change, driving};
}

constexpr std::array days{
    day("2026-03-14", Car::Heron, 9.0, 0.0, "First runs of the year",
        "Cold tar, plenty of grip. Everything as it came off the bench."),
    day("2026-03-29", Car::Wren, 12.0, 1.5, "Wren shakes down", "New drive belt. A breeze across the strip.", {},
        {.onePack = true}),
    day("2026-04-12", Car::Heron, 14.0, 0.0, "One tooth up", "Motor came back hand-warm: room for a taller gear.",
        {"motor stays cool, room for one tooth", 25}),
    day("2026-05-03", Car::Teal, 17.0, 2.0, "Old Teal wakes up", "Eight cells, long wheelbase, gusty.", {},
        {.onePack = true}),
    day("2026-05-17", Car::Wren, 19.0, 0.0, "Wren, taller pinion", "", {"peak motor speed well under its limit", 19}),
    day("2026-06-07", Car::Heron, 24.0, 0.0, "Warm morning", "Packs were not topped up: watch the voltage.", {},
        {.charge = 0.78}),
    day("2026-06-21", Car::Heron, 22.0, 0.0, "Cutoff lowered", "It took power near the end of the zone two weeks ago.",
        {"the cutoff took power on 7 June", 0, 3.0}, {.firstPack = 2}),
    day("2026-07-05", Car::Teal, 27.0, 0.0, "Light over the seam", "The seam at two thirds lifts the front.", {},
        {.onePack = true, .waits_s = 90.0, .airborneAt_s = 5.4}),
    day("2026-07-26", Car::Wren, 34.0, 1.0, "Hot afternoon", "Four passes with short waits. The motor never cooled.",
        {}, {.firstPack = 2, .passesEach = 4, .onePack = true, .waits_s = 35.0}),
    day("2026-08-16", Car::Heron, 23.0, 0.0, "Next tooth", "",
        {"front stays planted, current within the pack's rating", 26}),
    day("2026-08-30", Car::Heron, 27.0, 0.0, "Six cells, then eight",
        "The whole taxiway. The six-cell pack was not topped up and its cutoff takes more from pass to pass; then Old "
        "Teal's eight cells: the front goes light over the seam, and the motor does not cool between passes.",
        {"taller gear for the whole taxiway", 39, 3.6},
        {.passesEach = 4, .charge = 0.62, .waits_s = 40.0, .airborneAt_s = 5.2, .mainDay = true}),
    day("2026-09-06", Car::Wren, 18.0, 0.0, "Wren's best", "Calm, both ways within a minute.",
        {"calm days ahead, one tooth more", 20}),
    day("2026-09-27", Car::Teal, 15.0, 0.0, "Old Teal, both packs", "", {"splitter lowered, front holds down"}),
    day("2026-10-18", Car::Heron, 12.0, 0.0, "Cool air, fresh tyres", "", {"back to the short run", 26, 3.0},
        {.firstPack = 2}),
    day("2026-11-21", Car::Heron, 6.0, 0.0, "Last day of the season",
        "Packs warmed in the box. The best both ways so far.", {"cutoff off leaves room for one step", 27, 0.0}),
};

} // namespace

std::span<const Day> season() { return days; }

} // namespace rw::sample
