#include "storage/program.h"

namespace rw {

std::string programName() { return "runwright " RUNWRIGHT_VERSION; }

} // namespace rw
