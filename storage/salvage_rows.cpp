#include "storage/salvage_rows.h"

#include "core/plan/plan_fields.h"
#include "storage/allowed.h"
#include "storage/codec.h"
#include "storage/values.h"

#include <algorithm>

namespace rw {

namespace {

using Row = std::vector<RawValue>;

bool isNull(const RawValue& value) { return std::holds_alternative<std::monostate>(value); }
bool isWhole(const RawValue& value) { return std::holds_alternative<std::int64_t>(value); }

bool isText(const RawValue& value) {
    const auto* const text = std::get_if<std::string>(&value);
    return text != nullptr && isUtf8(*text) && text->find('\0') == std::string::npos; // as all that is kept
}

bool fits(const RawValue& value, const TableShape::Column& column) {
    if (column.isRowid) return isNull(value);
    if (isNull(value)) return !column.required;
    if (column.type == "INTEGER") return isWhole(value);
    if (column.type == "TEXT") return isText(value);
    if (column.type == "REAL") return isWhole(value) || std::holds_alternative<double>(value); // 2.0 is stored as 2
    if (column.type == "BLOB") return std::holds_alternative<RawBlob>(value);
    return isWhole(value) || std::holds_alternative<double>(value) || isText(value);
}

std::int64_t wholeAt(const Row& row, std::size_t column) {
    const auto* const whole = std::get_if<std::int64_t>(&row[column]);
    return whole == nullptr ? 0 : *whole;
}

std::string_view textAt(const Row& row, std::size_t column) {
    const auto* const text = std::get_if<std::string>(&row[column]);
    return text == nullptr ? std::string_view() : std::string_view(*text);
}

std::string_view kindAt(const Row& row, std::size_t column, const KindsByRow& kinds) {
    const auto found = kinds.find(wholeAt(row, column));
    return found == kinds.end() ? std::string_view() : std::string_view(found->second);
}

// "log_bytes", "log_review" or "log_track", by the first of our frames that is whole; "" where none is.
std::string_view frameTable(const std::vector<Row>& rows) {
    for (const Row& row : rows) {
        const auto* const blob = std::get_if<RawBlob>(&row[1]);
        if (blob == nullptr) continue;
        try {
            const std::string content = zstdUnpack(blob->bytes, largestLog);
            if (!content.starts_with('{')) return "log_bytes";
            return content.find("\"speed_measured\"") == std::string::npos ? "log_review" : "log_track";
        } catch (const std::exception&) {
            continue;
        }
    }
    return {};
}

bool everyOne(const std::vector<Row>& rows, const auto& holds) { return std::ranges::all_of(rows, holds); }

// Whether all rows whose column names a known item name one of this kind, and at least one does.
bool named(const std::vector<Row>& rows, std::size_t column, std::string_view kind, const KindsByRow& kinds) {
    bool any = false;
    for (const Row& row : rows) {
        const std::string_view found = kindAt(row, column, kinds);
        if (!found.empty() && found != kind) return false;
        any = any || found == kind;
    }
    return any;
}

} // namespace

TableShape shapeOf(Connection& connection, const std::string& table) {
    TableShape out;
    out.name = table;
    Query list(connection, "SELECT wr FROM pragma_table_list WHERE schema = 'main' AND name = ?", table);
    if (list.step()) out.byRowid = list.whole(0) == 0;
    Query info(connection, "SELECT name, type, \"notnull\", dflt_value, pk FROM pragma_table_info(?)", table);
    while (info.step()) {
        TableShape::Column column{info.text(0), info.text(1), info.whole(2) != 0, false, !info.isNull(3)};
        column.isRowid = out.byRowid && info.whole(4) == 1 && column.type == "INTEGER";
        out.columns.push_back(std::move(column));
    }
    const auto later = std::ranges::find_if(out.columns, &TableShape::Column::hasDefault);
    out.fewest = static_cast<std::size_t>(later - out.columns.begin());
    return out;
}

std::optional<std::vector<RawValue>> rowOfShape(const TableShape& shape, const RawPage& page, const RawRecord& record) {
    const std::size_t count = record.values.size();
    if (shape.byRowid != page.table || count < shape.fewest || count > shape.columns.size()) return std::nullopt;
    for (std::size_t i = 0; i < count; ++i)
        if (!fits(record.values[i], shape.columns[i])) return std::nullopt;
    Row out = record.values;
    for (std::size_t i = count; i < shape.columns.size(); ++i)
        out.push_back(shape.columns[i].hasDefault ? RawValue(std::string()) : RawValue());
    for (std::size_t i = 0; i < out.size(); ++i)
        if (shape.columns[i].isRowid) out[i] = record.rowid;
    return out;
}

bool belongs(const std::string& table, const std::vector<Row>& rows, const KindsByRow& kinds) {
    if (table == "item") return everyOne(rows, [](const Row& row) { return kindFromName(textAt(row, 1)).has_value(); });
    if (table == "counter")
        return everyOne(rows,
                        [](const Row& row) { return kindFromName(textAt(row, 0)) || textAt(row, 0) == "change"; });
    if (table == "log_bytes" || table == "log_review" || table == "log_track") return frameTable(rows) == table;
    if (table == "pass_figures") return everyOne(rows, [](const Row& row) { return textAt(row, 1).starts_with('{'); });
    if (table == "outing") return everyOne(rows, [](const Row& row) { return textAt(row, 1).size() <= 40; });
    if (table == "fit_value")
        return everyOne(rows, [](const Row& row) { return findPlanField(textAt(row, 2)) != nullptr; });
    if (table == "outing_photo")
        return named(rows, 0, "outing", kinds) ||
               !everyOne(rows, [](const Row& row) { return findPlanField(textAt(row, 2)) != nullptr; });
    if (table == "pass_noted")
        return everyOne(rows, [](const Row& row) { return wholeAt(row, 1) >= 0 && wholeAt(row, 1) <= 1; });
    // Three whole numbers, as several indexes have them.
    if (table == "outing_setup") return named(rows, 0, "outing", kinds) && named(rows, 2, "setup", kinds);
    if (table == "fit_pass") return named(rows, 0, "fit", kinds) && !named(rows, 1, "fit", kinds);
    return true;
}

} // namespace rw
