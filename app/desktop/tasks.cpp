#include "app/desktop/tasks.h"

#include "app/desktop/pictures.h"

#include <array>

namespace rw {

namespace {

constexpr std::array table{
    Task{"pictures", "DIR", "Draw every workspace and dialog, light and dark, in two sizes, as PNG into DIR.", false, drawPictures},
};

} // namespace

std::span<const Task> tasks() { return table; }

} // namespace rw
