// A page without a window: `runwright --sheet FILE.json --to OUT.pdf`.
#pragma once

#include "app/desktop/shared/task_arguments.h"

namespace rw {

[[nodiscard]] int printSheet(const TaskArguments& arguments);
[[nodiscard]] int written(const QString& path); // says where the page lies

} // namespace rw
