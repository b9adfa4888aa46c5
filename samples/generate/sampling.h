// Rows of a log as its sensors give them, and the same rows without their errors. Internal to samples/generate.
#pragma once

#include "samples/generate/timeline.h"

#include <vector>

namespace rw::generate {

struct Row {
    double stamp = 0.0; // s as written
    Moment truth;
    double receiver = 0.0;
};

struct SampledSession {
    Timeline line;
    std::vector<Row> rows;
    std::vector<std::size_t> restarts; // first rows after one
};

// One text column: its heading and what a sensor reads.
struct Column {
    const char* heading;
    Sensor SensorSet::*sensor;
    double (*value)(const Row&);
};
[[nodiscard]] const std::vector<Column>& columns();

[[nodiscard]] SampledSession sampleSession(const Scenario& scenario, const SessionPlan& plan, double clockStart,
                                           class Random& random);
// The log's bytes.
[[nodiscard]] std::string writeText(const Scenario& scenario, const std::vector<SampledSession>& sessions,
                                    Random& random);

} // namespace rw::generate
