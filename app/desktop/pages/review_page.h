// The review as a page: sessions, passes, findings with what to try, and what could not be judged.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/units.h"
#include "core/log/log.h"
#include "core/review/review.h"

namespace rw {

void addReview(PageDocument& page, const Log& log, const LogReview& review, const Units& units);
[[nodiscard]] PageDocument makeReviewPage(const Log& log, const LogReview& review, const Units& units);

} // namespace rw
