// The garage file: one SQLite file that holds everything the program knows. Design and promises: DEVELOPERS.md
// "Garage".
//
// Values in, values out; the class owns the connection and nothing else knows SQL. Every change is one transaction that
// is on the disk when the function returns; a function that throws has changed nothing. Not for two threads at once:
// open a second Garage on the same file instead (windows and programs may share a file). Throws GarageError (see its
// kinds) and, for values that are not allowed (text that is not UTF-8 or holds a NUL, a key that does not belong to the
// kind, a number out of the key's range, something too long), InputError. Texts given are data: stored and returned as
// they are.
#pragma once

#include "core/plan/plan_input.h"
#include "storage/garage_error.h"
#include "storage/values.h"

#include <chrono>
#include <functional>
#include <memory>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace rw {

struct GarageOptions {
    std::chrono::milliseconds wait{5000}; // how long a second writer waits before GarageError Busy
    bool readOnly = false;
    std::function<std::string()> now; // UTC, "2026-11-25T15:22:52Z"; none: the machine's clock. For samples.
    // For long work (export, import, backup, restore) on an object of its own: asked to stop, a function throws
    // Stopped. progress: share done, 0..1, called from the working thread.
    std::stop_token stop;
    std::function<void(double)> progress;
    std::string vfs; // file layer of SQLite by name; "": the system's. For tests.
    enum class Journal { ByLibrary, Rollback, WriteAhead } journal = Journal::ByLibrary;
};

struct GarageCheck {
    bool ok = false;
    int schema = 0;
    std::string journal;                        // in words: which journal, synced how, and why
    std::map<std::string, std::int64_t> counts; // by kindPlural
    std::vector<std::string> problems;          // sentences
};

struct BackupInfo {
    std::string path, when;
    std::int64_t size = 0;
};

struct DueBackup {
    std::optional<std::string> path; // of the backup that was made; none: none was due, or it failed
    std::string problem;             // a sentence where it failed
};

struct AddedLog {
    Id log{ItemKind::Log, 0};
    bool alreadyThere = false;    // the same bytes: nothing was stored
    int sessions = 0, passes = 0; // of the log in the garage
    std::optional<Id> outing;     // that it belongs to
};

// What comes into the garage together with a log.
struct LogCompany {
    std::optional<Outing> outing;  // a new one, which the log belongs to; wins over the record's
    std::optional<Part> columnMap; // that it was read with, unless one with this document is there; wins too
};

struct ImportedItems {
    std::vector<Id> added, alreadyThere;
    Id root; // what the document was about
};

struct PlanParts { // names for what addSetupFromPlan makes; "" takes a plain one
    std::string setup, vehicle, motor, controller, pack, tyre, venue;
    Source source = Source::Guess; // of its numbers
    struct Origin {
        Source source = Source::Guess;
        std::string note;
    };
    std::map<std::string, Origin, std::less<>> sources = {}; // of single ones, by key
    std::string labels = {};                                 // JSON that the numbers came from, kept with the vehicle
};
struct PlanIds {
    Id setup{ItemKind::Setup, 0}, venue{ItemKind::Venue, 0};
};

// What changed labels make of a setup's numbers.
struct Relabelled {
    Id setup{ItemKind::Setup, 0};
    std::optional<Id> venue; // that the labels tell of too
    PlanInput plan;
    PlanParts origins;  // sources of its numbers, and the labels; names stay as they are
    std::string reason; // of the new revision
};

struct FitAcceptance {
    std::optional<Id> onto; // revision that is edited; none: the one whose values were the fit's start
    std::vector<Id> parts;  // parts of it whose own values change as well, and with them what is built from them
    std::string reason;     // of the new revision; "": a plain one
};

struct SalvageReport {
    std::map<std::string, std::int64_t> saved; // by kindPlural
    std::vector<std::string> lost;             // sentences
};

class UndoStack; // storage/changes.h

class Garage {
public:
    static constexpr int schemaVersion = 3;

    // A new garage; refused where a file is already there. File and folder are synced. `fill` is called with the garage
    // while it still lies under another name beside its place: the file appears whole, or not at all where fill throws.
    static Garage create(const std::string& path, const GarageOptions& options = {},
                         const std::function<void(Garage&)>& fill = {});
    // Checks kind, version and integrity first. An older file is migrated after a verified backup copy beside it. A
    // newer one and one that is no garage are refused, untouched. A damaged one is opened for reading only where
    // possible: access().
    static Garage open(const std::string& path, const GarageOptions& options = {});
    Garage(Garage&&) noexcept;
    Garage& operator=(Garage&&) noexcept;
    ~Garage();

