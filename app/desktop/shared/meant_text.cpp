#include "app/desktop/shared/meant_text.h"

#include <algorithm>
#include <cmath>

namespace rw {

namespace {

constexpr int typedDigits = 6;   // longer figures come from a change of unit, not from a person
constexpr int roundedDigits = 4; // four tell a metre in a kilometre
constexpr int mostDecimals = 12;

int placeOf(double value) { return static_cast<int>(std::floor(std::log10(std::abs(value)))); }

QString withoutZeros(QString text) {
    if (!text.contains(u'.')) return text;
    while (text.endsWith(u'0'))
        text.chop(1);
    if (text.endsWith(u'.')) text.chop(1);
    return text;
}

QString fixedText(double value, int decimals) {
    QString text = withoutZeros(QString::number(value, 'f', std::clamp(decimals, 0, mostDecimals)));
    if (text == QStringLiteral("-0")) text = QStringLiteral("0");
    return text.replace(u'-', QChar(0x2212));
}

// Nothing but rounding of binary numbers is lost by this many digits.
bool isShort(double value) {
    const double read = QString::number(value, 'g', typedDigits).toDouble();
    return std::abs(read - value) <= 1e-11 * std::abs(value);
}

} // namespace

QString meantText(double value, double uncertainty) {
    if (value == 0.0 || !std::isfinite(value)) return value == 0.0 ? QStringLiteral("0") : QStringLiteral("–");
    const int place = placeOf(value);
    if (isShort(value)) return fixedText(value, typedDigits - 1 - place);
    int decimals = roundedDigits - 1 - place;
    if (uncertainty > 0.0) decimals = std::min(1 - placeOf(uncertainty), typedDigits - 1 - place);
    return fixedText(value, decimals);
}

QString fittedText(double value, double uncertainty) {
    return QString::number(value, 'f', std::clamp(1 - placeOf(uncertainty), 0, mostDecimals))
        .replace(u'-', QChar(0x2212));
}

QString meantUncertainty(double value) {
    if (value == 0.0 || !std::isfinite(value)) return {};
    return fixedText(value, 1 - placeOf(value));
}

} // namespace rw
