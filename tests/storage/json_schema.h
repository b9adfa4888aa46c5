// The part of JSON Schema (draft 2020-12) that the exchange format's schema uses: enough to hold documents against it.
#pragma once

#include <nlohmann/json.hpp>

#include <string>

namespace rw::test {

// Empty where the document is valid, else where and why not. Throws std::logic_error for a keyword that it does not
// know.
[[nodiscard]] std::string schemaComplaint(const nlohmann::json& schema, const nlohmann::json& document);

} // namespace rw::test
