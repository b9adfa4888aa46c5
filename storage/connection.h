// One connection to a garage file, with the settings for safety that SQLite offers. Private to storage.
#pragma once

#include "storage/garage.h"

#include <SQLiteCpp/SQLiteCpp.h>

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <unordered_map>
#include <utility>
#include <vector>

namespace rw {

// Which journal a library version may be trusted with. Versions 3.7.0 to 3.51.2 can lose commits in WAL mode when two
// connections write and checkpoint at the same instant; 3.51.3 has the fix, 3.50.7 and 3.44.6 have it backported.
// Source: sqlite.org/wal.html, "The WAL-reset bug".
[[nodiscard]] bool writeAheadIsSafe(int libraryVersion); // sqlite3_libversion_number()

class Connection {
public:
    enum class Mode { Read, Write, Create };

    // Opens and hardens; reads nothing of the file yet. Throws SQLite::Exception.
    Connection(const std::string& path, Mode mode, const GarageOptions& options);
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    // Sentences; empty: sound. quick_check, or with `full` integrity_check and the references.
    [[nodiscard]] std::vector<std::string> problems(bool full);
    void beginWriting();    // foreign keys, journal and syncing as the library's version calls for
    void checkStop() const; // throws Stopped
    void finishAnyway();    // from here on nothing stops: what is left is short and has to be whole

    // Without anything bound it may be several statements.
    template<class... Args>
    void run(std::string_view sql, const Args&... args);
    // The whole number in the first row; maybeNumber: none where there is none.
    template<class... Args>
    [[nodiscard]] std::int64_t number(std::string_view sql, const Args&... args) {
        if constexpr (sizeof...(args) == 0) return database_.execAndGet(std::string(sql)).getInt64();
        return maybeNumber(sql, args...).value_or(0);
    }
    template<class... Args>
    [[nodiscard]] std::optional<std::int64_t> maybeNumber(std::string_view sql, const Args&... args);
    [[nodiscard]] std::int64_t numberAtOnce(std::string_view sql); // waits for no other program: Busy
    // Of each row the item of that kind with this number.
    template<class... Args>
    [[nodiscard]] std::vector<Id> ids(ItemKind kind, std::string_view sql, const Args&... args);
    [[nodiscard]] SQLite::Database& database() { return database_; }
    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] std::string journalInWords();
    [[nodiscard]] std::string now() const; // UTC

    [[nodiscard]] const GarageOptions& options() const { return options_; }

private:
    friend class Query;
    struct Prepared {
        SQLite::Statement statement;
        bool lent = false;
    };
    Prepared& prepared(std::string_view sql);
    bool takeJournal(bool ahead); // false: others stand in the way for now
    void waitForOthers();         // as long as options say

    std::string path_;
    GarageOptions options_;
    SQLite::Database database_;
    std::unordered_map<std::string, std::unique_ptr<Prepared>> prepared_;
};

// A prepared statement on loan: bound, stepped, given back when it goes. Texts and blobs that are bound must outlive
// it.
class Query {
public:
    template<class... Args>
    Query(Connection& connection, std::string_view sql, const Args&... args)
        : prepared_(connection.prepared(sql)) {
        prepared_.lent = true;
        try {
            (bind(args), ...);
        } catch (...) {
            giveBack();
            throw;
        }
    }
    ~Query() { giveBack(); }
    Query(const Query&) = delete;
    Query& operator=(const Query&) = delete;

    struct Blob {
        std::string_view bytes;
    };

    bool step() { return prepared_.statement.executeStep(); }

    [[nodiscard]] bool isNull(int column) const { return at(column).isNull(); }
    [[nodiscard]] std::int64_t whole(int column) const { return at(column).getInt64(); }
    [[nodiscard]] double real(int column) const { return at(column).getDouble(); }
    [[nodiscard]] std::string text(int column) const { return at(column).getString(); } // or the bytes of a blob
    [[nodiscard]] std::optional<std::int64_t> maybeWhole(int column) const {
        return isNull(column) ? std::nullopt : std::optional(whole(column));
    }
    [[nodiscard]] std::optional<double> maybeReal(int column) const {
        return isNull(column) ? std::nullopt : std::optional(real(column));
    }
    [[nodiscard]] std::optional<Id> maybeId(int column, ItemKind kind) const { // by its number
        return isNull(column) ? std::nullopt : std::optional(Id{kind, whole(column)});
    }

