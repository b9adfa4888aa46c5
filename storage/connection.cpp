#include "storage/connection.h"

#include "core/stopped.h"
#include "core/system/clock.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <stdexcept>
#include <string_view>
#include <thread>

namespace rw {

namespace {

// One thread at a time uses a garage: without SQLite's own lock, taken for every value read, lists come a quarter
// sooner.
int openFlags(Connection::Mode mode) {
    const int access = mode == Connection::Mode::Read ? SQLite::OPEN_READONLY : SQLite::OPEN_READWRITE;
    return access | SQLite::OPEN_NOMUTEX | (mode == Connection::Mode::Create ? SQLite::OPEN_CREATE : 0);
}

void configure(SQLite::Database& database, int option, int value) {
    database.check(sqlite3_db_config(database.getHandle(), option, value, nullptr));
}

// Advice of sqlite.org/security.html for files that may come from strangers; the garage has neither triggers nor views.
void harden(SQLite::Database& database) {
    configure(database, SQLITE_DBCONFIG_DEFENSIVE, 1);
    configure(database, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1); // until the file is known to be sound
    for (const int off : {SQLITE_DBCONFIG_TRUSTED_SCHEMA, SQLITE_DBCONFIG_ENABLE_TRIGGER, SQLITE_DBCONFIG_ENABLE_VIEW,
                          SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, SQLITE_DBCONFIG_DQS_DML, SQLITE_DBCONFIG_DQS_DDL})
        configure(database, off, 0);
    constexpr std::array limits{
        std::pair{SQLITE_LIMIT_LENGTH, 950'000'000}, // a little over largestPackedLog
        std::pair{SQLITE_LIMIT_SQL_LENGTH, 100'000},      std::pair{SQLITE_LIMIT_COLUMN, 100},
        std::pair{SQLITE_LIMIT_EXPR_DEPTH, 100},          std::pair{SQLITE_LIMIT_COMPOUND_SELECT, 20},
        std::pair{SQLITE_LIMIT_FUNCTION_ARG, 10},         std::pair{SQLITE_LIMIT_ATTACHED, 0},
        std::pair{SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 100}, std::pair{SQLITE_LIMIT_VARIABLE_NUMBER, 100},
        std::pair{SQLITE_LIMIT_TRIGGER_DEPTH, 1},         std::pair{SQLITE_LIMIT_WORKER_THREADS, 0}};
    for (const auto& [limit, value] : limits)
        sqlite3_limit(database.getHandle(), limit, value);
    database.exec("PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA temp_store = MEMORY");
}

// SQLite's own waiting cannot be stopped. `tries`: how often it was asked for this lock.
int waitOrStop(void* own, int tries) {
    constexpr std::chrono::milliseconds pause{10};
    const GarageOptions& options = *static_cast<const GarageOptions*>(own);
    if (options.stop.stop_requested() || tries * pause >= options.wait) return 0;
    std::this_thread::sleep_for(pause);
    return 1;
}

// SQLite's own words, which may quote what stands in the file: up to the first line break, and no more than a sentence.
std::string sentenceOf(std::string_view words) {
    constexpr std::size_t longest = 160;
    constexpr std::string_view heading = "*** in database main ***\n"; // of its integrity check
    if (words.starts_with(heading)) words.remove_prefix(heading.size());
    std::size_t end = 0;
    while (end < std::min(words.size(), longest) && static_cast<unsigned char>(words[end]) >= 0x20)
        ++end;
    if (end == words.size()) return std::string(words);
    while (end > 0 && (static_cast<unsigned char>(words[end]) & 0xC0U) == 0x80U) // no half characters
        --end;
    return std::string(words.substr(0, end)) + "…";
}

std::string journalText(bool ahead, std::string_view level) {
    return std::string(ahead ? "write-ahead log" : "rollback journal") + ", synchronous " + std::string(level) +
           " (SQLite " + sqlite3_libversion() + (writeAheadIsSafe(sqlite3_libversion_number()) ? " has" : " lacks") +
           " the fix for the WAL-reset fault)";
}

bool writeAhead(const GarageOptions& options) {
    using Journal = GarageOptions::Journal;
    return options.journal == Journal::ByLibrary ? writeAheadIsSafe(sqlite3_libversion_number())
                                                 : options.journal == Journal::WriteAhead;
}

} // namespace

bool writeAheadIsSafe(int libraryVersion) {
    const int series = libraryVersion / 1000;
    if (series == 3044) return libraryVersion >= 3044006;
    if (series == 3050) return libraryVersion >= 3050007;
    return libraryVersion >= 3051003;
}

std::string journalChoice() {
    return writeAheadIsSafe(sqlite3_libversion_number()) ? journalText(true, "FULL") : journalText(false, "EXTRA");
}

Connection::Connection(const std::string& path, Mode mode, const GarageOptions& options)
    : path_(path)
    , options_(options)
    , database_(path, openFlags(mode), static_cast<int>(options.wait.count()), options.vfs) {
    harden(database_);
    if (!options_.stop.stop_possible()) return;
    constexpr int stepsBetweenLooks = 4000; // of SQLite's virtual machine: well under a millisecond
    sqlite3_progress_handler(
        database_.getHandle(), stepsBetweenLooks,
        [](void* own) { return static_cast<const GarageOptions*>(own)->stop.stop_requested() ? 1 : 0; }, &options_);
    waitForOthers();
    run("PRAGMA cache_spill = OFF"); // others may read until the moment of the commit
}

void Connection::waitForOthers() {
    if (options_.stop.stop_possible())
        sqlite3_busy_handler(database_.getHandle(), waitOrStop, &options_);
    else
        sqlite3_busy_timeout(database_.getHandle(), static_cast<int>(options_.wait.count()));
}

void Connection::checkStop() const { throwIfStopped(options_.stop); }

void Connection::finishAnyway() {
    sqlite3_progress_handler(database_.getHandle(), 0, nullptr, nullptr);
    options_.stop = {};
}

std::int64_t Connection::numberAtOnce(std::string_view sql) {
    sqlite3_busy_timeout(database_.getHandle(), 0);
    try {
        const std::int64_t out = number(sql);
        waitForOthers();
        return out;
    } catch (...) {
        waitForOthers();
        throw;
    }
}

std::vector<std::string> Connection::problems(bool full) {
    std::vector<std::string> out;
    const auto note = [&out](std::string sentence) {
        if (out.size() < 20) out.push_back(std::move(sentence));
    };
    try {
        SQLite::Statement check(database_, full ? "PRAGMA integrity_check(20)" : "PRAGMA quick_check(20)");
        while (check.executeStep())
            if (const std::string line = check.getColumn(0).getString(); line != "ok") note(sentenceOf(line));
        if (full && out.empty()) {
            SQLite::Statement references(database_, "PRAGMA foreign_key_check");
            while (references.executeStep())
                note("a row of " + references.getColumn(0).getString() + " refers to a missing " +
                     references.getColumn(2).getString());
        }
    } catch (const SQLite::Exception& error) {
        if (error.getErrorCode() != SQLITE_CORRUPT && error.getErrorCode() != SQLITE_NOTADB &&
            error.getErrorCode() != SQLITE_ERROR)
            throw;
        note(sentenceOf(error.what()));
    }
    return out;
}

bool Connection::takeJournal(bool ahead) {
    try {
        SQLite::Statement journal(database_, ahead ? "PRAGMA journal_mode = WAL" : "PRAGMA journal_mode = DELETE");
        journal.executeStep();
        return journal.getColumn(0).getString() == (ahead ? "wal" : "delete");
    } catch (const SQLite::Exception& error) {
        if (error.getErrorCode() != SQLITE_BUSY && error.getErrorCode() != SQLITE_LOCKED) throw;
        return false;
    }
}

void Connection::beginWriting() {
    configure(database_, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0);
    run("PRAGMA foreign_keys = ON");
    const bool ahead = writeAhead(options_);
    // Another connection may hold the file in the other mode, or be opening it too, and SQLite does not wait by itself
    // for this change: better wait than write in a mode that is not safe here.
    const auto until = std::chrono::steady_clock::now() + options_.wait;
    while (!takeJournal(ahead)) {
        checkStop();
        if (std::chrono::steady_clock::now() >= until)
            throw GarageError(GarageError::Kind::Busy,
                              path_ + ": another program holds the garage; close it there or try again");
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    run(ahead ? "PRAGMA synchronous = FULL; PRAGMA journal_size_limit = 4194304" : "PRAGMA synchronous = EXTRA");
    run("PRAGMA fullfsync = ON; PRAGMA checkpoint_fullfsync = ON"); // macOS alone knows a difference
}

std::string Connection::now() const { return options_.now ? options_.now() : utcNow(); }

std::string Connection::journalInWords() {
    const std::string mode = database_.execAndGet("PRAGMA journal_mode").getString();
    constexpr std::array<std::string_view, 4> levels{"OFF", "NORMAL", "FULL", "EXTRA"};
    const auto level = static_cast<std::size_t>(number("PRAGMA synchronous"));
    return journalText(mode == "wal", level < levels.size() ? levels[level] : "?");
}

Connection::Prepared& Connection::prepared(std::string_view sql) {
    std::string key(sql);
    auto found = prepared_.find(key);
    if (found == prepared_.end()) {
        auto made = std::make_unique<Prepared>(Prepared{SQLite::Statement(database_, key), false});
        found = prepared_.emplace(std::move(key), std::move(made)).first;
    }
    if (found->second->lent) throw std::logic_error("a statement is used within itself");
    return *found->second;
}

Transaction::~Transaction() {
    if (!done_ && sqlite3_get_autocommit(connection_.database().getHandle()) == 0)
        connection_.database().tryExec("ROLLBACK");
}

void throwAsGarageError(const SQLite::Exception& error, const std::string& path) {
    using Kind = GarageError::Kind;
    switch (error.getErrorCode()) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        throw GarageError(Kind::Busy,
                          path + ": another window or program is using the garage; nothing was changed, try again");
    case SQLITE_INTERRUPT:
        throw Stopped{};
    case SQLITE_FULL:
        throw GarageError(Kind::Full, path + ": the disk is full; nothing was changed, make room and try again");
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
        throw GarageError(Kind::ReadOnly, path + ": the file or its folder may not be written to; nothing was changed");
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        throw GarageError(Kind::Damaged, path + ": the file is damaged (" + sentenceOf(error.what()) +
                                             "); save what can be read with salvage, or restore a backup");
    case SQLITE_CONSTRAINT:
        throw GarageError(Kind::Refused, path + ": something else refers to this; nothing was changed");
    case SQLITE_TOOBIG:
        throw GarageError(Kind::Refused, path + ": this is too large for the garage; nothing was changed");
    case SQLITE_NOMEM:
        throw std::bad_alloc();
    default:
        throw GarageError(Kind::Failed, path + ": " + sentenceOf(error.what()) + "; nothing was changed");
    }
}

} // namespace rw
