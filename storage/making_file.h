// A file that is made beside its place under another name and put there when it is whole. It is locked for as long as
// it is made: what a killed process left behind is told by the lock that nobody holds, and taken away.
#pragma once

#include "core/system/disk.h"

#include <functional>
#include <string>

namespace rw {

class MakingFile {
public:
    // An empty file of a name that this object alone uses, "PLACE.making-PROCESS-NUMBER". Throws GarageError.
    explicit MakingFile(const std::string& place);
    ~MakingFile(); // removes it and what SQLite put beside it, unless it is in place
    MakingFile(const MakingFile&) = delete;
    MakingFile& operator=(const MakingFile&) = delete;

    [[nodiscard]] const std::string& name() const { return name_; }
    void putInPlace(); // synced, as the place that was named. Refused where that is taken.
    // Synced, under the first of the names that is free: `name` is asked with 1, 2, … Returns it.
    std::string putInPlace(const std::function<std::string(int)>& name);

private:
    std::string place_, name_;
    disk::Lock lock_;
};

// Removes what killed processes left beside a place: files of exactly such names that no process is making.
void removeAbandoned(const std::string& place) noexcept;

} // namespace rw