    enum class Access { ReadWrite, ReadOnly, Damaged };
    [[nodiscard]] Access access() const;
    [[nodiscard]] const std::string& path() const;
    [[nodiscard]] const std::vector<std::string>& problems() const; // what opening found; empty: sound
    [[nodiscard]] GarageCheck check(bool full); // full: indexes, references and every log's bytes too
    [[nodiscard]] std::int64_t count(ItemKind kind, bool retired = false);
    // Grows with every change by this or any other window or program: poll it to refresh stale views.
    // Never waits: Busy at once while another program commits.
    [[nodiscard]] std::uint64_t changeCounter();
    // Whether the file at path() is still the one that was opened. Where not, reading goes on, writing is refused
    // (Gone), and backupTo() keeps what is here.
    [[nodiscard]] bool inPlace() const;

    // Parts.
    [[nodiscard]] std::vector<Part> parts(ItemKind kind, bool retired = false); // by name
    [[nodiscard]] Part part(Id id);
    Id add(const Part& part);
    void update(const Part& part); // Refused if it changed since part.version
    Id duplicate(Id part, const std::string& newName);
    // Any kind.
    [[nodiscard]] std::vector<ListRow> list(ItemKind kind, bool retired = false);
    void retire(Id id, bool retired = true);
    void remove(Id id);                                // Refused while anything refers to it
    [[nodiscard]] std::vector<Id> referredToBy(Id id); // what stands in the way of remove()

    // Setups.
    [[nodiscard]] std::vector<Setup> setups(std::optional<Id> vehicle = {}, bool retired = false); // newest first
    [[nodiscard]] Setup setup(Id id);
    Id addSetup(const Setup& setup); // first revision of a new line; values as given (see composeSetup)
    Id revise(const Setup& edited, const std::string& reason); // edited.id: the parent; a reason is needed
    [[nodiscard]] std::vector<Setup> revisions(Id setup);      // all of its line, oldest first
    [[nodiscard]] std::vector<Difference> difference(Id was, Id is);
    // Values of the named parts copied into `setup` (which names them), keys that no part has kept as they are in it.
    [[nodiscard]] Setup composeSetup(Setup setup);
    // A setup and the venue it stands at as plan input; nothing is lost on the way, uncertainty included. InputError
    // names the keys that are still missing. planInput(addSetupFromPlan(x)) == x.
    // outing: the day's weather in place of the venue's.
    [[nodiscard]] PlanInput planInput(Id setup, Id venue, std::optional<Id> outing = {});
    PlanIds addSetupFromPlan(const PlanInput& input, const PlanParts& names);
    // A new revision of `setup` with the numbers of an edited plan input (venue, air and wind aside); pack: the one
    // that is fitted now, none: the same.
    Id reviseFromPlan(Id setup, const PlanInput& edited, const std::string& reason, std::optional<Id> pack = {});
    // Of parts, venue and setup the numbers that are labels or estimates; what was measured, fitted or typed stays. One
    // change, one step to undo. Returns the new revision, or the setup where none of its numbers is another.
    Id relabel(const Relabelled& edited);

    // Outings.
    [[nodiscard]] std::vector<Outing> outings(bool retired = false); // newest first
    [[nodiscard]] Outing outing(Id id);
    Id addOuting(const Outing& outing);
    void updateOuting(const Outing& outing);

    // Logs.
    // The log and its company, all or nothing. The same bytes: nothing is stored.
    AddedLog addLog(const LogRecord& log, const LogCompany& with = {});
    // As addLog; the same bytes: what is said of them now takes the place of what was, sessions and passes as in
    // replaceReview().
    AddedLog keepLog(const LogRecord& log, const LogCompany& with = {});
    [[nodiscard]] std::vector<StoredLog> logs(std::optional<Id> outing = {}, bool retired = false); // newest first
    [[nodiscard]] StoredLog log(Id id);
    [[nodiscard]] std::optional<Id> findLog(const std::string& sha256);
    [[nodiscard]] std::string logBytes(Id log);  // checked against size and SHA-256: else Damaged
    [[nodiscard]] std::string logReview(Id log); // JSON as stored
    [[nodiscard]] std::string logTrack(Id log);  // JSON as stored (readTrack); "": none
    void updateLog(const StoredLog& log);        // name, setup, outing, column map, notes
    // The log read or cut up anew: sessions and passes keep their ids by position, notes and directions stay.
    void replaceReview(Id log, const LogRecord& record);
    [[nodiscard]] std::vector<StoredSession> sessions(Id log);
    void setSession(Id session, std::optional<Id> setup, std::optional<Id> pack);

