// Backups, and the way back from them.
#include "storage/copies.h"
#include "storage/files.h"
#include "storage/garage_impl.h"
#include "storage/making_file.h"
#include "storage/migrate.h"

#include <algorithm>
#include <filesystem>
#include <utility>

namespace rw {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t backupsKept = 10;
constexpr std::string_view ending = ".garage";

std::string folderFor(const std::string& path) { return path + ".backups"; }

// By their names, which begin with the date, newest first; within one second by when they were written, since a number
// behind the date may be given again after its file is gone.
std::vector<BackupInfo> backupsIn(const std::string& folder) {
    std::vector<BackupInfo> out;
    std::error_code error;
    const std::size_t dateLength = stampForFiles().size();
    const auto age = [dateLength](const BackupInfo& backup) {
        std::error_code unknown;
        return std::pair(backup.when.substr(0, dateLength), fs::last_write_time(backup.path, unknown));
    };
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        const std::string name = entry.path().filename().string();
        if (!name.ends_with(ending) || !entry.is_regular_file(error)) continue;
        out.push_back({entry.path().string(), name.substr(0, name.size() - ending.size()),
                       static_cast<std::int64_t>(entry.file_size(error))});
    }
    std::ranges::sort(out, [&age](const BackupInfo& a, const BackupInfo& b) { return age(a) > age(b); });
    return out;
}

bool overADayOld(const BackupInfo& backup) {
    std::error_code error;
    const auto written = fs::last_write_time(backup.path, error);
    return error || fs::file_time_type::clock::now() - written > std::chrono::hours(24);
}

bool changedSince(const std::string& garage, const BackupInfo& backup) {
    std::error_code error;
    return fs::last_write_time(garage, error) > fs::last_write_time(backup.path, error) || fileExists(garage + "-wal");
}

// Of the progress that the caller gets, the part from `low` to `high`.
GarageOptions stage(GarageOptions options, double low, double high) {
    if (options.progress)
        options.progress = [told = options.progress, low, high](double share) { told(low + share * (high - low)); };
    return options;
}

std::string datedCopy(Connection& connection, const std::string& folder, const GarageOptions& options) {
    makeFolder(folder);
    std::string name = freeName(folder + "/", std::string(ending));
    writeVerifiedCopy(connection, name, options);
    const auto all = backupsIn(folder);
    for (std::size_t i = backupsKept; i < all.size(); ++i)
        removeFile(all[i].path);
    return name;
}

} // namespace

std::string Garage::backupNow() {
    if (impl_->access == Access::Damaged) impl_->requireWritable();
    return translated(impl_->path,
                      [&] { return datedCopy(*impl_->connection, folderFor(impl_->path), impl_->options); });
}

std::optional<std::string> Garage::backupIfDue() {
    const auto all = backups();
    if (!all.empty() && (!overADayOld(all.front()) || !changedSince(impl_->path, all.front()))) return std::nullopt;
    return backupNow();
}

std::vector<BackupInfo> Garage::backups() const { return backupsIn(folderFor(impl_->path)); }

void Garage::backupTo(const std::string& copy) {
    translated(impl_->path, [&] { writeVerifiedCopy(*impl_->connection, copy, impl_->options); });
}

void Garage::restore(const std::string& from) {
    impl_->requireWritable();
    requireSoundGarage(from, impl_->options);
    translated(impl_->path, [&] {
        datedCopy(*impl_->connection, folderFor(impl_->path), stage(impl_->options, 0.0, 0.5));
        Connection source(from, Connection::Mode::Read, impl_->options);
        copyPages(source, *impl_->connection, stage(impl_->options, 0.5, 1.0));
        impl_->connection->finishAnyway();
        impl_->connection->beginWriting();
        migrate(*impl_->connection, schemaVersion);
    });
    ++impl_->ownChanges;
    impl_->steps.clear();
}

std::string restoreGarageFile(const std::string& path, const std::string& from, const GarageOptions& options) {
    requireSoundGarage(from, options);
    MakingFile making(path);
    std::string kept;
    try {
        copyFile(from, making.name());
        requireSoundGarage(making.name(), options);
        if (fileExists(path)) {
            kept = freeName(path + ".damaged-", "");
            for (const char* const part : {"-journal", "-wal"}) // they belong to it: SQLite finds them by name
                if (fileExists(path + part)) fs::rename(path + part, kept + part);
            putInPlace(path, kept);
        }
        making.putInPlace();
    } catch (const fs::filesystem_error& error) {
        throw GarageError(GarageError::Kind::Failed, path + ": cannot be moved aside (" + error.code().message() + ")");
    }
    return kept;
}

} // namespace rw
