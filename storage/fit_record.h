// Between learning and the garage: what the garage knows of the passes that are learned from, and a report as a fit to
// be kept.
#pragma once

#include "core/learn/learn.h"
#include "storage/garage.h"

#include <span>
#include <string>
#include <vector>

namespace rw {

struct LearnPasses {
    std::vector<std::vector<Id>> ids; // by log, in the order of its review
    std::vector<PassRef> reverse;     // noted as run back
    std::vector<NotedSpeed> noted;    // speeds that were read off
};
// Of kept logs, in the order in which they are learned from.
[[nodiscard]] LearnPasses learnPasses(Garage& garage, std::span<const Id> logs);

// Values, standard errors, covariance, what was known before, gains and passes. `document`: learnJson of the report.
// Throws InputError where the report did not converge or names a pass that is not there.
[[nodiscard]] Fit fitRecord(const LearnReport& report, std::string document, Id setup, const LearnPasses& passes);

} // namespace rw
