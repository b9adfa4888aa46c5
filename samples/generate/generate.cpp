#include "samples/generate/generate.h"

#include "samples/generate/random.h"
#include "samples/generate/sampling.h"
#include "samples/generate/truth.h"

namespace rw::generate {

GeneratedLog generateLog(const Scenario& scenario, std::uint64_t seed) {
    Random random(seed);
    std::vector<SampledSession> sessions;
    double clock = scenario.clockStart_s;
    for (const SessionPlan& plan : scenario.sessions) {
        sessions.push_back(sampleSession(scenario, plan, clock, random));
        if (!scenario.clockRestarts) clock = sessions.back().rows.back().stamp + scenario.betweenSessions_s;
    }
    GeneratedLog log;
    log.fileName = scenario.name + ".csv";
    log.text = writeText(scenario, sessions, random);
    tellTruth(scenario, sessions, log);
    return log;
}

} // namespace rw::generate
