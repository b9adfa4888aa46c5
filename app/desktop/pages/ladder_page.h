// The ladder as a page: drawn on paper as on screen, at most five steps a page; as text in HTML.
#pragma once

#include "app/desktop/pages/ladder_sheet.h"
#include "app/desktop/pages/page_document.h"

namespace rw {

[[nodiscard]] PageDocument makeLadderPage(const LadderSheet& sheet);

} // namespace rw
