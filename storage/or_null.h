// What may be missing, as members of JSON: null where it is.
#pragma once

#include "storage/id.h"

#include <nlohmann/json.hpp>

#include <optional>

namespace rw {

template<class T>
nlohmann::ordered_json orNull(const std::optional<T>& value) {
    return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json();
}
inline nlohmann::ordered_json orNull(const std::optional<Id>& id) {
    return id ? nlohmann::ordered_json(toString(*id)) : nlohmann::ordered_json();
}

} // namespace rw
