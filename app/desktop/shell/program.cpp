#include "app/desktop/shell/program.h"

#include "app/desktop/garage/garage_workspace.h"
#include "app/desktop/plan/plan_workspace.h"
#include "app/desktop/review/review_workspace.h"

namespace rw {

Shell& Program::window() {
    if (shell) return *shell;
    const Desk desk{voice, settings, units, bench, jobs, garage};
    std::vector<std::unique_ptr<Workspace>> workspaces; // in the order of the job
    workspaces.push_back(std::make_unique<GarageWorkspace>(desk));
    workspaces.push_back(std::make_unique<PlanWorkspace>(desk));
    workspaces.push_back(std::make_unique<ReviewWorkspace>(desk));
    shell = std::make_unique<Shell>(desk, std::move(workspaces));
    return *shell;
}

} // namespace rw
