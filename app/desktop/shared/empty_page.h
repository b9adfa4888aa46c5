// What a workspace shows while it has nothing to show: a heading and what to do, one under the other in the middle.
#pragma once

#include <QList>
#include <QWidget>

namespace rw {

// Texts among what stands below (TextLabel) are wrapped to a readable width.
[[nodiscard]] QWidget* emptyPage(const QString& heading, const QList<QWidget*>& below);

} // namespace rw
