// The run sheet: what one person needs at the strip, on one page. Figures from the core, intervals from the spread.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/task_arguments.h"
#include "app/desktop/shared/units.h"

namespace rw {

// content.input must be set. Computes plan and spread: some tenths of a second, off the interface thread if you can.
// Where stopped, what is returned is meaningless.
[[nodiscard]] PageDocument makeRunSheet(const BenchContent& content, const Units& units, const WorkOptions& work = {});

// A page without a window: `runwright --sheet FILE.json --to OUT.pdf`.
[[nodiscard]] int printSheet(const TaskArguments& arguments);
[[nodiscard]] int written(const QString& path); // says where the page lies

} // namespace rw
