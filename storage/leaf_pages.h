// Rows of an SQLite file read page by page, without its schema and without the pages above them: for files whose upper
// pages are damaged. Form of pages, cells and records: sqlite.org/fileformat2.html, sections 1.5 to 2.1. Private to
// storage.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace rw {

struct RawBlob {
    std::string bytes;
    bool operator==(const RawBlob&) const = default;
};
using RawValue = std::variant<std::monostate, std::int64_t, double, std::string, RawBlob>; // none: NULL

struct RawRecord {
    std::int64_t rowid = 0; // of a table's leaf; 0 on pages of an index
    std::vector<RawValue> values;
};

struct RawPage {
    std::uint32_t number = 0; // from 1
    bool table = false;       // leaf of a table by rowid; else leaf or inner page of an index or of a table without
    std::vector<RawRecord> records;
};

class RawFile {
public:
    // The bytes must outlive it. Without a readable first page the page size is taken to be 4096.
    explicit RawFile(std::string_view bytes);

    [[nodiscard]] std::uint32_t pages() const { return pages_; }
    [[nodiscard]] std::uint32_t pageSize() const { return size_; }
    // The records of a page that holds some: those whose cells and overflow chains are whole. None for any other page,
    // and for pages on the list of free ones as far as that can be followed.
    [[nodiscard]] std::optional<RawPage> page(std::uint32_t number) const;

private:
    struct Cell {
        std::size_t at = 0; // of the payload's length within the page
        bool table = false;
    };
    [[nodiscard]] std::string_view bytesOf(std::uint32_t number) const;
    [[nodiscard]] std::optional<RawRecord> record(std::string_view page, const Cell& cell) const;
    [[nodiscard]] std::optional<std::string> payload(std::string_view page, std::size_t at, std::uint64_t length,
                                                     bool table) const;
    void readFreeList();

    std::string_view bytes_;
    std::uint32_t size_ = 0, usable_ = 0, pages_ = 0;
    std::vector<bool> free_;
};

} // namespace rw
