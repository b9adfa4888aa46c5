// The numbered steps of the schema, embedded from storage/schema/ at build time.
#pragma once

#include "storage/connection.h"

#include <array>
#include <span>
#include <string_view>

namespace rw {

struct SchemaStep {
    int version = 0; // that the file has after it
    std::string_view sql;
};
[[nodiscard]] std::span<const SchemaStep> schemaSteps(); // in order, from 1

// Owners before owned; not the search index, which is kept from them.
inline constexpr std::array allTables{"counter",      "item",         "item_value", "setup",      "outing",
                                      "outing_setup", "outing_photo", "log",        "log_bytes",  "log_track",
                                      "log_review",   "session",      "pass",       "pass_noted", "pass_figures",
                                      "plan",         "fit",          "fit_pass",   "fit_value"};

// "RWG1" as a big-endian number: the file's application id, not in the list of known ones (magic.txt).
inline constexpr int garageApplicationId = 0x52574731;

// Steps from the file's version (0: empty) up to and with `target`, in one transaction of its own; old or new, never
// between.
void migrate(Connection& connection, int target);

} // namespace rw
