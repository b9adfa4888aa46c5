// What `runwright` does without a window: one row a task, so that another is one row more.
#pragma once

#include "app/desktop/shared/task_arguments.h"

#include <span>

namespace rw {

struct Task {
    const char* option; // "pictures"
    const char* value;  // "DIR": what the option takes
    const char* help;
    bool needsTo; // --to FILE is required
    // Returns the program's exit status; an InputError is printed as one line, status 1.
    int (*run)(const TaskArguments& arguments);
};

[[nodiscard]] std::span<const Task> tasks();

} // namespace rw
