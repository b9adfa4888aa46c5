// The workspaces of the window, in the order of the job: Garage, Plan, Review.
#pragma once

#include "app/desktop/desk.h"
#include "app/desktop/workspace.h"

#include <memory>
#include <vector>

namespace rw {

[[nodiscard]] std::vector<std::unique_ptr<Workspace>> makeWorkspaces(const Desk& desk);

} // namespace rw
