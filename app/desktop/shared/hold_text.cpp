#include "app/desktop/shared/hold_text.h"

#include "app/desktop/shared/limit_texts.h"

#include <QCoreApplication>

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
        const QString pair = QStringLiteral("%1/%2").arg(answer.wouldHold->pinion).arg(answer.wouldHold->spur);
        return tr("; %1 would hold, with %2").arg(pair, units.text(Dimension::Speed, answer.wouldHold->zoneMean));
    }
    return answer.pairsTried > 0 ? tr("; no other pair at hand would hold") : QString();
}

} // namespace

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

} // namespace rw
