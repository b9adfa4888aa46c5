// Pieces that the JSON of several results share. Keys keep their order.
#pragma once

#include <nlohmann/json.hpp>

#include <optional>

namespace rw {

using Json = nlohmann::ordered_json;

template<class Value>
[[nodiscard]] Json jsonOrNull(const std::optional<Value>& value) {
    return value ? Json(*value) : Json(nullptr);
}

// A list with row(item) for each item.
template<class List, class Row>
[[nodiscard]] Json listJson(const List& list, Row row) {
    Json out = Json::array();
    for (const auto& item : list)
        out.push_back(row(item));
    return out;
}

} // namespace rw
