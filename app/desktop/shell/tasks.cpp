#include "app/desktop/shell/tasks.h"

#include "app/desktop/pages/page_tasks.h"
#include "app/desktop/review/review_task.h"
#include "app/desktop/shell/pictures.h"

#include <array>

namespace rw {

namespace {

constexpr std::array table{
    Task{"pictures", "DIR", "Draw every workspace and dialog, light and dark, in two sizes, as PNG into DIR.", false,
         drawPictures},
    Task{"review", "LOG", "Review LOG (and further logs named) as a page: --to OUT.pdf or OUT.html.", true,
         printReview},
    Task{"sheet", "FILE", "The run sheet of a plan: --to OUT.pdf or OUT.html.", true, printSheet},
};

} // namespace

std::span<const Task> tasks() { return table; }

} // namespace rw
