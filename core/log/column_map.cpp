#include "core/log/column_map.h"

#include "core/error.h"
#include "core/json/json_tree.h"
#include "core/json/json_write.h"
#include "core/log/ascii_text.h"
#include "core/log/number_text.h"
#include "core/log/quantity.h"
#include "core/log/unit_text.h"
#include "core/system/input_file.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

namespace rw {
namespace {

using Type = JsonValue::Type;

constexpr std::size_t mostMapBytes = 1'000'000;
constexpr int mostPolePairs = 14;

constexpr std::array<std::pair<TextEncoding, std::string_view>, 5> encodings{{
    {TextEncoding::Utf8, "UTF-8"},
    {TextEncoding::Utf8Bom, "UTF-8 with BOM"},
    {TextEncoding::Utf16Le, "UTF-16LE"},
    {TextEncoding::Utf16Be, "UTF-16BE"},
    {TextEncoding::Latin1, "Latin-1"},
}};
constexpr std::array<std::pair<TimeForm, std::string_view>, 7> timeForms{{
    {TimeForm::Seconds, "seconds"},
    {TimeForm::Milliseconds, "milliseconds"},
    {TimeForm::Microseconds, "microseconds"},
    {TimeForm::MinutesSeconds, "minutes:seconds"},
    {TimeForm::Clock, "clock"},
    {TimeForm::Iso8601, "ISO 8601"},
    {TimeForm::Rate, "rate"},
}};

template<class Key, std::size_t N>
std::optional<Key> keyOf(const std::array<std::pair<Key, std::string_view>, N>& table, std::string_view name) {
    for (const auto& [key, text] : table)
        if (text == name) return key;
    return std::nullopt;
}

template<class Key, std::size_t N>
std::string choices(const std::array<std::pair<Key, std::string_view>, N>& table) {
    std::string list;
    for (const auto& row : table)
        list += (list.empty() ? "\"" : ", \"") + std::string(row.second) + "\"";
    return list;
}

bool sameName(std::string_view a, std::string_view b) { return equalIgnoringCase(trimBlanks(a), trimBlanks(b)); }

class Reader {
public:
    explicit Reader(const JsonSource& source)
        : source_(source)
        , document_(parseJson(source)) {}

    [[nodiscard]] ColumnMap map() const {
        ColumnMap map;
        for (const auto& [key, value] : document_.members) {
            if (key == "columns")
                map.columns = columns(value);
            else if (key == "header")
                map.header = header(value);
            else if (key == "encoding")
                map.text.encoding = choice(key, value, encodings);
            else if (key == "time_form")
                map.text.timeForm = choice(key, value, timeForms);
            else if (key == "separator")
                map.text.separator = character(key, value, ",;\t ");
            else if (key == "decimal")
                map.text.decimal = character(key, value, ".,");
            else if (key == "rate_Hz")
                map.rate_Hz = rate(value);
            else if (key == "pole_pairs")
                map.polePairs = polePairs(value);
            else if (key != "runwright" && key != "version")
                fail(value, shortened(key),
                     "is not a key of a column map; it has columns, header, encoding, separator, decimal, "
                     "time_form, rate_Hz and pole_pairs");
        }
        return map;
    }

    void checkKind() const {
        if (document_.type != Type::Object) fail(document_, "", "is not a column map: an object {…} is expected");
        const JsonValue* const kind = document_.find("runwright");
        if (kind == nullptr || kind->text != "column-map")
            fail(document_, "", "is not a column map: \"runwright\": \"column-map\" is expected");
        const JsonValue* const version = document_.find("version");
        if (version == nullptr || version->number != 1.0)
            fail(version == nullptr ? document_ : *version, "version", "must be 1");
        if (document_.find("columns") == nullptr) fail(document_, "columns", "is missing");
    }

private:
    [[noreturn]] void fail(const JsonValue& at, const std::string& key, const std::string& what) const {
        throw InputError(source_.place(at.at) + (key.empty() ? "" : ": " + key), what);
    }

    [[nodiscard]] std::string text(const std::string& key, const JsonValue& value) const {
        if (value.type != Type::Text) fail(value, key, "must be a text in quotes");
        return value.text;
    }

    template<class Key, std::size_t N>
    [[nodiscard]] Key choice(const std::string& key, const JsonValue& value,
                             const std::array<std::pair<Key, std::string_view>, N>& table) const {
        const std::optional<Key> found = keyOf(table, text(key, value));
        if (!found) fail(value, key, "must be one of " + choices(table));
        return *found;
    }

    [[nodiscard]] char character(const std::string& key, const JsonValue& value, std::string_view allowed) const {
        const std::string one = text(key, value);
        if (one.size() != 1 || allowed.find(one[0]) == std::string_view::npos)
            fail(value, key, allowed.size() == 2 ? R"(must be "." or ",")" : R"(must be ",", ";", "\t" or " ")");
        return one[0];
    }

    [[nodiscard]] double rate(const JsonValue& value) const {
        if (!(value.number > 0.0)) fail(value, "rate_Hz", "must be a number over 0: rows a second");
        return value.number;
    }

    [[nodiscard]] int polePairs(const JsonValue& value) const {
        const double pairs = value.number;
        if (!(pairs >= 1.0 && pairs <= mostPolePairs) || pairs != std::floor(pairs))
            fail(value, "pole_pairs", "must be a whole number, 1 to " + std::to_string(mostPolePairs));
        return static_cast<int>(pairs);
    }

