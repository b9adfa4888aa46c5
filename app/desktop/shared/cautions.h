// The safety words, in one place: the planner, About and the pages show the same sentences.
#pragma once

#include <QString>
#include <QStringList>

namespace rw {

// One line for under the margins.
[[nodiscard]] QString shortCaution();
// The full list: one sentence each.
[[nodiscard]] QStringList cautions();

} // namespace rw
