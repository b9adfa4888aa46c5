// The schema, step by step. Private to storage.
#pragma once

#include "storage/connection.h"

namespace rw {

// Steps from the file's version (0: empty) up to and with `target`, in one transaction of its own; old or new, never
// between.
void migrate(Connection& connection, int target);

} // namespace rw
