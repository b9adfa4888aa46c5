// What a day taught: learned from one log, its last pass foretold, what to change next, and what the plan says of the
// timed zone before and after. A value, made beside the interface thread.
#pragma once

#include "app/desktop/review/review_data.h"
#include "core/learn/learn.h"
#include "storage/fit_record.h"

#include <memory>
#include <optional>

namespace rw {

struct ZoneBand {
    double low = 0.0, mean = 0.0, high = 0.0; // m/s, nine runs in ten
};

struct DayTaught {
    std::shared_ptr<const ReviewData> data;
    PlanInput plan;     // that it was learned with
    LearnPasses passes; // as the garage has them, of a kept log
    LearnReport report;
    std::optional<PlanInput> learned; // none where nothing may be taken over
    NextReport next;
    std::optional<ZoneBand> before, after; // of the timed zone
};

struct LearnWish {
    bool coast = false;        // it rolled out after the throttle closed
    bool trustSensors = false; // the sensors are calibrated
};

// Throws InputError where nothing can be learned, Stopped.
[[nodiscard]] DayTaught learnFrom(const std::shared_ptr<const ReviewData>& data, const LearnWish& wish,
                                  const WorkOptions& work);

[[nodiscard]] PlanInput withChange(PlanInput input, const NextChange& change);

// Why a log cannot teach before anything is computed: no plan, no input with an uncertainty; "" where it can.
[[nodiscard]] QString whyNothingToLearn(const ReviewData& data);

} // namespace rw
