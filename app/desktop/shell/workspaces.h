// The workspaces of the window, in the order of the job: Garage, Plan, Review.
#pragma once

#include "app/desktop/shared/desk.h"
#include "app/desktop/shared/workspace.h"

#include <memory>
#include <vector>

namespace rw {

[[nodiscard]] std::vector<std::unique_ptr<Workspace>> makeWorkspaces(const Desk& desk);

} // namespace rw
