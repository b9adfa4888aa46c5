#include "storage/copies.h"

#include "storage/files.h"
#include "storage/making_file.h"

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

void writeVerifiedCopy(Connection& from, const std::string& to, const GarageOptions& options) {
    if (fileExists(to)) throw GarageError(GarageError::Kind::Refused, to + ": is already there; choose another name");
    MakingFile making(to);
    {
        Connection copy(making.name(), Connection::Mode::Create, options);
        copyPages(from, copy, options);
        copy.run("PRAGMA journal_mode = DELETE");
        if (const auto problems = copy.problems(false); !problems.empty())
            throw GarageError(GarageError::Kind::Damaged,
                              to + ": the copy does not hold together (" + problems.front() + ")");
    }
    making.putInPlace();
}

void requireSoundGarage(const std::string& path, const GarageOptions& options) {
    static_cast<void>(requireGarageHeader(path, Garage::schemaVersion));
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

std::string freeName(const std::string& stem, const std::string& ending) {
    const std::string first = stem + stampForFiles();
    std::string name = first + ending;
    for (int number = 2; fileExists(name); ++number)
        name = first + "-" + std::to_string(number) + ending;
    return name;
}

} // namespace rw
