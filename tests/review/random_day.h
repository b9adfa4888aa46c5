// Random days with plausible trouble, for the round trip: generate with known truth, read, review, compare.
#pragma once

#include "samples/generate/generate.h"

#include <cstdint>

namespace rw::test {

struct RandomDay {
    generate::Scenario scenario;
    bool planGiven = false; // the review gets the plan
};
[[nodiscard]] RandomDay randomDay(std::uint64_t seed);

} // namespace rw::test
