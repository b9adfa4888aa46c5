// Rows found on single pages, told apart by what they look like: the number and kinds of their values, and what only
// one table can hold. Private to storage.
#pragma once

#include "storage/connection.h"
#include "storage/leaf_pages.h"

#include <map>
#include <string>
#include <vector>

namespace rw {

// A table of the garage, in the form in which its records lie on a page.
struct TableShape {
    struct Column {
        std::string name, type; // "INTEGER", "TEXT", "REAL", "BLOB", "ANY"
        bool required = false;  // NOT NULL
        bool isRowid = false;   // stored as NULL, its value is the record's rowid
        bool hasDefault = false;
    };
    std::string name;
    bool byRowid = true;
    std::vector<Column> columns;
    std::size_t fewest = 0; // values in a record: columns of later versions may be missing at the end
};
[[nodiscard]] TableShape shapeOf(Connection& connection, const std::string& table);
// The record's values in the order of the columns, rowid put in; none where it cannot be one of the table.
[[nodiscard]] std::optional<std::vector<RawValue>> rowOfShape(const TableShape& shape, const RawPage& page,
                                                              const RawRecord& record);

// What is known of items when rows that look alike are told apart: kind by row number.
using KindsByRow = std::map<std::int64_t, std::string>;
// Whether the rows of one page belong to the table, where their shape alone leaves that open.
[[nodiscard]] bool belongs(const std::string& table, const std::vector<std::vector<RawValue>>& rows,
                           const KindsByRow& kinds);

// What was saved is made whole (salvage_repair.cpp): rows whose owners are lost get stand-ins that say so, references
// to lost things are let go, every log has bytes. Returns sentences for what is lost.
std::vector<std::string> repairSalvaged(Connection& to);

} // namespace rw
