// A log as read: quantities in contiguous columns, SI inside (temperatures K), missing samples NaN. README.md 1 and 2.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace rw {

// README.md 2, in the order there. The JSON key of each is quantityKey().
enum class Quantity : std::uint8_t {
    Time,
    PackVoltage,
    RippleVoltage,
    PackCurrent,
    MotorCurrent,
    Throttle,
    Brake,
    Output,
    MotorSpeed,
    ControllerTemperature,
    MotorTemperature,
    PackTemperature,
    ReceiverVoltage,
    Speed,
    Latitude,
    Longitude,
    Elevation,
    AccelerationX,
    AccelerationY,
    AccelerationZ,
    Power,
    Charge,
    SessionMark, // a column that names sessions (numbered in order of appearance)
    EventMark,   // 1 where an event column says connect, power on, start
    Count_
};
inline constexpr std::size_t quantityCount = static_cast<std::size_t>(Quantity::Count_);

// Time has no values here: they are Log::time. Throttle, brake and output are fractions 0..1, throttle counted from its
// resting value; session marks are numbered from 0 in order of appearance; slow channels are held between their values.
struct Channel {
    std::vector<double> values; // one a row, SI; NaN where missing; empty: the log has no such quantity
    double interval_s = 0.0;    // the channel's own interval: README.md 1, slow channels
    double step = 0.0;          // quantisation step seen in the column, in SI; 0 unknown
    double confidence = 0.0;    // 0..1
    int column = -1;         // index into ImportReport::columns; −1: derived (brake from throttle, speed from places)
    std::size_t missing = 0; // rows that are NaN
    [[nodiscard]] bool present() const { return !values.empty(); }
};

struct ImportColumn {
    std::string name;
    std::optional<Quantity> quantity; // null where not used
    std::optional<Quantity> guess;    // best guess where not used
    std::string unit;                 // as read, "" unknown
    double confidence = 0.0;
    std::size_t unreadable = 0;
    std::string doubt; // "2150 A is implausible: a factor of 0.1 is likely, which makes 215 A"; "" none
    std::optional<double> likelyFactor; // of that doubt
};

struct RefusedRow {
    std::size_t line = 0;
    std::string why;
};

struct ImportReport {
    std::string encoding;  // UTF-8, UTF-8 with BOM, UTF-16LE, UTF-16BE, Latin-1
    std::string separator; // the character itself; a blank stands for runs of blanks
    std::string decimal;   // the character itself
    std::string thousands; // the character itself; "" none seen
    std::size_t headerLine = 0;
    std::string timeForm;     // see timeFormName() in column_map.h
    double stampStep_s = 0.0; // step of the clock that stamped the rows
    double separatorConfidence = 1.0, decimalConfidence = 1.0, timeConfidence = 1.0; // 0..1; 1 also where told
    std::vector<ImportColumn> columns;
    std::size_t rows = 0;
    std::vector<RefusedRow> refused; // first 100
    std::size_t refusedCount = 0;
    std::size_t commentLines = 0, emptyLines = 0, headerLines = 0;
};

// A place in the rows where the text itself says or hints that a new session may begin.
struct RowMark {
    enum class Kind { TimeSteppedBack, HeaderRepeated, ColumnsChanged } kind = Kind::HeaderRepeated;
    std::size_t row = 0; // the first row after it; over 0, under the number of rows, rising
};

struct Log {
    std::string file;                // name as given, for messages
    std::vector<double> time;        // s as stamped (wraps undone), may step back where a session restarts
    std::vector<std::uint32_t> line; // physical line of each row, from 1
    std::array<Channel, quantityCount> channels;
    std::vector<RowMark> marks;
    std::vector<std::string> notes; // sentences
    ImportReport report;

    [[nodiscard]] std::size_t rows() const { return time.size(); }
    [[nodiscard]] const Channel& operator[](Quantity q) const { return channels[static_cast<std::size_t>(q)]; }
    [[nodiscard]] Channel& operator[](Quantity q) { return channels[static_cast<std::size_t>(q)]; }
};

} // namespace rw
