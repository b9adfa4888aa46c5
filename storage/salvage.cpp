// What can be read of a damaged garage. Works on a copy, row by row; rows whose references are lost are left behind.
#include "core/error.h"
#include "storage/copies.h"
#include "storage/files.h"
#include "storage/garage_impl.h"
#include "storage/log_store.h"
#include "storage/making_file.h"

#include <sqlite3.h>

#include <array>
#include <filesystem>
#include <set>

namespace rw {

namespace {

// Owners before owned.
constexpr std::array tables{"counter",      "item", "item_value", "setup",      "outing",  "outing_setup",
                            "outing_photo", "log",  "log_bytes",  "log_review", "session", "pass",
                            "pass_figures", "plan", "fit",        "fit_pass"};

class Salvage {
public:
    Salvage(Connection& from, Connection& to)
        : from_(from)
        , to_(to) {}
    void takeTable(const std::string& table);
    void dropOrphans();
    void checkBytes();
    [[nodiscard]] std::vector<std::string> lost() { return std::move(lost_); }

private:
    [[nodiscard]] std::vector<std::string> columnsOf(const std::string& table);
    bool takeRows(const std::string& select, SQLite::Statement& insert, std::int64_t& lastKey);
    void takeRow(SQLite::Statement& row, SQLite::Statement& insert);

