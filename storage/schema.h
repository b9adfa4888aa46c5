// The numbered steps of the schema, embedded from storage/schema/ at build time.
#pragma once

#include "storage/connection.h"

#include <span>
#include <string_view>

namespace rw {

struct SchemaStep {
    int version = 0; // that the file has after it
    std::string_view sql;
};
[[nodiscard]] std::span<const SchemaStep> schemaSteps(); // in order, from 1

// "RWG1" as a big-endian number: the file's application id, not in the list of known ones (magic.txt).
inline constexpr int garageApplicationId = 0x52574731;

// Steps from the file's version (0: empty) up to and with `target`, in one transaction of its own; old or new, never
// between.
void migrate(Connection& connection, int target);

} // namespace rw