    // Passes.
    [[nodiscard]] std::vector<StoredPass> passes(const PassFilter& filter);
    [[nodiscard]] StoredPass pass(Id id);
    [[nodiscard]] Figures figures(Id pass);
    void notePass(Id pass, Direction direction, const std::string& notes);
    void noteSpeeds(Id pass, const std::vector<SpeedNote>& noted); // in place of those noted before
    [[nodiscard]] std::string passesCsv(const PassFilter& filter); // RFC 4180, all figures, header with units

    // Plans and fits.
    [[nodiscard]] std::vector<StoredPlan> plans(std::optional<Id> setup = {}, bool retired = false); // newest first
    [[nodiscard]] StoredPlan plan(Id id);
    Id addPlan(const StoredPlan& plan);
    void updatePlan(const StoredPlan& plan); // name and notes; what was computed stays
    [[nodiscard]] std::vector<Fit> fits(std::optional<Id> setup = {}, bool retired = false);
    [[nodiscard]] Fit fit(Id id);
    // Kept, not accepted. Refused where one of its passes is behind the start values already: it would count twice.
    Id addFit(const Fit& fit);
    // The fit's values as a new revision, and as values of the parts that are named, with source fitted where they are
    // determined; correlations, gains of the sensors and logs go along. One change, one step to undo. Refused where it
    // was accepted before or a pass would count twice. Returns the revision.
    Id acceptFit(Id fit, const FitAcceptance& how = {});
    [[nodiscard]] std::vector<Id> passesCounted(Id setup); // that the setup's values rest on through accepted fits
    void updateFit(const Fit& fit);                        // name and notes

    // History.
    [[nodiscard]] std::vector<TimeLineEntry> timeLine(Id vehicle);
    [[nodiscard]] std::vector<PackPoint> packHistory(Id pack);
    [[nodiscard]] std::vector<MotorPoint> motorHistory(Id motor);
    // What fits said of a vehicle, tyre, motor, controller or pack over time.
    [[nodiscard]] std::vector<FittedPoint> fittedHistory(Id part);
    [[nodiscard]] std::vector<BestPass> bestPasses(std::optional<Id> vehicle = {}, int limit = 20);
    // Words (each may be the beginning of one) in names, descriptions, notes, reasons, documents; best first.
    [[nodiscard]] std::vector<FoundItem> search(const std::string& words, int limit = 100);

    // Undo and redo of what this object changed since it was opened, at most 100 steps; words for menus ("add vehicle
    // Heron"). Refused, and forgotten, where another window changed the same things meanwhile.
    [[nodiscard]] std::optional<std::string> undoText() const;
    [[nodiscard]] std::optional<std::string> redoText() const;
    void undo();
    void redo();
    // Steps made by another object on the same file (long work in its own thread) become the newest of this one.
    void takeSteps(Garage& from);
    // All steps, undone ones too, for another object on the same file that is to undo or redo beside this one; and
    // back, before what was done here meanwhile.
    [[nodiscard]] std::shared_ptr<UndoStack> releaseSteps();
    void giveSteps(const std::shared_ptr<UndoStack>& steps);
    // Bytes that the newest step writes when it is undone or done again; 0 without one.
    [[nodiscard]] std::size_t stepSize(bool undo) const;

    // Backups lie in the folder "FILE.backups" with the date in their names; the newest ten are kept.
    std::string backupNow(); // verified; returns its path
    // If changed and the last one is over a day old, unless another program is making one just now. Never throws a
    // GarageError: a backup that fails stands in nobody's way, but is told.
    DueBackup backupIfDue();
    [[nodiscard]] std::vector<BackupInfo> backups() const; // newest first
    void backupTo(const std::string& copy);                // one verified copy; replaces nothing that is already there
    void
    restore(const std::string& from); // everything as in that copy, after a backup of what is here; no undo steps left

    // Exchange: one JSON document, resources/garage-exchange.schema.json, with all that the thing refers to; for a
    // vehicle also its setups, outings, logs, plans and fits.
    [[nodiscard]] std::string exportItem(Id id);
    ImportedItems importItems(const std::string& document, const std::string& fileName);

    struct Impl; // of the implementation files alone

private:
    friend SalvageReport salvageGarage(const std::string& path, const std::string& newPath);
    explicit Garage(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

// Puts a verified copy in the place of a garage that cannot be opened any more; what was there is kept beside it.
// Returns where.
std::string restoreGarageFile(const std::string& path, const std::string& from, const GarageOptions& options = {});

// What can be read of a damaged garage, in a new file. Works on a copy; the damaged file is not touched.
SalvageReport salvageGarage(const std::string& path, const std::string& newPath);

// Journal and syncing that this machine's SQLite library calls for, in words.
[[nodiscard]] std::string journalChoice();

} // namespace rw
