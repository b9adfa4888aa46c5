#include "storage/copies.h"

#include "core/system/clock.h"
#include "core/system/disk.h"
#include "storage/files.h"

#include <SQLiteCpp/Backup.h>
#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <thread>

namespace rw {

void copyPages(Connection& from, Connection& to, const GarageOptions& options) {
    using Clock = std::chrono::steady_clock;
    constexpr int pagesAStep = 512;
    // A copy in steps starts over whenever another connection writes (sqlite.org/backup.html): one state is held.
    const Transaction held(from, Transaction::Kind::Read);
    static_cast<void>(from.number("SELECT count(*) FROM sqlite_schema"));
    SQLite::Backup backup(to.database(), from.database());
    Clock::time_point deadline = Clock::now() + options.wait;
    for (;;) {
        from.checkStop();
        const int code = backup.executeStep(pagesAStep);
        if (code == SQLITE_DONE) return;
        if (code == SQLITE_OK) {
            deadline = Clock::now() + options.wait;
            const double total = std::max(backup.getTotalPageCount(), 1);
            if (options.progress) options.progress(1.0 - backup.getRemainingPageCount() / total);
            continue;
        }
        if (Clock::now() >= deadline) throw SQLite::Exception("the file is in use", SQLITE_BUSY);
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
}

namespace {

void fillWithVerifiedCopy(Connection& from, const MakingFile& making, const GarageOptions& options) {
    Connection copy(making.name(), Connection::Mode::Create, options);
    copyPages(from, copy, options);
    copy.run("PRAGMA journal_mode = DELETE");
    if (const auto problems = copy.problems(false); !problems.empty())
        throw GarageError(GarageError::Kind::Damaged,
                          making.name() + ": the copy does not hold together (" + problems.front() + ")");
}

} // namespace

void writeVerifiedCopy(Connection& from, const std::string& to, const GarageOptions& options) {
    if (disk::exists(to)) throw GarageError(GarageError::Kind::Refused, to + ": is already there; choose another name");
    MakingFile making(to);
    fillWithVerifiedCopy(from, making, options);
    making.putInPlace();
}

std::string writeDatedCopy(Connection& from, const std::string& stem, const std::string& ending,
                           const GarageOptions& options) {
    MakingFile making(stem + "new"); // one name for all days: what a killed process left is found the next time
    fillWithVerifiedCopy(from, making, options);
    const std::string stamp = stampForFiles();
    return making.putInPlace([&](int number) { return datedName(stem, stamp, ending, number); });
}

void requireSoundGarage(const std::string& path, const GarageOptions& options) {
    requireGarageHeader(path, Garage::schemaVersion);
    translated(path, [&] {
        Connection copy(path, Connection::Mode::Read, options);
        if (const auto problems = copy.problems(true); !problems.empty())
            throw GarageError(GarageError::Kind::Damaged, path + ": is damaged (" + problems.front() + ")");
    });
}

std::string stampForFiles() {
    std::string stamp = utcNow();
    std::erase(stamp, ':');
    return stamp;
}

std::string datedName(const std::string& stem, const std::string& stamp, const std::string& ending, int number) {
    return stem + stamp + (number > 1 ? "-" + std::to_string(number) : "") + ending;
}

} // namespace rw
