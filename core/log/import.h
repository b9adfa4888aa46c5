// Bytes of a delimited text log → Log. README.md 1: encoding, dialect, header, time, columns, rows.
// Everything is detected and may be overruled; every line of the text is accounted for in Log::report.
//
// Limits, checked before memory is taken: 2 GB, 1 MB a line, 500 columns.
// Memory: the kept columns and a few megabytes; a UTF-16 text is held once more as UTF-8 while it is read.
// Cost: linear in the bytes, spread over the threads.
#pragma once

#include "core/log/column_map.h"
#include "core/log/log.h"

#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>

namespace rw {

struct ImportOptions {
    std::optional<double> rate_Hz; // rows a second; overrules a time column
    std::optional<int> polePairs;  // for columns in electrical rpm; without it they are not used
    std::optional<ColumnMap> map;  // of the owner; the options here win over what the map says
    TextOverrides text;
    unsigned threads = 0; // 0: as many as the machine has
};

// Called on the calling thread with the share done, 0..1, at most some hundred times.
using ImportProgress = std::function<void(double)>;

// Throws InputError (file, line) where the file as a whole is refused; ImportRefusal (import_refusal.h) where a map of
// its columns, or a rate, is all that is missing. fileName is for messages only.
// Throws Stopped too.
[[nodiscard]] Log importLog(std::string_view bytes, const std::string& fileName, const ImportOptions& options = {},
                            std::stop_token stop = {}, const ImportProgress& progress = {});
// Regular files are mapped; "-" is standard input. Folders, devices and what cannot be read: InputError.
// A pipe is read to its end, up to 64 MB.
[[nodiscard]] Log importLogFile(const std::string& path, const ImportOptions& options = {}, std::stop_token stop = {},
                                const ImportProgress& progress = {});

} // namespace rw
