// A review as a page without a window: `runwright --review LOG… --to OUT.pdf`.
#pragma once

#include "app/desktop/shared/task_arguments.h"

namespace rw {

[[nodiscard]] int printReview(const TaskArguments& arguments);

} // namespace rw
