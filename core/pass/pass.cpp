#include "core/pass/pass.h"

#include "core/pass/pass_run.h"

namespace rw {

std::string_view limitName(Limit limit) {
    switch (limit) {
    case Limit::None:
        return "none";
    case Limit::MotorCurrent:
        return "motor_current";
    case Limit::PackCurrent:
        return "pack_current";
    case Limit::Traction:
        return "traction";
    case Limit::Cutoff:
        break;
    }
    return "cutoff";
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
