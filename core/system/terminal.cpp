#include "core/system/terminal.h"

#include <unistd.h>

namespace rw {

bool outputIsTerminal() { return ::isatty(STDOUT_FILENO) == 1; }
bool errorsAreTerminal() { return ::isatty(STDERR_FILENO) == 1; }

} // namespace rw
