// Files written whole or not at all.
#pragma once

#include <string>
#include <string_view>

namespace rw {

// Writes beside the target, syncs, renames; an interrupt or a full disk leaves the old file or none. A target that is
// no regular file (a pipe, a device) is written to directly. Throws InputError naming the path and the reason.
void writeWholeFile(const std::string& path, std::string_view content);

} // namespace rw
