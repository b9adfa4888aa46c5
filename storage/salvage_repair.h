// Makes whole what was saved by pieces: rows whose owners are lost get stand-ins that say so, references to lost things
// are let go. Private to storage.
#pragma once

#include "storage/connection.h"

#include <string>
#include <vector>

namespace rw {

class SalvageRepair {
public:
    explicit SalvageRepair(Connection& to)
        : to_(to) {}
    void mend();                                                                 // all references hold afterwards
    void checkBytes();                                                           // every log's bytes, review and track
    [[nodiscard]] const std::vector<std::string>& lost() const { return lost_; } // sentences

private:
    void standInItems();
    void standInLogs();
    void standInSetups();
    void letGo();
    void dropOrphans();
    std::int64_t standIn(const std::string& kind, std::int64_t row);

    Connection& to_;
    std::vector<std::string> lost_;
    std::int64_t stoodIn_ = 0;
};

} // namespace rw
