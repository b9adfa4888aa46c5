// What every workspace is given: the things of the window that all share. Each is an object of its own with signals.
#pragma once

#include <QObject>
#include <QString>

namespace rw {

class Settings;
class Units;
class Bench;
class Jobs;
class GarageSession;

// Whatever part of a workspace has something to say says it here; the window shows it.
class Voice : public QObject {
    Q_OBJECT
public:
    using QObject::QObject;

signals:
    void said(const QString& sentence);                             // a quiet line at the foot of the window
    void complained(const QString& title, const QString& sentence); // something went wrong: what, and what to do
};

struct Desk {
    Voice& voice;
    Settings& settings;    // settings.h: what is remembered
    Units& units;          // units.h: the unit switch
    Bench& bench;          // bench.h: the setup and plan under work
    Jobs& jobs;            // jobs.h: long work, progress and stop
    GarageSession& garage; // garage_session.h: the open garage
};

} // namespace rw
