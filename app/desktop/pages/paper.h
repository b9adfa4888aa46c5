// The paper that people have in their printers; both kinds hold the run sheet.
#pragma once

#include <QLocale>
#include <QPageSize>

namespace rw {

[[nodiscard]] inline QPageSize::PageSizeId usualPaper() {
    switch (QLocale::system().territory()) {
    case QLocale::UnitedStates:
    case QLocale::Canada:
    case QLocale::Mexico:
        return QPageSize::Letter;
    default:
        return QPageSize::A4;
    }
}

} // namespace rw