    // An id as a column holds it: the number of an item of that kind, or NULL.
    struct Reference {
        std::optional<Id>& id;
        ItemKind kind;
    };
    // The row's columns, in their order.
    template<class... Out>
    void take(Out&&... out) const {
        int column = 0;
        (into(column++, out), ...);
    }

private:
    [[nodiscard]] SQLite::Column at(int column) const { return prepared_.statement.getColumn(column); }
    void into(int column, std::int64_t& out) const { out = whole(column); }
    void into(int column, int& out) const { out = static_cast<int>(whole(column)); }
    void into(int column, bool& out) const { out = whole(column) != 0; }
    void into(int column, double& out) const { out = real(column); }
    void into(int column, std::string& out) const { out = text(column); }
    void into(int column, std::optional<double>& out) const { out = maybeReal(column); }
    void into(int column, std::optional<std::int64_t>& out) const { out = maybeWhole(column); }
    void into(int column, const Reference& out) const { out.id = maybeId(column, out.kind); }
    void bind(std::int64_t value) { prepared_.statement.bind(next_++, value); }
    void bind(int value) { bind(std::int64_t{value}); }
    void bind(bool value) { bind(std::int64_t{value ? 1 : 0}); }
    void bind(double value) { prepared_.statement.bind(next_++, value); }
    void bind(std::string_view value) { prepared_.statement.bind(next_++, std::string(value)); }
    void bind(const std::string& value) { prepared_.statement.bindNoCopy(next_++, value); }
    void bind(const char* value) { bind(std::string_view(value)); }
    void bind(Blob value) {
        prepared_.statement.bindNoCopy(next_++, value.bytes.empty() ? "" : value.bytes.data(),
                                       static_cast<int>(value.bytes.size()));
    }
    template<class T>
    void bind(const std::optional<T>& value) {
        if (value)
            bind(*value);
        else
            ++next_; // cleared: NULL
    }
    void giveBack() noexcept {
        prepared_.statement.tryReset();
        prepared_.statement.clearBindings(); // never fails (sqlite3_clear_bindings)
        prepared_.lent = false;
    }

    Connection::Prepared& prepared_;
    int next_ = 1;
};

template<class... Args>
void Connection::run(std::string_view sql, const Args&... args) {
    if constexpr (sizeof...(args) == 0)
        database_.exec(std::string(sql));
    else
        Query(*this, sql, args...).step();
}

template<class... Args>
std::optional<std::int64_t> Connection::maybeNumber(std::string_view sql, const Args&... args) {
    Query one(*this, sql, args...);
    return one.step() ? one.maybeWhole(0) : std::nullopt;
}

template<class... Args>
std::vector<Id> Connection::ids(ItemKind kind, std::string_view sql, const Args&... args) {
    std::vector<Id> out;
    for (Query all(*this, sql, args...); all.step();)
        out.push_back({kind, all.whole(0)});
    return out;
}

// Every row that a statement gives, as `from` makes it.
template<class From, class... Args>
[[nodiscard]] auto rowsOf(Connection& connection, const From& from, std::string_view sql, const Args&... args) {
    std::vector<std::decay_t<decltype(from(std::declval<const Query&>()))>> out;
    for (Query all(connection, sql, args...); all.step();)
        out.push_back(from(std::as_const(all)));
    return out;
}

// BEGIN IMMEDIATE … COMMIT for writes, BEGIN … COMMIT for reads of one state; rolled back unless committed.
class Transaction {
public:
    enum class Kind { Read, Write };
    Transaction(Connection& connection, Kind kind)
        : connection_(connection) {
        connection_.run(kind == Kind::Write ? "BEGIN IMMEDIATE" : "BEGIN");
    }
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void commit() {
        connection_.run("COMMIT");
        done_ = true;
    }

private:
    Connection& connection_;
    bool done_ = false;
};

// Turns what SQLite said into a GarageError with a sentence for a person.
[[noreturn]] void throwAsGarageError(const SQLite::Exception& error, const std::string& path);

// Runs `work` and turns SQLite's exceptions into GarageErrors.
template<class Work>
auto translated(const std::string& path, Work&& work) -> decltype(work()) {
    try {
        return work();
    } catch (const SQLite::Exception& error) {
        throwAsGarageError(error, path);
    }
}

} // namespace rw
