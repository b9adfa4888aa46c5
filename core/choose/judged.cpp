#include "core/choose/judged.h"

#include "core/error.h"
#include "core/plan/plan_convert.h"
#include "core/plan/plan_figures.h"

namespace rw {

std::optional<JudgedPass> judgedPass(const PlanInput& input, const PassSetup& setup, const PassPrecision& precision) {
    try {
        JudgedPass out;
        out.pass = simulatePass(setup, convertedStart(input), {precision});
        const std::vector<Margin> all = margins(input, {out.pass});
        if (!all.empty()) out.tightest = all.front();
        out.withinLimits = out.pass.completed && (all.empty() || all.front().margin >= 0.0);
        out.makesTarget = makesTarget(out.pass, input.drive.target_mps);
        return out;
    } catch (const InputError&) {
        return std::nullopt;
    }
}

} // namespace rw
