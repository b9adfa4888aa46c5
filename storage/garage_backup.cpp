// Backups, and the way back from them.
#include "core/system/disk.h"
#include "storage/copies.h"
#include "storage/files.h"
#include "storage/garage_impl.h"
#include "storage/schema.h"

#include <algorithm>
#include <filesystem>
#include <functional>
#include <tuple>

namespace rw {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t backupsKept = 10;
constexpr std::string_view ending = ".garage";

std::string folderFor(const std::string& path) { return path + ".backups"; }

// By their names, which begin with the date, newest first; within one second by when they were written, since a number
// behind the date may be given again after its file is gone.
std::vector<BackupInfo> backupsIn(const std::string& folder) {
    struct Aged {
        std::string date;
        fs::file_time_type written; // asked once: another program may take the file away meanwhile
        BackupInfo info;
    };
    std::vector<Aged> found;
    const std::size_t dateLength = stampForFiles().size();
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        const std::string name = entry.path().filename().string();
        if (!name.ends_with(ending) || !entry.is_regular_file(error)) continue;
        const auto size = static_cast<std::int64_t>(entry.file_size(error));
        const fs::file_time_type written = error ? fs::file_time_type() : entry.last_write_time(error);
        if (error) continue;
        found.push_back({name.substr(0, dateLength),
                         written,
                         {entry.path().string(), name.substr(0, name.size() - ending.size()), size}});
    }
    std::ranges::sort(found, std::greater(), [](const Aged& a) { return std::tuple(a.date, a.written, a.info.when); });
    std::vector<BackupInfo> out;
    out.reserve(found.size());
    for (Aged& one : found)
        out.push_back(std::move(one.info));
    return out;
}

bool overADayOld(const BackupInfo& backup) {
    std::error_code error;
    const auto written = fs::last_write_time(backup.path, error);
    return error || fs::file_time_type::clock::now() - written > std::chrono::hours(24);
}

bool changedSince(const std::string& garage, const BackupInfo& backup) {
    std::error_code error;
    return fs::last_write_time(garage, error) > fs::last_write_time(backup.path, error) ||
           disk::exists(garage + "-wal");
}

// Of the progress that the caller gets, the part from `low` to `high`.
GarageOptions stage(GarageOptions options, double low, double high) {
    if (options.progress)
        options.progress = [told = options.progress, low, high](double share) { told(low + share * (high - low)); };
    return options;
}

// The oldest go, by one program at a time: the name of one that is gone may be given to a new one at once, which
// another that still has the old list would take for the old.
void keepTheNewest(const std::string& folder) {
    const auto all = backupsIn(folder);
    for (std::size_t i = backupsKept; i < all.size(); ++i)
        disk::removeFile(all[i].path);
}

std::string datedCopy(Connection& connection, const std::string& folder, const GarageOptions& options) {
    makeFolder(folder);
    std::string name = writeDatedCopy(connection, folder + "/", std::string(ending), options);
    const disk::Lock lock = disk::Lock::onFolder(folder, true);
    keepTheNewest(folder);
    return name;
}

// The damaged garage under a name of its own, with the journals that belong to it: SQLite finds them by name.
std::string movedAside(const std::string& path) {
    const std::string stamp = stampForFiles();
    int number = 1;
    std::string kept = datedName(path + ".damaged-", stamp, "", number);
    while (!putInPlace(path, kept))
        kept = datedName(path + ".damaged-", stamp, "", ++number);
    for (const char* const part : {"-journal", "-wal"})
        if (disk::exists(path + part)) fs::rename(path + part, kept + part);
    return kept;
}

} // namespace

std::string Garage::backupNow() {
    if (impl_->access == Access::Damaged) impl_->requireWritable();
    return translated(impl_->path,
                      [&] { return datedCopy(*impl_->connection, folderFor(impl_->path), impl_->options); });
}

DueBackup Garage::backupIfDue() {
    const auto due = [this] {
        const auto all = backups();
        return all.empty() || (overADayOld(all.front()) && changedSince(impl_->path, all.front()));
    };
    try {
        if (!due()) return {};
        const std::string folder = folderFor(impl_->path);
        makeFolder(folder);
        const disk::Lock lock = disk::Lock::onFolder(folder, false);
        if (!lock.held() || !due()) return {}; // another program makes one, or just made it
        if (impl_->access == Access::Damaged) impl_->requireWritable();
        DueBackup made;
        made.path = translated(impl_->path, [&] {
            return writeDatedCopy(*impl_->connection, folder + "/", std::string(ending), impl_->options);
        });
        keepTheNewest(folder);
        return made;
    } catch (const GarageError& error) {
        return {std::nullopt, error.what()};
    } catch (const fs::filesystem_error& error) {
        return {std::nullopt, folderFor(impl_->path) + ": " + error.code().message()};
    }
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
    impl_->steps = {};
}

std::string restoreGarageFile(const std::string& path, const std::string& from, const GarageOptions& options) {
    requireSoundGarage(from, options);
    MakingFile making(path);
    std::string kept;
    try {
        copyFile(from, making.name());
        requireSoundGarage(making.name(), options);
        if (disk::exists(path)) kept = movedAside(path);
        making.putInPlace();
    } catch (const fs::filesystem_error& error) {
        throw GarageError(GarageError::Kind::Failed, path + ": cannot be moved aside (" + error.code().message() + ")");
    }
    return kept;
}

} // namespace rw
