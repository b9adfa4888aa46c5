// What can be read of a damaged garage. Works on a copy: each table through SQLite for as long as that goes, then every
// page by itself. What refers to lost rows is mended in salvage_repair.cpp.
#include "core/error.h"
#include "core/system/disk.h"
#include "core/system/input_file.h"
#include "storage/copies.h"
#include "storage/files.h"
#include "storage/garage_impl.h"
#include "storage/salvage_rows.h"
#include "storage/schema.h"

#include <sqlite3.h>

#include <limits>
#include <set>

namespace rw {

namespace {

void bind(SQLite::Statement& insert, int place, const RawValue& value) {
    std::visit(
        [&]<class Held>(const Held& held) {
            if constexpr (std::is_same_v<Held, std::monostate>)
                insert.bind(place);
            else if constexpr (std::is_same_v<Held, RawBlob>)
                insert.bind(place, held.bytes.data(), static_cast<int>(held.bytes.size()));
            else
                insert.bind(place, held);
        },
        value);
}

// A table of the new garage that takes rows; one that is there already, or of the wrong shape, is passed over.
class Taker {
public:
    Taker(Connection& to, const std::string& table)
        : shape_(shapeOf(to, table))
        , insert_(to.database(), insertSql(shape_)) {}
    void take(const std::vector<RawValue>& row) {
        insert_.tryReset();
        for (std::size_t i = 0; i < row.size(); ++i)
            bind(insert_, static_cast<int>(i) + 1, row[i]);
        static_cast<void>(insert_.tryExecuteStep());
    }
    [[nodiscard]] const TableShape& shape() const { return shape_; }

private:
    static std::string insertSql(const TableShape& shape) {
        std::string names, marks;
        for (const TableShape::Column& column : shape.columns) {
            names += (names.empty() ? "\"" : ", \"") + column.name + "\"";
            marks += marks.empty() ? "?" : ", ?";
        }
        return "INSERT OR IGNORE INTO " + shape.name + " (" + names + ") VALUES (" + marks + ")";
    }
    TableShape shape_;
    SQLite::Statement insert_;
};

RawValue valueOf(const SQLite::Column& value) {
    if (value.isInteger()) return value.getInt64();
    if (value.isFloat()) return value.getDouble();
    if (value.isText()) return value.getString();
    if (value.isBlob())
        return RawBlob{
            std::string(static_cast<const char*>(value.getBlob()), static_cast<std::size_t>(value.getBytes()))};
    return {};
}

// The columns of a table as the damaged file has them: one of an earlier version lacks some.
std::set<std::string> columnsIn(Connection& from, const std::string& table) {
    std::set<std::string> out;
    for (Query info(from, "SELECT name FROM pragma_table_info(?)", table); info.step();)
        out.insert(info.text(0));
    return out;
}

// Row by row from the beginning. False where the reading broke off.
bool takeThroughTree(Connection& from, Taker& taker) {
    try {
        const TableShape& shape = taker.shape();
        const std::set<std::string> there = columnsIn(from, shape.name);
        if (there.empty()) return !columnsIn(from, "item").empty(); // a table that came with a later version
        std::string names;
        for (const TableShape::Column& column : shape.columns)
            names += (names.empty() ? "" : ", ") + (there.contains(column.name)
                                                        ? "\"" + column.name + "\""
                                                        : std::string(column.hasDefault ? "''" : "NULL"));
        SQLite::Statement row(from.database(), "SELECT " + names + " FROM " + shape.name + " NOT INDEXED");
        while (row.executeStep()) {
            std::vector<RawValue> values;
            values.reserve(shape.columns.size());
            for (int i = 0; i < row.getColumnCount(); ++i)
                values.push_back(valueOf(row.getColumn(i)));
            taker.take(values);
        }
        return true;
    } catch (const SQLite::Exception&) {
        return false;
    }
}

KindsByRow kindsOf(Connection& to) {
    KindsByRow out;
    for (Query all(to, "SELECT id, kind FROM item"); all.step();)
        out.emplace(all.whole(0), all.text(1));
    return out;
}

// The rows of one page go to the first table that they look like.
void takePage(const RawPage& page, const std::vector<std::unique_ptr<Taker>>& takers, const KindsByRow& kinds) {
    for (const auto& taker : takers) {
        std::vector<std::vector<RawValue>> rows;
        for (const RawRecord& record : page.records)
            if (auto row = rowOfShape(taker->shape(), page, record)) rows.push_back(std::move(*row));
        if (rows.empty() || !belongs(taker->shape().name, rows, kinds)) continue;
        for (const auto& row : rows)
            taker->take(row);
        return;
    }
}

// Rows of the tables whose reading broke off, from every page that looks like one of theirs.
void sweepPages(const RawFile& file, Connection& to, const std::vector<std::string>& names) {
    std::vector<std::unique_ptr<Taker>> takers;
    takers.reserve(names.size());
    for (const std::string& name : names)
        takers.push_back(std::make_unique<Taker>(to, name));
    const KindsByRow kinds = kindsOf(to);
    for (std::uint32_t number = 1; number <= file.pages(); ++number)
        if (const auto page = file.page(number)) takePage(*page, takers, kinds);
}

// The tables whose reading broke off.
std::vector<std::string> takeThroughTrees(const std::string& copy, Connection& to) {
    std::vector<std::string> broken;
    try {
        Connection from(copy, Connection::Mode::Write, {});
        for (const char* const table : allTables) {
            Taker taker(to, table);
            if (!takeThroughTree(from, taker)) broken.emplace_back(table);
        }
        from.database().tryExec("PRAGMA wal_checkpoint(TRUNCATE)"); // the pages are read from the file itself next
    } catch (const SQLite::Exception&) {
        broken.assign(allTables.begin(), allTables.end());
    }
    return broken;
}

void takePages(const std::string& copy, std::vector<std::string> broken, Connection& to) {
    const InputFile file(copy, std::numeric_limits<std::size_t>::max());
    const RawFile raw(file.bytes());
    if (std::erase(broken, "item") > 0) sweepPages(raw, to, {"item"}); // the others are told apart by what items are
    if (!broken.empty()) sweepPages(raw, to, broken);
}

// The copy, with the journal that belongs to it: SQLite may have to roll it back first.
void copyWithJournal(const std::string& path, const std::string& to) {
    copyFile(path, to);
    for (const char* const part : {"-journal", "-wal"})
        if (disk::exists(path + part)) copyFile(path + part, to + part);
}

void salvageInto(const std::string& copy, Garage& made, Connection& to, SalvageReport& report) {
    to.run("PRAGMA foreign_keys = OFF");
    {
        Transaction transaction(to, Transaction::Kind::Write);
        const std::vector<std::string> broken = takeThroughTrees(copy, to);
        if (!broken.empty()) takePages(copy, broken, to);
        for (const std::string& table : broken)
            report.lost.push_back("some of " + table + " may be lost: it was put together from single pages");
        const std::vector<std::string> left = repairSalvaged(to);
        // Numbers go on after the highest that is left, should the counters be lost.
        to.run(R"(INSERT INTO counter (kind, last) SELECT kind, max(number) FROM item GROUP BY kind UNION ALL SELECT
  'change', coalesce(max(version), 0) FROM item WHERE true ON CONFLICT (kind) DO UPDATE SET last = max(last,
  excluded.last))");
        store::reindexAll(to);
        transaction.commit();
        report.lost.insert(report.lost.end(), left.begin(), left.end());
    }
    for (const ItemKind kind : allKinds())
        if (const std::int64_t count = made.count(kind, true); count > 0)
            report.saved[std::string(kindPlural(kind))] = count;
}

} // namespace

SalvageReport salvageGarage(const std::string& path, const std::string& newPath) {
    if (disk::exists(newPath))
        throw GarageError(GarageError::Kind::Refused, newPath + ": is already there; choose another name");
    static_cast<void>(readGarageHeader(path));
    const MakingFile copy(newPath); // is never put in place
    SalvageReport report;
    copyWithJournal(path, copy.name());
    Garage::create(newPath, {}, [&](Garage& made) {
        translated(path, [&] { salvageInto(copy.name(), made, *made.impl_->connection, report); });
        if (report.saved.empty()) throw GarageError(GarageError::Kind::Damaged, path + ": nothing in it could be read");
    });
    return report;
}

} // namespace rw
