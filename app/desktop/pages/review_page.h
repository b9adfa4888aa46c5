// The review as a page: sessions, passes, findings with what to try, and what could not be judged.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/units.h"
#include "core/log/log.h"
#include "core/review/review.h"

#include <vector>

namespace rw {

struct ReviewedLog {
    const Log& log;
    const LogReview& review;
};

// One log after the other, the cautions at the end.
[[nodiscard]] PageDocument makeReviewPage(const std::vector<ReviewedLog>& logs, const Units& units);

} // namespace rw
