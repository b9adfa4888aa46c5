// The safety words of core/plan/cautions.h as the window and the pages take them.
#pragma once

#include <QString>
#include <QStringList>

namespace rw {

[[nodiscard]] QString cautionLine();
[[nodiscard]] QStringList cautionList();

} // namespace rw
