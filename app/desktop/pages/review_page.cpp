#include "app/desktop/pages/review_page.h"

#include "app/desktop/shared/caution_texts.h"
#include "core/review/finding_kinds.h"
#include "core/units.h"

#include <QCoreApplication>
#include <QFileInfo>

namespace rw {

namespace {

QString words(const char* text) { return QCoreApplication::translate("pages", text); }
QString plain(std::string_view text) { return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size())); }

QString counted(std::size_t number, const char* one, const char* many) {
    return words(number == 1 ? one : many).arg(number);
}

QString titleOf(const Log& log) {
    return words(QT_TRANSLATE_NOOP("pages", "Review: %1")).arg(QFileInfo(plain(log.file)).fileName());
}

std::optional<double> celsius(std::optional<double> kelvin) {
    return kelvin ? std::optional(celsiusFromKelvin(*kelvin)) : std::nullopt;
}

void addSessions(PageDocument& page, const LogReview& review, const Units& units) {
    for (std::size_t i = 0; i < review.sessions.size(); ++i) {
        const ReviewSession& s = review.sessions[i];
        QString text = words(QT_TRANSLATE_NOOP("pages", "Session %1: ")).arg(i + 1);
        text += s.cells ? words(s.cellsSure ? QT_TRANSLATE_NOOP("pages", "%1 cells")
                                            : QT_TRANSLATE_NOOP("pages", "%1 cells, assumed"))
                              .arg(*s.cells)
                        : words(QT_TRANSLATE_NOOP("pages", "cell count unknown"));
        if (s.restingVoltage)
            text += words(QT_TRANSLATE_NOOP("pages", ", resting at %1"))
                        .arg(units.text(Dimension::Voltage, *s.restingVoltage, 2));
        text += words(QT_TRANSLATE_NOOP("pages", ", %1, lines %2 to %3"))
                    .arg(units.text(Dimension::Time, s.duration, 0))
                    .arg(s.startLine)
                    .arg(s.endLine);
        page.paragraph(text);
    }
}

void addPasses(PageDocument& page, const LogReview& review, const Units& units) {
    if (review.passes.empty())
        return page.paragraph(words(QT_TRANSLATE_NOOP("pages", "No pass was found in this log.")));
    std::vector<QStringList> rows{
        {words(QT_TRANSLATE_NOOP("pages", "pass")), words(QT_TRANSLATE_NOOP("pages", "session, start")),
         words(QT_TRANSLATE_NOOP("pages", "peak speed")), words(QT_TRANSLATE_NOOP("pages", "peak A")),
         words(QT_TRANSLATE_NOOP("pages", "V a cell")), words(QT_TRANSLATE_NOOP("pages", "output")),
         words(QT_TRANSLATE_NOOP("pages", "motor after")), words(QT_TRANSLATE_NOOP("pages", "pack mΩ"))}};
    constexpr double milli = 1e3;
    for (std::size_t i = 0; i < review.passes.size(); ++i) {
        const ReviewPass& p = review.passes[i];
        QString told = units.text(Dimension::Speed, bestSpeed(p), 1);
        if (!p.zoneSpeed && p.speedPeak && p.speedPeakLowerBound)
            told.prepend(QStringLiteral("≥ ")); // too few fixes a second
        rows.push_back({QString::number(i + 1),
                        words(QT_TRANSLATE_NOOP("pages", "%1, %2"))
                            .arg(p.session + 1)
                            .arg(units.text(Dimension::Time, p.start, 1)),
                        told, units.figure(Dimension::Current, p.peakCurrent, 0),
                        units.figure(Dimension::Voltage, p.minCellVoltage, 2),
                        units.text(Dimension::Share, p.outputMax, 0),
                        units.text(Dimension::Temperature, celsius(hottest(p.motor)), 0),
                        p.packResistance ? QString::number(*p.packResistance * milli, 'f', 1) : QStringLiteral("–")});
    }
    page.heading(words(QT_TRANSLATE_NOOP("pages", "Passes")));
    page.table(rows, 2);
}

void addFindings(PageDocument& page, const LogReview& review, const Units& units) {
    if (review.findings.empty() && review.passes.empty()) return; // silence about nothing is no praise
    page.heading(words(QT_TRANSLATE_NOOP("pages", "What the log says")));
    if (review.findings.empty()) page.paragraph(words(QT_TRANSLATE_NOOP("pages", "Nothing that needs a change.")));
    for (const Finding& f : review.findings) {
        QString mark = plain(severityName(f.severity));
        if (f.session) mark += words(QT_TRANSLATE_NOOP("pages", ", session %1")).arg(*f.session + 1);
        if (f.pass) mark += words(QT_TRANSLATE_NOOP("pages", ", pass %1")).arg(*f.pass + 1);
        mark += QStringLiteral(", %1–%2 s").arg(f.from, 0, 'f', 1).arg(f.to, 0, 'f', 1);
        page.entry(plain(findingKind(f.id).title), mark,
                   {plain(textOf(f.seen, units.choice())), plain(f.meaning), plain(f.advice)});
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
        page.heading(words(QT_TRANSLATE_NOOP("pages", "Not judged")));
        QStringList lines;
        for (const NotJudged& n : review.notJudged)
            lines << words(QT_TRANSLATE_NOOP("pages", "%1: %2")).arg(plain(findingKind(n.id).title), plain(n.why));
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
