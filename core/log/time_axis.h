// Stamps as they were written → the time axis of a log. README.md 1 "Time" and "Rows".
#pragma once

#include "core/log/column_map.h"
#include "core/log/log.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace rw {

struct SettledTime {
    std::vector<std::uint32_t> removed; // rows whose stamp steps back by up to 1 s, rising
    std::vector<double> stepsBack;      // s, of each of them
    std::vector<RowMark> marks;         // those given and where time steps back by more; rows as before removal
    std::vector<std::string> notes;
};

// Undoes wraps (65.536 s, 2^32 units of unit_s) and midnights of a clock, in place. marks: where headers stand; time
// may restart there. Rows are not removed here.
[[nodiscard]] SettledTime settleTime(std::vector<double>& time, const std::vector<RowMark>& marks, TimeForm form,
                                     double unit_s);

struct SpreadStamps {
    double clockStep = 0.0; // s
    std::size_t equal = 0;  // rows whose stamp equals that of the row before
};
// Equal stamps are spread evenly up to the next one, or over one step of the clock where the next is far or none.
[[nodiscard]] SpreadStamps spreadEqualStamps(std::vector<double>& time, const std::vector<RowMark>& marks);

} // namespace rw
