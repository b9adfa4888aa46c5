// What every workspace is given: the things of the window that all share. Each is an object of its own with signals.
#pragma once

namespace rw {

class Settings;
class Units;
class Bench;
class Jobs;
class GarageSession;

struct Desk {
    Settings& settings;    // settings.h: what is remembered
    Units& units;          // units.h: the unit switch
    Bench& bench;          // bench.h: the setup and plan under work
    Jobs& jobs;            // jobs.h: long work, progress and stop
    GarageSession& garage; // garage_session.h: the open garage
};

} // namespace rw
