// Pages without a window: `runwright --sheet FILE.json --to OUT.pdf`, `runwright --review LOG… --to OUT.pdf`.
#pragma once

#include "app/desktop/shared/task_arguments.h"

namespace rw {

[[nodiscard]] int printSheet(const TaskArguments& arguments);
[[nodiscard]] int printReview(const TaskArguments& arguments);

} // namespace rw
