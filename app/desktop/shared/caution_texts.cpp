#include "app/desktop/shared/caution_texts.h"

#include "core/plan/cautions.h"

namespace rw {

namespace {

QString plain(std::string_view text) { return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size())); }

} // namespace

QString cautionLine() { return plain(shortCaution()); }

QStringList cautionList() {
    QStringList list;
    for (const std::string_view caution : cautions())
        list << plain(caution);
    return list;
}

} // namespace rw
