// The review as a page: sessions, passes, findings with what to try, and what could not be judged.
#pragma once

#include "app/desktop/pages/page_document.h"
#include "app/desktop/shared/units.h"
#include "core/log/log.h"
#include "core/review/review.h"

#include <vector>

namespace rw {

inline constexpr int reviewPictureWidth = 660; // logical pixels: the width of the page between its margins

struct ReviewPicture {
    QImage image; // its sides keep their proportion; as wide as the page
    QString words;
};

struct ReviewedLog {
    const Log& log;
    const LogReview& review;
    std::vector<ReviewPicture> pictures{}; // stand between passes and findings
};

// One log after the other, the cautions at the end.
[[nodiscard]] PageDocument makeReviewPage(const std::vector<ReviewedLog>& logs, const Units& units);

} // namespace rw
