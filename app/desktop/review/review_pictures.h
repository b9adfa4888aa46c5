// Pictures of a reviewed log for its page: the lanes of the best pass with cutoff and limits, the passes over each
// other, the temperatures of the day. In the light look. Interface thread only: they are painted by widgets.
#pragma once

#include "app/desktop/pages/review_page.h"
#include "app/desktop/review/review_data.h"
#include "app/desktop/shared/task_arguments.h"

namespace rw {

[[nodiscard]] std::vector<ReviewPicture> reviewPictures(const ReviewData& data, const Units& units);

// The fastest complete pass, else the one with the highest current; none where there is no pass.
[[nodiscard]] std::optional<std::size_t> bestPassOf(const LogReview& review);

// A review as a page without a window: `runwright --review LOG… --to OUT.pdf`.
[[nodiscard]] int printReview(const TaskArguments& arguments);

} // namespace rw
