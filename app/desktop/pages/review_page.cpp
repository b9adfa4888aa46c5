#include "app/desktop/pages/review_page.h"

#include "app/desktop/shared/plan_words.h"
#include "core/review/finding_kinds.h"
#include "core/units.h"

#include <QCoreApplication>
#include <QFileInfo>

namespace rw {

namespace {

QString tr(const char* text) { return QCoreApplication::translate("pages", text); }
QString counted(std::size_t number, const char* one, const char* many) {
    return tr(number == 1 ? one : many).arg(number);
}

QString titleOf(const Log& log) { return tr("Review: %1").arg(QFileInfo(QString::fromUtf8(log.file)).fileName()); }

std::optional<double> celsius(std::optional<double> kelvin) {
    return kelvin ? std::optional(celsiusFromKelvin(*kelvin)) : std::nullopt;
}

void addSessions(PageDocument& page, const LogReview& review, const Units& units) {
    for (std::size_t i = 0; i < review.sessions.size(); ++i) {
        const ReviewSession& s = review.sessions[i];
        QString text = tr("Session %1: ").arg(i + 1);
        text +=
            s.cells ? (s.cellsSure ? tr("%1 cells") : tr("%1 cells, assumed")).arg(*s.cells) : tr("cell count unknown");
        if (s.restingVoltage) text += tr(", resting at %1").arg(units.text(Dimension::Voltage, *s.restingVoltage, 2));
        text +=
            tr(", %1, lines %2 to %3").arg(units.text(Dimension::Time, s.duration, 0)).arg(s.startLine).arg(s.endLine);
        page.paragraph(text);
    }
}

void addPasses(PageDocument& page, const LogReview& review, const Units& units) {
    if (review.passes.empty()) return page.paragraph(tr("No pass was found in this log."));
    std::vector<QStringList> rows{{tr("pass"), tr("session, start"), tr("peak speed"), tr("peak A"), tr("V a cell"),
                                   tr("output"), tr("motor after"), tr("pack mΩ")}};
    constexpr double milli = 1e3;
    for (std::size_t i = 0; i < review.passes.size(); ++i) {
        const ReviewPass& p = review.passes[i];
        QString told = units.text(Dimension::Speed, bestSpeed(p), 1);
        if (!p.zoneSpeed && p.speedPeak && p.speedPeakLowerBound)
            told.prepend(QStringLiteral("≥ ")); // too few fixes a second
        rows.push_back(
            {QString::number(i + 1), tr("%1, %2").arg(p.session + 1).arg(units.text(Dimension::Time, p.start, 1)), told,
             units.figure(Dimension::Current, p.peakCurrent, 0), units.figure(Dimension::Voltage, p.minCellVoltage, 2),
             units.text(Dimension::Share, p.outputMax, 0),
             units.text(Dimension::Temperature, celsius(hottest(p.motor)), 0),
             p.packResistance ? QString::number(*p.packResistance * milli, 'f', 1) : QStringLiteral("–")});
    }
    page.heading(tr("Passes"));
    page.table(rows, 2);
}

void addFindings(PageDocument& page, const LogReview& review, const Units& units) {
    if (review.findings.empty() && review.passes.empty()) return; // silence about nothing is no praise
    page.heading(tr("What the log says"));
    if (review.findings.empty()) page.paragraph(tr("Nothing that needs a change."));
    for (const Finding& f : review.findings) {
        QString mark = QString::fromUtf8(severityName(f.severity));
        if (f.session) mark += tr(", session %1").arg(*f.session + 1);
        if (f.pass) mark += tr(", pass %1").arg(*f.pass + 1);
        mark += QStringLiteral(", %1–%2 s").arg(f.from, 0, 'f', 1).arg(f.to, 0, 'f', 1);
        page.entry(QString::fromUtf8(findingKind(f.id).title), mark,
                   {QString::fromUtf8(textOf(f.seen, units.choice())), QString::fromUtf8(f.meaning),
                    QString::fromUtf8(f.advice)});
    }
}

void addReview(PageDocument& page, const ReviewedLog& one, const Units& units) {
    const auto& [log, review, pictures] = one;
    page.title(titleOf(log), QStringList{counted(log.rows(), QT_TRANSLATE_NOOP("pages", "%1 row"),
                                                 QT_TRANSLATE_NOOP("pages", "%1 rows")),
                                         counted(review.sessions.size(), QT_TRANSLATE_NOOP("pages", "%1 session"),
                                                 QT_TRANSLATE_NOOP("pages", "%1 sessions")),
                                         counted(review.passes.size(), QT_TRANSLATE_NOOP("pages", "%1 pass"),
                                                 QT_TRANSLATE_NOOP("pages", "%1 passes")),
                                         counted(review.findings.size(), QT_TRANSLATE_NOOP("pages", "%1 finding"),
                                                 QT_TRANSLATE_NOOP("pages", "%1 findings"))}
                                 .join(QStringLiteral(", ")));
    addSessions(page, review, units);
    addPasses(page, review, units);
    for (const ReviewPicture& picture : pictures) {
        page.heading(picture.words);
        page.picture(picture.image, picture.words, reviewPictureWidth);
    }
    addFindings(page, review, units);
    if (!review.notJudged.empty()) {
        page.heading(tr("Not judged"));
        QStringList lines;
        for (const NotJudged& n : review.notJudged)
            lines << tr("%1: %2").arg(QString::fromUtf8(findingKind(n.id).title), QString::fromUtf8(n.why));
        lines.removeDuplicates();
        page.paragraph(lines.join(QLatin1Char('\n')), true);
    }
}

} // namespace

PageDocument makeReviewPage(const std::vector<ReviewedLog>& logs, const Units& units) {
    QStringList titles;
    for (const ReviewedLog& one : logs)
        titles << titleOf(one.log);
    PageDocument page(titles.join(QStringLiteral(", ")));
    for (const ReviewedLog& one : logs)
        addReview(page, one, units);
    page.paragraph(cautionLine(), true);
    return page;
}

} // namespace rw
