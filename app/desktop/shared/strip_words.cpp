#include "app/desktop/shared/strip_words.h"

#include <QCoreApplication>

namespace rw {

QString stripWord(StripKind kind) {
    const auto word = [](const char* text) { return QCoreApplication::translate("strip", text); };
    switch (kind) {
    case StripKind::RunUp:
        return word("run-up");
    case StripKind::Timed:
        return word("timed");
    case StripKind::Coast:
        return word("coast");
    case StripKind::Brake:
        return word("braking");
    case StripKind::Left:
        return word("left");
    case StripKind::Beyond:
        return word("beyond the end");
    }
    return {};
}

} // namespace rw
