#include "app/desktop/shell/workspaces.h"

#include "app/desktop/garage/garage_workspace.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/review/review_workspace.h"

namespace rw {

std::vector<std::unique_ptr<Workspace>> makeWorkspaces(const Desk& desk) {
    std::vector<std::unique_ptr<Workspace>> workspaces;
    workspaces.push_back(std::make_unique<GarageWorkspace>(desk));
    workspaces.push_back(std::make_unique<PlanWorkspace>(desk));
    workspaces.push_back(std::make_unique<ReviewWorkspace>(desk));
    return workspaces;
}

} // namespace rw