    Connection& from_;
    Connection& to_;
    std::vector<std::string> lost_;
};

std::vector<std::string> Salvage::columnsOf(const std::string& table) {
    SQLite::Statement info(to_.database(), "SELECT name FROM pragma_table_info(?)");
    info.bind(1, table);
    std::vector<std::string> out;
    while (info.executeStep())
        out.push_back(info.getColumn(0).getString());
    return out;
}

void Salvage::takeRow(SQLite::Statement& row, SQLite::Statement& insert) {
    insert.tryReset();
    for (int i = 0; i < row.getColumnCount(); ++i) {
        const SQLite::Column value = row.getColumn(i);
        if (value.isInteger())
            insert.bind(i + 1, value.getInt64());
        else if (value.isFloat())
            insert.bind(i + 1, value.getDouble());
        else if (value.isText())
            insert.bind(i + 1, value.getString());
        else if (value.isBlob())
            insert.bind(i + 1, value.getBlob(), value.getBytes());
        else
            insert.bind(i + 1);
    }
    static_cast<void>(insert.tryExecuteStep()); // a row of the wrong shape, or there twice, is lost
}

// False where the reading broke off.
bool Salvage::takeRows(const std::string& select, SQLite::Statement& insert, std::int64_t& lastKey) {
    try {
        SQLite::Statement row(from_.database(), select);
        while (row.executeStep()) {
            lastKey = row.getColumn(0).getInt64();
            takeRow(row, insert);
        }
        return true;
    } catch (const SQLite::Exception&) {
        return false;
    }
}

void Salvage::takeTable(const std::string& table) {
    std::string names, marks;
    const std::vector<std::string> columns = columnsOf(table);
    for (const std::string& column : columns) {
        names += (names.empty() ? "\"" : ", \"") + column + "\"";
        marks += marks.empty() ? "?" : ", ?";
    }
    SQLite::Statement insert(to_.database(),
                             "INSERT OR IGNORE INTO " + table + " (" + names + ") VALUES (" + marks + ")");
    const std::string select = "SELECT " + names + " FROM " + table + " NOT INDEXED ORDER BY 1";
    std::int64_t first = 0;
    std::int64_t last = 0;
    if (takeRows(select, insert, first)) return;
    takeRows(select + " DESC", insert, last);
    // Between the two ends where reading broke off, each row by itself.
    for (std::int64_t key = first + 1; key < last && last - first < 1'000'000; ++key) {
        std::int64_t ignored = 0;
        takeRows("SELECT " + names + " FROM " + table + " NOT INDEXED WHERE \"" + columns.front() +
                     "\" = " + std::to_string(key),
                 insert, ignored);
    }
    lost_.push_back("some of " + table + " could not be read");
}

// Rows that refer to lost ones go, until all that is left holds together.
void Salvage::dropOrphans() {
    std::size_t dropped = 0;
    for (;;) {
        std::set<std::pair<std::string, std::int64_t>> rows;
        std::set<std::string> keyed; // WITHOUT ROWID: the check names no row
        SQLite::Statement check(to_.database(), "PRAGMA foreign_key_check");
        while (check.executeStep()) {
            if (check.getColumn(1).isNull())
                keyed.insert(check.getColumn(0).getString());
            else
                rows.emplace(check.getColumn(0).getString(), check.getColumn(1).getInt64());
        }
        if (rows.empty() && keyed.empty()) break;
        for (const auto& [table, row] : rows)
            to_.run(("DELETE FROM " + table + " WHERE rowid = " + std::to_string(row)).c_str());
        if (keyed.contains("item_value")) to_.run("DELETE FROM item_value WHERE item NOT IN (SELECT id FROM item)");
        if (keyed.contains("outing_photo"))
            to_.run("DELETE FROM outing_photo WHERE outing NOT IN (SELECT item FROM outing)");
        if (keyed.contains("outing_setup"))
            to_.run("DELETE FROM outing_setup WHERE outing NOT IN (SELECT item FROM outing) OR setup NOT IN (SELECT "
                    "item FROM setup)");
        if (keyed.contains("fit_pass"))
            to_.run(
                "DELETE FROM fit_pass WHERE fit NOT IN (SELECT item FROM fit) OR pass NOT IN (SELECT id FROM pass)");
        dropped += rows.size() + keyed.size();
    }
    // Items of which only the head is left, and logs without bytes.
    to_.run("DELETE FROM item_value WHERE item IN (SELECT id FROM item WHERE kind = 'setup' AND id NOT IN (SELECT item "
            "FROM setup))");
    for (const char* const kind : {"setup", "outing", "log", "plan", "fit"})
        to_.run(
            ("DELETE FROM item WHERE kind = '" + std::string(kind) + "' AND id NOT IN (SELECT item FROM " + kind + ")")
                .c_str());
    to_.run("DELETE FROM item_value WHERE item NOT IN (SELECT id FROM item)");
    to_.run(
        "INSERT OR IGNORE INTO pass_figures (pass, json) SELECT id, '{}' FROM pass"); // a pass whose figures are lost
    if (dropped > 0) lost_.push_back(std::to_string(dropped) + " rows referred to lost ones and were left behind");
}

void Salvage::checkBytes() {
    for (const StoredLog& log : store::logs(to_, {}, true)) {
        try {
            static_cast<void>(store::unpackedLog(store::packedLog(to_, log.id), log.id));
            static_cast<void>(store::logReview(to_, log.id));
        } catch (const GarageError& error) {
            lost_.emplace_back(error.what());
        }
    }
}

// The copy, with the journal that belongs to it: SQLite may have to roll it back first.
std::string copyOf(const std::string& path, const std::string& to) {
    copyFile(path, to);
    for (const char* const part : {"-journal", "-wal"})
        if (fileExists(path + part)) copyFile(path + part, to + part);
    return to;
}

void salvageInto(const std::string& copy, Garage& made, Connection& to, SalvageReport& report) {
    Connection from(copy, Connection::Mode::Write, {});
    to.run("PRAGMA foreign_keys = OFF");
    {
        Transaction transaction(to, Transaction::Kind::Write);
        Salvage salvage(from, to);
        for (const char* const table : tables)
            salvage.takeTable(table);
        salvage.dropOrphans();
        salvage.checkBytes();
        // Numbers go on after the highest that is left, should the counters be lost.
        to.run("INSERT INTO counter (kind, last) SELECT kind, max(number) FROM item GROUP BY kind UNION ALL SELECT "
               "'change',"
               " coalesce(max(version), 0) FROM item WHERE true"
               " ON CONFLICT (kind) DO UPDATE SET last = max(last, excluded.last)");
        store::reindexAll(to);
        transaction.commit();
        report.lost = salvage.lost();
    }
    for (const ItemKind kind : allKinds())
        if (const std::int64_t count = made.count(kind, true); count > 0)
            report.saved[std::string(kindPlural(kind))] = count;
}

} // namespace

SalvageReport salvageGarage(const std::string& path, const std::string& newPath) {
    if (fileExists(newPath))
        throw GarageError(GarageError::Kind::Refused, newPath + ": is already there; choose another name");
    static_cast<void>(readGarageHeader(path));
    const MakingFile copy(newPath); // is never put in place
    SalvageReport report;
    copyOf(path, copy.name());
    Garage::create(newPath, {}, [&](Garage& made) {
        translated(path, [&] { salvageInto(copy.name(), made, *made.impl_->connection, report); });
        if (report.saved.empty()) throw GarageError(GarageError::Kind::Damaged, path + ": nothing in it could be read");
    });
    return report;
}

} // namespace rw
