// What the garage remembers, as plain values. They go in and out whole; ids of new ones are given by the garage.
//
// One scheme for physical numbers: a map from the plan input's key ("motor.kv_rpm_per_V", see core/plan/plan_fields.h,
// which tells label, unit, range and meaning) to a Value that carries unit shown, standard uncertainty and source.
// Numbers are kept in the key's own unit, as the same double that was given. A key belongs to one kind of part by its
// group:
//   Vehicle vehicle.*   Tyre tyre.*   Motor motor.*   Controller controller.*, controller.cutoff.*   Pack pack.*
//   Gear gears.module_m with gears.pinion_teeth or gears.spur_teeth, and "gears.count" (how many)
//   Venue venue.*, air.*, wind.*   LimitSet any plan key, or "review.NAME" for a threshold of the review
//   Setup every plan key but venue.*, air.*, wind.*: frozen copies of its parts' values, plus adjustables, start.* and
//   drive.* Outing air.*, wind.*, venue.friction: the weather and strip of the day
#pragma once

#include "storage/id.h"

#include "core/plan/plan_input.h"

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace rw {

// Label: read off a box or a part. Estimated: worked out from labels by a rule, which the value's note names.
enum class Source : std::uint8_t { MakersSheet, Measured, Fitted, Guess, Label, Estimated };
[[nodiscard]] std::string_view sourceName(Source source); // "maker's sheet", "measured", …, "label", "estimated"
[[nodiscard]] std::optional<Source> sourceFromName(std::string_view name);

struct Value {
    std::optional<double> number; // in the key's unit; none: not set, or a text value
    std::string text;             // a choice's word ("rear"), a list "[11,12]" or a table "[[0,3.27],[1,4.2]]" as JSON
    std::string unitShown;        // what the owner likes to read it in ("mm"); "": the key's unit
    std::optional<double> uncertainty; // standard uncertainty, in the key's unit
    Source source = Source::Guess;
    std::string note; // "fitted, 21 November, passes 4–5"
    bool operator==(const Value&) const = default;
};
using Values = std::map<std::string, Value, std::less<>>;
[[nodiscard]] const Value* valueOf(const Values& values, std::string_view key); // null where there is none
[[nodiscard]] std::optional<double> numberOf(const Values& values, std::string_view key);

// What every thing has that is kept under a name.
template<ItemKind Kind>
struct Named {
    Id id{Kind, 0};
    std::string name; // "Heron"; 1…200 bytes
    std::string notes;
    bool retired = false;         // kept for what refers to it, left out of lists by default
    std::string created, changed; // UTC, "2026-11-25T15:22:52Z"; set by the garage
    int version = 0;              // counts changes; an update is refused where it changed since it was read
    bool operator==(const Named&) const = default;
};

// Vehicle, tyre, motor, controller, pack (each physical pack is one), gear, venue, limit set, column map or checklist:
// id.kind tells, and is needed to add one.
struct Part : Named<ItemKind::Vehicle> {
    std::string description; // "long-tail streamliner", one line
    // ColumnMap: the map as JSON; Checklist: one item a line; a vehicle and a venue that came from labels: those, as
    // JSON (core/plan/labels.h); else "".
    std::string document;
    Values values;
    bool operator==(const Part&) const = default;
};

// What logs have taught beside the values themselves, as in a plan input.
struct Evidence {
    std::vector<KeyCorrelation> correlation;
    std::optional<LearnedInput> learned; // gains of the sensors, and which logs were used
    bool operator==(const Evidence&) const = default;
    [[nodiscard]] bool empty() const { return correlation.empty() && !learned; }
};

// One revision of a setup. Never changed once stored: an edit is a new revision with parent and reason.
struct Setup {
    Id id{ItemKind::Setup, 0};
    std::string name;             // of the line of revisions
    int revision = 1;             // from 1 within its line; set by the garage
    Id first{ItemKind::Setup, 0}; // the first revision of its line; set by the garage
    std::optional<Id> parent;     // what it was edited from
    std::string reason;           // why, in the owner's words
    Id vehicle{ItemKind::Vehicle, 0}, motor{ItemKind::Motor, 0}, controller{ItemKind::Controller, 0},
        pack{ItemKind::Pack, 0}, tyre{ItemKind::Tyre, 0}, pinion{ItemKind::Gear, 0}, spur{ItemKind::Gear, 0};
    Values values;
    Evidence evidence;
    std::string notes;
    bool retired = false;
    std::string created;
    bool operator==(const Setup&) const = default;
};

// The parts that a setup names, by their words in documents.
struct SetupPart {
    const char* word;
    Id Setup::*id;
};
inline constexpr std::array setupParts{SetupPart{"vehicle", &Setup::vehicle},
                                       SetupPart{"motor", &Setup::motor},
                                       SetupPart{"controller", &Setup::controller},
                                       SetupPart{"pack", &Setup::pack},
                                       SetupPart{"tyre", &Setup::tyre},
                                       SetupPart{"pinion", &Setup::pinion},
                                       SetupPart{"spur", &Setup::spur}};

struct Difference {
    std::string key;              // plan key, or "vehicle", "motor", …, "name", "notes" for what is not a number
    std::optional<Value> was, is; // parts' names stand in text; none: was or is not there
};

struct Outing : Named<ItemKind::Outing> {
    std::string date; // "2026-11-21", or with a clock "2026-11-21T14:05"
    std::optional<Id> venue;
    Values weather;
    std::vector<Id> setups;          // revisions taken along
    std::vector<std::string> photos; // paths as the owner gave them; never opened by the garage
    bool operator==(const Outing&) const = default;
};

enum class Direction : std::uint8_t { Unknown, There, Back };
[[nodiscard]] std::string_view directionName(Direction direction); // "", "there", "back"
[[nodiscard]] std::optional<Direction> directionFromName(std::string_view name);

// Figures by the keys of app/batch/README.md's review results ("zone_speed_mps", "pack_ohm"), in the unit of the key.
using Figures = std::map<std::string, double, std::less<>>;

struct SessionRecord { // one pack connected once
    std::int64_t startRow = 0, endRow = 0, startLine = 0, endLine = 0;
    double start_s = 0.0, duration_s = 0.0;
    std::optional<int> cells;
    std::optional<double> resting_V;
    std::optional<Id> setup, pack; // none: those of the log; the pack that was connected may be another one
    bool operator==(const SessionRecord&) const = default;
};

enum class SpeedKind : std::uint8_t { ZoneMean, Peak, PeakWheel };
[[nodiscard]] std::string_view speedKindName(SpeedKind kind); // "timed zone", "peak", "peak, by the wheels"

// A speed that was only read off: a display on the vehicle, a speed gun, light gates.
struct SpeedNote {
    SpeedKind kind = SpeedKind::Peak; // ZoneMean or Peak; one of each at most
    double mps = 0.0;                 // over 0, to 200
    double uncertainty_mps = 0.3;     // standard, over 0
    bool operator==(const SpeedNote&) const = default;
};

struct PassRecord {
    int session = 0;                   // index into the log's sessions
    double start_s = 0.0, end_s = 0.0; // from the first row of the session
    bool complete = true;
    Figures figures;
    Direction direction = Direction::Unknown;
    std::string notes;
    std::vector<SpeedNote> noted;
    bool operator==(const PassRecord&) const = default;
};

inline constexpr std::int64_t largestLog = 2'000'000'000;     // bytes of text
inline constexpr std::int64_t largestPackedLog = 900'000'000; // bytes after packing: SQLite's own limit is 1e9

// The untouched bytes of a log, packed for keeping. A pure function makes it, so it may run beside the import.
struct PackedLog {
    std::string sha256;    // 64 hexadecimal digits, of the bytes
    std::int64_t size = 0; // of the bytes
    std::string zstd;      // one Zstandard frame with checksum
};
// Throws InputError where the bytes are more than the limits above.
[[nodiscard]] PackedLog packLog(std::string_view bytes);

// A log to be stored: its bytes and what was read from them. log_record.h makes one from Log and LogReview.
struct LogRecord {
    std::string name; // file name, without folders
    PackedLog packed;
    std::int64_t rows = 0;
    std::string started; // wall clock of the first row where known, else ""
    std::string dialect; // how it was read, JSON: the review's "import" object
    std::string review;  // the whole review, JSON (reviewJson)
    std::string edits;   // the owner's moved, added and removed boundaries, JSON, or ""
    std::string judging; // what else the owner said of it, JSON (writeLogSaid), or ""
    std::string track;   // measured speed of a receiver of its own, JSON (writeTrack), or ""
    std::optional<Id> setup, outing, columnMap;
    std::string notes;
    std::vector<SessionRecord> sessions;
    std::vector<PassRecord> passes;
};

// Without the bytes: Garage::logBytes, and without the track: Garage::logTrack.
struct StoredLog : Named<ItemKind::Log> {
    std::string sha256; // 64 hexadecimal digits, of the bytes
    std::int64_t size = 0, packedSize = 0, rows = 0;
    std::string started, dialect, edits, judging;
    bool hasTrack = false;
    std::optional<Id> setup, outing, columnMap;
    int sessions = 0, passes = 0;
    bool operator==(const StoredLog&) const = default;
};

struct StoredSession {
    Id id{ItemKind::Session, 0};
    Id log{ItemKind::Log, 0};
    int index = 0;        // from 0 within the log
    SessionRecord record; // setup and pack resolved: the session's own, else the log's
};

// A row of a pass list. Absent figures are those that the log could not tell.
struct StoredPass {
    Id id{ItemKind::Pass, 0};
    Id log{ItemKind::Log, 0}, session{ItemKind::Session, 0};
    int sessionIndex = 0, index = 0;                              // index from 0 within the log
    std::optional<Id> setup, vehicle, pack, motor, outing, venue; // through its session, log and outing
    int revision = 0;                                             // of the setup; 0 without one
    std::string when; // outing's date, else log's start, else when it was added
    double start_s = 0.0, end_s = 0.0;
    bool complete = true;
    Direction direction = Direction::Unknown;
    std::string notes;
    std::optional<double> zoneSpeed_mps, peakSpeed_mps, peakWheelSpeed_mps, peakCurrent_A, minCell_V, motorMax_C,
        packStart_C, pack_ohm, pack_ohmSe, charge_Ah;
    std::vector<SpeedNote> noted;
    int version = 0;
};

struct PassFilter {
    std::optional<Id> vehicle, setup, pack, motor, outing, venue, log; // setup: this very revision
    std::optional<double> speedFrom_mps, speedTo_mps;                  // of bestSpeed()
    std::string from, to;                                              // of when, inclusive; "" open
    bool completeOnly = false;
    enum class Order { Newest, Oldest, Fastest } order = Order::Newest;
    int limit = 1'000'000, offset = 0;
};

struct BestSpeed {
    double mps = 0.0;
    SpeedKind kind = SpeedKind::ZoneMean;
};
// Of one kind: as the log tells it, else as it was noted.
[[nodiscard]] std::optional<double> speedOf(const StoredPass& pass, SpeedKind kind);
// Timed zone, else peak, else wheel peak; none where neither log nor owner told a speed.
[[nodiscard]] std::optional<BestSpeed> bestSpeed(const StoredPass& pass);

struct BestPass { // one row a setup revision, fastest first
    Id setup{ItemKind::Setup, 0}, vehicle{ItemKind::Vehicle, 0};
    std::string setupName, vehicleName;
    int revision = 0;
    BestSpeed oneWay;
    Id pass{ItemKind::Pass, 0};
    std::string when;
    // Mean of the speeds of two neighbouring passes of one log, same setup, noted as there and back, by the same kind
    // of speed.
    std::optional<double> bothWays_mps;
    std::optional<Id> there, back;
};

struct StoredPlan : Named<ItemKind::Plan> {
    std::optional<Id> setup, venue;      // the exact revision it was made for
    std::string input, result, settings; // JSON documents: plan input, plan results, what was asked
    std::string program;                 // version that computed it; "" on adding: this one
    bool operator==(const StoredPlan&) const = default;
};

struct FittedParameter {
    std::string key; // plan key
    double value = 0.0;
    std::optional<double> standardError;
    bool determined = true;
    std::string whyNot;
    std::optional<double> low, high;               // 2.5 and 97.5 % points
    std::optional<double> before, beforeDeviation; // what was known: value and standard uncertainty
    std::string conflict;                          // a sentence where it lies far from what was known
    bool operator==(const FittedParameter&) const = default;
};

struct FittedValue { // where a fitted parameter went
    Id item;         // a part or a revision of a setup
    std::string key;
    bool operator==(const FittedValue&) const = default;
};

struct Fit : Named<ItemKind::Fit> {
    std::optional<Id> setup; // the revision whose values were the start
    std::vector<Id> passes;  // that it was fitted to
    std::vector<FittedParameter> parameters;
    std::vector<double> covariance;      // row by row, parameters.size() squared; empty: unknown
    std::optional<LearnedInput> learned; // gains of the sensors; SHA-256 of the logs
    std::string report;                  // JSON of `learn`, or ""
    std::string program;
    std::optional<Id> accepted;     // the revision that was made with its values
    std::vector<FittedValue> taken; // the values of it and of parts that came from the fit
    bool operator==(const Fit&) const = default;
};

struct FittedPoint {  // one a fit and key, oldest first
    std::string when; // of the newest pass
    Id fit{ItemKind::Fit, 0};
    std::string key;
    double value = 0.0;
    std::optional<double> standardError;           // in the key's unit
    std::optional<double> before, beforeDeviation; // what was known
    bool determined = true;
    int passes = 0;             // that the fit rests on
    std::optional<Id> accepted; // none: only kept
};

struct TimeLineEntry { // oldest first
    std::string when;
    Id id;                   // Setup, Outing, Log, Pass, Plan or Fit
    std::optional<Id> setup; // the revision it belongs to
    int revision = 0;
    std::string title, text;        // name; reason, notes
    std::optional<BestSpeed> speed; // of a pass
};

struct PackPoint { // one a pass that the pack carried, oldest first
    std::string when;
    Id pass{ItemKind::Pass, 0};
    int carried = 0; // passes carried up to and with this one
    std::optional<double> ohm, ohmSe, start_C, minCell_V, charge_Ah, peakCurrent_A;
};

struct MotorPoint { // one a pass that the motor drove, oldest first
    std::string when;
    Id pass{ItemKind::Pass, 0}, log{ItemKind::Log, 0};
    std::optional<Id> setup;
    // start_C: of the motor; fullOutput_A: median pack current at full output, at which rpm per volt was read.
    std::optional<double> max_C, rpmPerVolt, peak_A, start_C, fullOutput_A;
};

struct FoundItem {
    Id id;
    std::string title;
    std::string excerpt; // text around the find; the matching words stand between U+0002 and U+0003
};

struct ListRow { // one line of a list of any kind, newest first
    Id id;
    std::string name, description, when;
    bool retired = false;
};

} // namespace rw
