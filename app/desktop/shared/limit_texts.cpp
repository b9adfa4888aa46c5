#include "app/desktop/shared/limit_texts.h"

#include "core/plan/limits.h"
#include "plotting/look.h"

#include <QCoreApplication>

#include <cmath>

namespace rw {

namespace {

QString plain(std::string_view text) { return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size())); }
QString translated(const char* text) { return QCoreApplication::translate("limits", text); }

} // namespace

QString limitTitle(std::string_view limit) { return plain(limitRow(limit).title); }

QString limitShort(std::string_view limit) { return plain(limitRow(limit).shortName); }

QString limitAdvice(std::string_view limit) { return plain(limitRow(limit).advice); }

LimitTexts limitTexts(const Margin& margin, const Units& units) {
    const LimitRow& row = limitRow(margin.limit);
    LimitTexts texts;
    texts.value = units.text(row.dimension, margin.value, row.decimals);
    texts.allowed = plain(row.allowedWords) + u' ' + units.text(row.dimension, margin.allowed, row.decimals);
    if (row.dimension == Dimension::Share) texts.value = translated("%1 of rest").arg(texts.value);
    const double percent = std::abs(100.0 * margin.margin);
    const bool over = margin.margin < 0.0;
    if (over && percent < 0.05)
        texts.left = translated("just over");
    else
        texts.left = (over ? translated("%1 % over") : translated("%1 % left"))
                         .arg(figure(percent, over && percent < 0.95 ? 1 : 0)); // never "0 % over"
    return texts;
}

} // namespace rw
