#include "storage/leaf_pages.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstring>

namespace rw {

namespace {

constexpr std::size_t fileHeader = 100; // at the beginning of the first page
constexpr std::uint64_t longestPayload = 1'000'000'000;

std::uint32_t big(std::string_view bytes, std::size_t at, std::size_t count) {
    std::uint32_t out = 0;
    for (std::size_t i = 0; i < count; ++i)
        out = out << 8 | static_cast<unsigned char>(bytes[at + i]);
    return out;
}

// Section 1.6 "varint": big-endian base 128, at most nine bytes, the ninth whole. Moves `at` behind it.
std::optional<std::uint64_t> varint(std::string_view bytes, std::size_t& at) {
    std::uint64_t out = 0;
    for (int i = 0; i < 9 && at < bytes.size(); ++i) {
        const auto byte = static_cast<unsigned char>(bytes[at++]);
        if (i == 8) return out << 8 | byte;
        out = out << 7 | (byte & 0x7FU);
        if ((byte & 0x80U) == 0) return out;
    }
    return std::nullopt;
}

// Section 2.1 "serial type codes". None for the two that are reserved.
std::optional<std::uint64_t> sizeOfType(std::uint64_t type) {
    constexpr std::array<std::uint64_t, 10> sizes{0, 1, 2, 3, 4, 6, 8, 8, 0, 0};
    if (type < sizes.size()) return sizes[type];
    if (type < 12) return std::nullopt;
    return (type - 12) / 2;
}

std::int64_t signedOf(std::string_view bytes) {
    std::uint64_t out = (static_cast<unsigned char>(bytes[0]) & 0x80U) != 0 ? ~std::uint64_t{0} : 0;
    for (const char c : bytes)
        out = out << 8 | static_cast<unsigned char>(c);
    return static_cast<std::int64_t>(out);
}

RawValue valueOf(std::uint64_t type, std::string_view bytes) {
    switch (type) {
    case 0:
        return std::monostate{};
    case 7:
        return std::bit_cast<double>(signedOf(bytes));
    case 8:
        return std::int64_t{0};
    case 9:
        return std::int64_t{1};
    default:
        break;
    }
    if (type < 7) return signedOf(bytes);
    if (type % 2 == 0) return RawBlob{std::string(bytes)};
    return std::string(bytes);
}

// Section 2.1: header with the types, then the values, which together are the payload to the byte.
std::optional<std::vector<RawValue>> valuesOf(std::string_view payload) {
    std::size_t at = 0;
    const auto header = varint(payload, at);
    if (!header || *header > payload.size() || *header < at) return std::nullopt;
    std::vector<std::uint64_t> types;
    while (at < *header) {
        const auto type = varint(payload.substr(0, *header), at);
        if (!type || !sizeOfType(*type)) return std::nullopt;
        types.push_back(*type);
    }
    std::vector<RawValue> out;
    for (const std::uint64_t type : types) {
        const std::uint64_t size = *sizeOfType(type);
        if (size > payload.size() - at) return std::nullopt;
        out.push_back(valueOf(type, payload.substr(at, size)));
        at += size;
    }
    if (at != payload.size() || out.empty()) return std::nullopt;
    return out;
}

bool isPageSize(std::uint32_t size) { return size >= 512 && size <= 65536 && std::has_single_bit(size); }

} // namespace

RawFile::RawFile(std::string_view bytes)
    : bytes_(bytes)
    , size_(4096) { // SQLite's own choice, which no garage changes
    const bool header = bytes.size() >= fileHeader && std::memcmp(bytes.data(), "SQLite format 3", 16) == 0;
    const std::uint32_t told = header ? big(bytes, 16, 2) : 0;
    const bool sizeTold = isPageSize(told == 1 ? 65536 : told);
    if (sizeTold) size_ = told == 1 ? 65536 : told;
    usable_ = size_ - (sizeTold ? static_cast<unsigned char>(bytes[20]) : 0U); // less what is reserved on each page
    if (usable_ < 480) usable_ = size_;
    pages_ = static_cast<std::uint32_t>(bytes.size() / size_);
    free_.assign(pages_ + 1, false);
    if (sizeTold) readFreeList();
}

std::string_view RawFile::bytesOf(std::uint32_t number) const {
    return bytes_.substr(std::size_t{number - 1} * size_, size_);
}

// Section 1.5: trunk pages, each with the number of the next one, a count, and numbers of free pages.
void RawFile::readFreeList() {
    const std::uint32_t told = std::min(big(bytes_, 36, 4), pages_);
    std::vector<std::uint32_t> found;
    std::uint32_t trunk = big(bytes_, 32, 4);
    while (trunk != 0 && trunk <= pages_ && found.size() < told) {
        const std::string_view page = bytesOf(trunk);
        const std::uint32_t count = big(page, 4, 4);
        if (count > usable_ / 4 - 2) return; // a trunk that is damaged: what it says is nothing
        found.push_back(trunk);
        for (std::uint32_t i = 0; i < count; ++i)
            found.push_back(big(page, 8 + 4 * std::size_t{i}, 4));
        trunk = big(page, 0, 4);
        for (const std::uint32_t number : found)
            if (number >= 1 && number <= pages_) free_[number] = true;
    }
}

// Sections 1.6 and 1.7: how much of a payload lies in the page, and the chain of pages with the rest.
std::optional<std::string> RawFile::payload(std::string_view page, std::size_t at, std::uint64_t length,
                                            bool table) const {
    const std::uint64_t u = usable_;
    const std::uint64_t most = table ? u - 35 : (u - 12) * 64 / 255 - 23;
    const std::uint64_t least = (u - 12) * 32 / 255 - 23;
    std::uint64_t local = length;
    if (length > most) {
        const std::uint64_t k = least + (length - least) % (u - 4);
        local = k <= most ? k : least;
    }
    const bool overflows = local < length;
    if (local + (overflows ? 4 : 0) > u - std::min<std::uint64_t>(at, u)) return std::nullopt;
    std::string out(page.substr(at, local));
    if (!overflows) return out;
    if (length > bytes_.size()) return std::nullopt;
    out.reserve(length);
    std::uint32_t next = big(page, at + local, 4);
    while (out.size() < length) {
        if (next < 2 || next > pages_ || free_[next]) return std::nullopt;
        const std::string_view more = bytesOf(next);
        next = big(more, 0, 4);
        out += more.substr(4, std::min<std::uint64_t>(u - 4, length - out.size()));
    }
    return next == 0 ? std::optional(std::move(out)) : std::nullopt;
}

std::optional<RawRecord> RawFile::record(std::string_view page, const Cell& cell) const {
    std::size_t at = cell.at;
    const auto length = varint(page, at);
    if (!length || *length < 2 || *length > longestPayload) return std::nullopt;
    RawRecord out;
    if (cell.table) {
        const auto rowid = varint(page, at);
        if (!rowid) return std::nullopt;
        out.rowid = static_cast<std::int64_t>(*rowid);
    }
    const auto whole = payload(page, at, *length, cell.table);
    if (!whole) return std::nullopt;
    auto values = valuesOf(*whole);
    if (!values) return std::nullopt;
    out.values = std::move(*values);
    return out;
}

std::optional<RawPage> RawFile::page(std::uint32_t number) const {
    if (number < 1 || number > pages_ || free_[number]) return std::nullopt;
    const std::string_view page = bytesOf(number);
    const std::size_t head = number == 1 ? fileHeader : 0;
    const int kind = page[head];
    constexpr int tableLeaf = 13, indexLeaf = 10, indexInner = 2;
    if (kind != tableLeaf && kind != indexLeaf && kind != indexInner) return std::nullopt;
    const std::size_t pointers = head + (kind == indexInner ? 12 : 8);
    const std::size_t count = big(page, head + 3, 2);
    if (pointers + 2 * count > usable_) return std::nullopt;
    RawPage out{number, kind == tableLeaf, {}};
    for (std::size_t i = 0; i < count; ++i) {
        std::size_t at = big(page, pointers + 2 * i, 2);
        if (at < pointers + 2 * count || at + 4 > usable_) continue;
        if (kind == indexInner) at += 4; // the page to the left
        if (auto one = record(page, {at, out.table})) out.records.push_back(std::move(*one));
    }
    if (out.records.empty()) return std::nullopt;
    return out;
}

} // namespace rw
