// What a review of a generated log should find, told from the sensors' rows without their errors. Internal to
// samples/generate.
#pragma once

#include "samples/generate/sampling.h"

namespace rw::generate {

void tellTruth(const Scenario& scenario, const std::vector<SampledSession>& sessions, GeneratedLog& log);

} // namespace rw::generate
