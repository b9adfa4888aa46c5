// Making, opening and checking a garage file.
#include "core/system/disk.h"
#include "storage/copies.h"
#include "storage/files.h"
#include "storage/garage_impl.h"
#include "storage/log_store.h"
#include "storage/schema.h"

#include <filesystem>

namespace rw {

namespace {

// SQLite's journal beside the file must not depend on the working folder of later calls.
std::string absolute(const std::string& path) {
    if (path.empty()) throw GarageError(GarageError::Kind::NotFound, "no file was named");
    return std::filesystem::absolute(path).string();
}

// SQLite reads a last page that is only partly there as if zeros followed. (With a write-ahead log the file may be
// behind.)
bool endIsMissing(Connection& connection) {
    const auto size = static_cast<std::int64_t>(std::filesystem::file_size(connection.path()));
    return !disk::exists(connection.path() + "-wal") && size % connection.number("PRAGMA page_size") != 0;
}

// What opening must see before any other statement: kind, version, soundness (sqlite.org/security.html).
std::vector<std::string> look(Connection& connection, int& schema) {
    std::vector<std::string> problems = connection.problems(false);
    if (problems.empty() && endIsMissing(connection)) problems.emplace_back("the file's end is missing");
    if (!problems.empty()) return problems;
    schema = static_cast<int>(connection.number("PRAGMA user_version"));
    if (schema > Garage::schemaVersion)
        throw GarageError(GarageError::Kind::Newer,
                          connection.path() + ": was made by a newer version; it was left untouched");
    return problems;
}

void migrateWithBackup(Connection& connection, const GarageOptions& options) {
    const std::string stem = connection.path() + ".before-version-" + std::to_string(Garage::schemaVersion) + "-";
    static_cast<void>(writeDatedCopy(connection, stem, ".garage", options));
    migrate(connection, Garage::schemaVersion);
}

void checkLogs(Connection& connection, std::vector<std::string>& problems) {
    for (const StoredLog& log : store::logs(connection, {}, true)) {
        try {
            static_cast<void>(store::unpackedLog(store::packedLog(connection, log.id), log.id));
            static_cast<void>(store::logReview(connection, log.id));
        } catch (const GarageError& error) {
            problems.emplace_back(error.what());
        }
        if (problems.size() >= 20) return;
    }
}

// Writes nothing: the search table's own check is a statement that has to be rolled back.
void checkSearch(Connection& connection, std::vector<std::string>& problems) {
    try {
        Transaction transaction(connection, Transaction::Kind::Write);
        connection.run("INSERT INTO search (search) VALUES ('integrity-check')");
    } catch (const SQLite::Exception& error) {
        problems.push_back(std::string("the search index does not hold together (") + error.what() + ")");
    }
}

constexpr int searchVersion = 2; // the step that makes the search table, empty

} // namespace

void migrate(Connection& connection, int target) {
    Transaction transaction(connection, Transaction::Kind::Write);
    const auto before =
        static_cast<int>(connection.number("PRAGMA user_version")); // again: another program may have been first
    for (const SchemaStep& step : schemaSteps()) {
        if (step.version <= before || step.version > target) continue;
        connection.run(std::string(step.sql));
        if (step.version == searchVersion) store::reindexAll(connection);
    }
    if (before < target) connection.run("PRAGMA user_version = " + std::to_string(target));
    if (before == 0) connection.run("PRAGMA application_id = " + std::to_string(garageApplicationId));
    transaction.commit();
}

Garage Garage::create(const std::string& path, const GarageOptions& options, const std::function<void(Garage&)>& fill) {
    const std::string place = absolute(path);
    if (disk::exists(place))
        throw GarageError(GarageError::Kind::Refused, path + ": is already there; choose another name or open it");
    {
        MakingFile making(place);
        auto impl = std::make_unique<Impl>();
        impl->path = making.name();
        impl->options = options;
        translated(path, [&] {
            impl->connection = std::make_unique<Connection>(making.name(), Connection::Mode::Create, options);
            impl->connection->run("PRAGMA synchronous = OFF"); // nobody relies yet on a file that is being made
            migrate(*impl->connection, schemaVersion);
            impl->connection->run("PRAGMA foreign_keys = ON");
        });
        Garage made(std::move(impl));
        if (fill) fill(made);
        made.impl_.reset();
        making.putInPlace();
    }
    return open(path, options);
}

Garage Garage::open(const std::string& path, const GarageOptions& options) {
    auto impl = std::make_unique<Impl>();
    impl->path = absolute(path);
    impl->options = options;
    requireGarageHeader(impl->path, schemaVersion);
    const bool writable = !options.readOnly && disk::mayWrite(impl->path) && disk::mayWrite(folderOf(impl->path));
    impl->access = writable ? Access::ReadWrite : Access::ReadOnly;
    if (writable) removeAbandoned(impl->path);
    int schema = 0;
    impl->opened = disk::identityOf(impl->path);
    translated(path, [&] {
        impl->connection = std::make_unique<Connection>(
            impl->path, writable ? Connection::Mode::Write : Connection::Mode::Read, options);
        impl->problems = look(*impl->connection, schema);
        if (!impl->problems.empty()) {
            impl->access = Access::Damaged;
            if (writable) impl->connection = std::make_unique<Connection>(impl->path, Connection::Mode::Read, options);
            schema = static_cast<int>(impl->connection->number("PRAGMA user_version"));
        }
        if (impl->access == Access::ReadWrite) {
            impl->connection->beginWriting();
            if (schema < schemaVersion) migrateWithBackup(*impl->connection, options);
        } else if (schema < schemaVersion) {
            const bool damaged = impl->access == Access::Damaged;
            throw GarageError(
                damaged ? GarageError::Kind::Damaged : GarageError::Kind::ReadOnly,
                path +
                    (damaged
                         ? ": is damaged and of an older version; save what can be read with salvage"
                         : ": is of an older version and may not be written to, so it cannot be brought up to date"));
        }
    });
    return Garage(std::move(impl));
}

GarageCheck Garage::check(bool full) {
    return translated(impl_->path, [&] {
        GarageCheck out;
        Connection& connection = *impl_->connection;
        out.problems = connection.problems(full);
        out.schema = static_cast<int>(connection.number("PRAGMA user_version"));
        out.journal = connection.journalInWords();
        try {
            for (const ItemKind kind : allKinds())
                out.counts[std::string(kindPlural(kind))] = store::count(connection, kind, true);
            if (full) checkLogs(connection, out.problems);
            if (full && impl_->access == Access::ReadWrite) checkSearch(connection, out.problems);
        } catch (const SQLite::Exception& error) {
            out.problems.emplace_back(error.what());
        }
        out.ok = out.problems.empty();
        return out;
    });
}

} // namespace rw
