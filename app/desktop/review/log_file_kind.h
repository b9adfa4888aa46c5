// What a dropped file may be, told by its content before its name.
#pragma once

#include <QString>

namespace rw {

enum class LogFileKind { Log, PerhapsLog, Track, Other };
[[nodiscard]] LogFileKind logFileKind(const QString& path);

} // namespace rw