    [[nodiscard]] std::vector<std::string> header(const JsonValue& value) const {
        if (value.type != Type::List) fail(value, "header", "must be a list of column names");
        std::vector<std::string> names;
        for (const JsonValue& name : value.items)
            names.push_back(text("header", name));
        return names;
    }

    [[nodiscard]] std::vector<MappedColumn> columns(const JsonValue& value) const {
        if (value.type != Type::Object) fail(value, "columns", "must be an object of column names");
        std::vector<MappedColumn> mapped;
        std::set<Quantity> taken;
        for (const auto& [name, about] : value.members) {
            const std::string place = "columns." + shortened(name);
            const MappedColumn column = mappedColumn(name, about, place);
            if (column.quantity && !taken.insert(*column.quantity).second)
                fail(about, place, "names a quantity that another column has already");
            mapped.push_back(column);
        }
        return mapped;
    }

    [[nodiscard]] MappedColumn mappedColumn(const std::string& name, const JsonValue& about,
                                            const std::string& place) const {
        if (about.type != Type::Object)
            fail(about, place, R"(must be an object like {"quantity": "motor_temperature"})");
        MappedColumn column{name, std::nullopt, "", 1.0};
        bool told = false;
        for (const auto& [key, value] : about.members) {
            if (key == "unit") {
                column.unit = text(place + ".unit", value);
                if (!column.unit.empty() && !findUnit(column.unit))
                    fail(value, place + ".unit",
                         "is no unit that is known; V, A, dA, %, rpm, °C, km/h or 0.1 A are such");
            } else if (key == "factor") {
                column.factor = value.number;
                if (!(column.factor > 0.0))
                    fail(value, place + ".factor",
                         "must be a number over 0: 0.1 where the log counts in tenths of the unit");
            } else if (key == "quantity") {
                told = true;
                if (value.type == Type::Null) continue;
                column.quantity = quantityFromKey(text(place + ".quantity", value));
                if (!column.quantity)
                    fail(value, place + ".quantity", "is no known quantity; " + knownQuantities() + " are known");
            } else
                fail(value, place + "." + shortened(key),
                     "is not a key of a mapped column; it has quantity, unit and factor");
        }
        if (!told) fail(about, place + ".quantity", "is missing; null leaves the column unused");
        return column;
    }

    [[nodiscard]] static std::string knownQuantities() {
        std::string list;
        for (const QuantityInfo& info : quantityTable())
            list += (list.empty() ? "" : ", ") + std::string(info.key);
        return list;
    }

    const JsonSource& source_;
    JsonValue document_;
};

} // namespace

std::string_view encodingName(TextEncoding encoding) { return encodings.at(static_cast<std::size_t>(encoding)).second; }
std::string_view timeFormName(TimeForm form) { return timeForms.at(static_cast<std::size_t>(form)).second; }
std::optional<TimeForm> timeFormFromName(std::string_view name) { return keyOf(timeForms, name); }

const MappedColumn* ColumnMap::find(std::string_view columnName) const {
    const auto found =
        std::ranges::find_if(columns, [&](const MappedColumn& column) { return sameName(column.name, columnName); });
    return found == columns.end() ? nullptr : &*found;
}

ColumnMap readColumnMap(std::string_view json, const std::string& fileName) {
    if (json.size() > mostMapBytes) throw InputError(fileName, "is larger than a column map ever is (1 MB)");
    const JsonSource source{json, fileName};
    const Reader reader(source);
    reader.checkKind();
    return reader.map();
}

ColumnMap readColumnMapFile(const std::string& path) {
    const InputFile file(path, mostMapBytes);
    return readColumnMap(file.bytes(), path);
}

std::string writeColumnMap(const ColumnMap& map) {
    Json document{{"runwright", "column-map"}, {"version", 1}, {"columns", Json::object()}};
    for (const MappedColumn& column : map.columns) {
        Json& about = document["columns"][column.name];
        about["quantity"] = column.quantity ? Json(quantityKey(*column.quantity)) : Json(nullptr);
        if (!column.unit.empty()) about["unit"] = column.unit;
        if (column.factor != 1.0) about["factor"] = column.factor;
    }
    if (!map.header.empty()) document["header"] = map.header;
    if (map.text.encoding) document["encoding"] = encodingName(*map.text.encoding);
    if (map.text.separator) document["separator"] = std::string(1, *map.text.separator);
    if (map.text.decimal) document["decimal"] = std::string(1, *map.text.decimal);
    if (map.text.timeForm) document["time_form"] = timeFormName(*map.text.timeForm);
    if (map.rate_Hz) document["rate_Hz"] = *map.rate_Hz;
    if (map.polePairs) document["pole_pairs"] = *map.polePairs;
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

ColumnMap columnMapFrom(const ImportReport& report) {
    ColumnMap map;
    for (const ImportColumn& column : report.columns) {
        map.header.push_back(column.name);
        map.columns.push_back({column.name, column.quantity, findUnit(column.unit) ? column.unit : std::string(), 1.0});
    }
    return map;
}

bool mapFits(const ColumnMap& map, const ImportReport& report) {
    return std::ranges::equal(map.header, report.columns, [](const std::string& name, const ImportColumn& column) {
        return sameName(name, column.name);
    });
}

} // namespace rw
