// Makes whole what was saved by pieces: rows whose owners are lost get stand-ins that say so, references to lost things
// are let go. Private to storage.
#pragma once

#include "storage/connection.h"

#include <string>
#include <vector>

namespace rw {

// All references hold afterwards, and every log has bytes. Returns sentences for what is lost.
std::vector<std::string> repairSalvaged(Connection& to);

} // namespace rw
