// A file layer for SQLite that fails on purpose: it counts every write, truncation, sync and deletion, and at the n-th
// one cuts the power, kills the process, fails once, or says that the disk is full. After a power cut only what was
// synced is sure; of the rest any part may have reached the disk, torn at sectors.
#pragma once

#include <cstdint>
#include <string>

namespace rw::test {

struct Fault {
    enum class Kind { None, PowerCut, Kill, FailOnce, DiskFull } kind = Kind::None;
    long at = 0;            // the n-th step from now, from 1
    std::uint32_t seed = 1; // which of the unsynced writes survive
};

inline constexpr const char* faultVfs = "runwright-fault";

void registerFaultDisk();      // once; later calls do nothing
void plan(const Fault& fault); // forgets the files seen so far and counts from 0
[[nodiscard]] long stepsSeen();
[[nodiscard]] bool faultHappened();
// After a power cut, with every connection closed: the files as they would be found. No faults from then on.
void losePower();

} // namespace rw::test
