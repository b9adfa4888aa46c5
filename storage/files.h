// What the garage does to files besides SQLite: look, sync, put in place (core/system/disk.h), with GarageError.
#pragma once

#include "storage/garage_error.h"

#include <string>

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

[[nodiscard]] std::string folderOf(const std::string& path);

void syncFile(const std::string& path); // throws GarageError, as the next do
// Gives a synced file its final name and syncs the folder. False where the name is taken: nothing happened then.
[[nodiscard]] bool putInPlace(const std::string& from, const std::string& to);
void makeFolder(const std::string& path);                      // and syncs the one it lies in
void copyFile(const std::string& from, const std::string& to); // over what is there

[[nodiscard]] GarageError::Kind kindOfFileError(int error); // of an errno

} // namespace rw
