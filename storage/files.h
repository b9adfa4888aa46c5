// What the garage does to files besides SQLite: look, sync, put in place. POSIX.
#pragma once

#include "storage/garage_error.h"

#include <cstdint>
#include <optional>
#include <string>
#include <utility>

namespace rw {

struct GarageHeader {
    bool sqlite = false; // begins like an SQLite file
    int applicationId = 0, schema = 0;
    bool writeAhead = false; // the file asks for WAL
};
// Reads the file's first hundred bytes and nothing more. Throws GarageError NotFound, NotAGarage (a folder, a device),
// ReadOnly.
[[nodiscard]] GarageHeader readGarageHeader(const std::string& path);
// readGarageHeader and its judgement: throws NotAGarage or Newer.
[[nodiscard]] GarageHeader requireGarageHeader(const std::string& path, int newestSchema);

// Which file a name stands for: device and number. None where there is no such file.
using FileIdentity = std::pair<std::uint64_t, std::uint64_t>;
[[nodiscard]] std::optional<FileIdentity> identityOf(const std::string& path) noexcept;
[[nodiscard]] bool fileExists(const std::string& path);
[[nodiscard]] bool mayWrite(const std::string& path); // file and its folder
[[nodiscard]] std::string folderOf(const std::string& path);

void syncFile(const std::string& path);   // throws GarageError
void syncFolder(const std::string& path); // throws GarageError
// Gives a synced file its final name and syncs the folder. False where the name is taken: nothing happened then.
[[nodiscard]] bool putInPlace(const std::string& from, const std::string& to);
void removeFile(const std::string& path) noexcept;
void makeFolder(const std::string& path);                      // and syncs the one it lies in
void copyFile(const std::string& from, const std::string& to); // over what is there

[[nodiscard]] std::string utcNow();                         // "2026-11-25T15:22:52Z"
[[nodiscard]] GarageError::Kind kindOfFileError(int error); // of an errno

} // namespace rw
