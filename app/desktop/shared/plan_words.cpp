#include "app/desktop/shared/plan_words.h"

#include "core/plan/cautions.h"
#include "core/plan/limits.h"
#include "plotting/look.h"

#include <QCoreApplication>

#include <cmath>

namespace rw {

namespace {

QString tr(const char* text) { return QCoreApplication::translate("limits", text); }

// "Motor case, after soak" within a sentence.
QString limitName(std::string_view limit) {
    return limitTitle(limit).toLower().replace(QStringLiteral(", "), QStringLiteral(" "));
}

QString brokenText(const HoldAnswer& answer, const Units& units) {
    if (!answer.completed) return tr("the car does not reach the end of the timed zone");
    const QString worst = limitName(answer.tightest->limit), by = limitTexts(*answer.tightest, units).left;
    if (answer.broken == 1) return tr("the %1 is %2").arg(worst, by);
    if (answer.broken == 2) return tr("the %1 is %2, and one limit more").arg(worst, by);
    return tr("the %1 is %2, and %3 limits more").arg(worst, by).arg(answer.broken - 1);
}

QString remedyText(const HoldAnswer& answer, const Units& units) {
    if (answer.wouldHold) {
        const QString pair = pairText(answer.wouldHold->pinion, answer.wouldHold->spur);
        return tr("; %1 would hold, with %2").arg(pair, units.text(Dimension::Speed, answer.wouldHold->zoneMean));
    }
    return answer.pairsTried > 0 ? tr("; no other pair at hand would hold") : QString();
}

} // namespace

QString limitTitle(std::string_view limit) { return QString::fromUtf8(limitRow(limit).title); }

QString limitShort(std::string_view limit) { return QString::fromUtf8(limitRow(limit).shortName); }

QString limitAdvice(std::string_view limit) { return QString::fromUtf8(limitRow(limit).advice); }

QString limitLeft(std::string_view limit, double margin) {
    return margin < 0.0 ? tr("%1 over").arg(limitShort(limit))
                        : tr("%1 %2 %").arg(limitShort(limit), figure(100.0 * margin, 0));
}

LimitTexts limitTexts(const Margin& margin, const Units& units) {
    const LimitRow& row = limitRow(margin.limit);
    LimitTexts texts;
    texts.value = units.text(row.dimension, margin.value, row.decimals);
    texts.allowed =
        QString::fromUtf8(row.allowedWords) + u' ' + units.text(row.dimension, margin.allowed, row.decimals);
    if (row.dimension == Dimension::Share) texts.value = tr("%1 of rest").arg(texts.value);
    const double percent = std::abs(100.0 * margin.margin);
    const bool over = margin.margin < 0.0;
    if (over && percent < 0.05)
        texts.left = tr("just over");
    else
        texts.left = (over ? tr("%1 % over") : tr("%1 % left"))
                         .arg(figure(percent, over && percent < 0.95 ? 1 : 0)); // never "0 % over"
    return texts;
}

QString holdSentence(const HoldAnswer& answer, const Units& units) {
    if (!answer.holds()) return tr("Not like this: %1%2.").arg(brokenText(answer, units), remedyText(answer, units));
    if (!answer.tightest) return tr("It holds, as far as anything is stated: no limit is.");
    return tr("It holds; the %1 is the tightest, %2.")
        .arg(limitName(answer.tightest->limit), limitTexts(*answer.tightest, units).left);
}

QString heldBackSentence(const HoldBack& held, const Units& units) {
    QString who, what;
    switch (held.limit) {
    case Limit::None:
        return {};
    case Limit::Traction:
        who = tr("Grip holds it back");
        what = tr("more grip or load on the driven tyres would help");
        break;
    case Limit::MotorCurrent:
        who = tr("The motor current limit holds it back");
        what = tr("a higher limit or a shorter gearing would help");
        break;
    case Limit::PackCurrent:
        who = tr("The pack current limit holds it back");
        what = tr("a higher limit would help");
        break;
    case Limit::Cutoff:
        who = tr("The cutoff takes power");
        what = tr("a fuller, warmer or stronger pack would help");
        break;
    }
    const QString time = units.text(Dimension::Time, held.seconds);
    const QString span = held.allTheWay ? tr("all the way, for %1").arg(time) : tr("for %1").arg(time);
    return tr("%1 %2; %3%4.").arg(who, span, held.cellsHelp ? QString() : tr("more cells change nothing, "), what);
}

QString waitText(int seconds) {
    if (seconds < 60) return tr("%1 s").arg(seconds);
    return seconds % 60 == 0 ? tr("%1 min").arg(seconds / 60) : tr("%1 min %2 s").arg(seconds / 60).arg(seconds % 60);
}

QString pairText(int pinion, int spur) { return QStringLiteral("%1/%2").arg(pinion).arg(spur); }

QString cautionLine() { return QString::fromUtf8(shortCaution); }

QStringList cautionList() {
    QStringList list;
    for (const std::string_view caution : cautions)
        list << QString::fromUtf8(caution);
    return list;
}

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
