#include "core/pass/pass.h"

#include "core/pass/pass_run.h"

#include <array>

namespace rw {

std::string_view limitName(Limit limit) {
    constexpr std::array<std::string_view, 5> names{"none", "motor_current", "pack_current", "traction", "cutoff"};
    return names[static_cast<std::size_t>(limit)];
}

PassResult simulatePass(const PassSetup& setup, const StartState& start, const PassOptions& options,
                        const InstantSink& sink) {
    pass::PassRun run(setup, start, options, sink);
    PassResult result = run.run();
    if (run.speedPeakIsFlat()) {
        // The same pass once more, with the peak less 1e-9 of it as the speed to look for.
        PassSetup towardsPeak = setup;
        towardsPeak.driving.target = result.peakSpeed * (1.0 - 1e-9);
        const InstantSink none; // the run keeps a reference
        pass::PassRun again(towardsPeak, start, options, none);
        result.peakSpeedAt = again.run().distanceToTarget.value_or(result.peakSpeedAt);
    }
    return result;
}

PassSetup reversed(const PassSetup& setup) {
    PassSetup other = setup;
    other.strip.grade = -setup.strip.grade;
    other.strip.headWind = -setup.strip.headWind;
    return other;
}

} // namespace rw
