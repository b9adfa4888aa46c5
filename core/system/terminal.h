// What stands behind a standard stream.
#pragma once

namespace rw {

[[nodiscard]] bool outputIsTerminal();
[[nodiscard]] bool errorsAreTerminal();

} // namespace rw
