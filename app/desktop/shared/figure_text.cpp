#include "app/desktop/shared/figure_text.h"

#include "core/error.h"
#include "core/plan/plan_fields.h"

#include <QCoreApplication>
#include <QJsonArray>
#include <QJsonDocument>
#include <QRegularExpression>
#include <QStringList>

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

QString tr(const char* text) { return QCoreApplication::translate("fields", text); }

InputError complaint(const QString& sentence) { return InputError({}, sentence.toStdString()); }

int teethOf(const PlanField& field, const QString& digits) {
    bool read = false;
    const int count = digits.toInt(&read);
    if (!read) throw complaint(tr("%1 is no number of teeth.").arg(digits));
    if (count < field.low || count > field.high)
        throw complaint(
            tr("%1 teeth are out of range; allowed is %2 to %3.").arg(digits).arg(field.low).arg(field.high));
    return count;
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

std::vector<int> typedTeeth(const PlanField& field, const QString& text) {
    static const QRegularExpression mark(
        QStringLiteral("\\s*(?:\\.{2,3}|[-\\x{2010}-\\x{2015}\\x{2026}]|\\bto\\b)\\s*"));
    static const QRegularExpression gap(QStringLiteral("[,;\\s]+"));
    static const QRegularExpression one(QStringLiteral("^(\\d+)(?:-(\\d+))?$"));
    QString plain = text;
    plain.replace(mark, QStringLiteral("-"));
    std::vector<int> teeth;
    for (const QString& word : plain.split(gap, Qt::SkipEmptyParts)) {
        const QRegularExpressionMatch match = one.match(word);
        if (!match.hasMatch())
            throw complaint(tr("“%1” is not understood; write teeth like 20, 22 or a range like 25-34.").arg(word));
        const int from = teethOf(field, match.captured(1));
        const int to = match.capturedLength(2) > 0 ? teethOf(field, match.captured(2)) : from;
        if (to < from) throw complaint(tr("%1 to %2 runs downwards; write %2-%1.").arg(from).arg(to));
        for (int count = from; count <= to; ++count)
            if (std::find(teeth.begin(), teeth.end(), count) == teeth.end()) teeth.push_back(count);
    }
    if (teeth.empty()) throw complaint(tr("List at least one gear."));
    return teeth;
}

QString teethText(const std::vector<int>& teeth) {
    QStringList words;
    for (std::size_t i = 0; i < teeth.size();) {
        std::size_t end = i + 1;
        while (end < teeth.size() && teeth[end] == teeth[end - 1] + 1)
            ++end;
        if (end - i >= 3) {
            words << tr("%1 to %2").arg(teeth[i]).arg(teeth[end - 1]);
            i = end;
        } else {
            words << QString::number(teeth[i++]);
        }
    }
    return words.join(QStringLiteral(", "));
}

std::vector<int> teethFromText(const std::string& text) {
    std::vector<int> teeth;
    for (const auto count : QJsonDocument::fromJson(QByteArray::fromStdString(text)).array())
        teeth.push_back(count.toInt());
    return teeth;
}

} // namespace rw
