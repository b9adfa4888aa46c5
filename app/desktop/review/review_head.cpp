#include "app/desktop/review/review_head.h"

#include "app/desktop/review/findings_panel.h"
#include "app/desktop/review/review_units.h"
#include "app/desktop/shared/bench.h"
#include "app/desktop/shared/garage_text.h"
#include "app/desktop/shared/widgets.h"

#include <QComboBox>
#include <QFileInfo>
#include <QSignalBlocker>
#include <QToolButton>

#include <algorithm>

namespace rw {

QString summaryOf(const ReviewData& current, const QString& benchName) {
    const LogReview& review = *current.review;
    QStringList parts{counted(review.sessions.size(), ReviewHead::tr("session"), ReviewHead::tr("sessions")) +
                      QStringLiteral(", ") +
                      counted(review.passes.size(), ReviewHead::tr("pass"), ReviewHead::tr("passes"))};
    if (!review.passes.empty() && review.passes.front().rate > 0.0)
        parts << ReviewHead::tr("%1 rows a second").arg(figure(review.passes.front().rate, 0));
    if (current.source.kept && current.known.plan)
        parts << ReviewHead::tr("judged by the setup it ran with");
    else if (current.options.plan)
        parts << ReviewHead::tr("judged by %1").arg(benchName);
    else
        parts << ReviewHead::tr("judged by default limits");
    return parts.join(QStringLiteral(" · "));
}

int doubtfulColumns(const ImportReport& report) {
    return static_cast<int>(std::ranges::count_if(report.columns, [](const ImportColumn& column) {
        return column.quantity ? column.confidence < 0.8 : column.guess.has_value();
    }));
}

ReviewHead::ReviewHead(ReviewDesk& review)
    : review_(review)
    , logs_(named(new QComboBox, tr("Open logs")))
    , summary_(new ShortLabel(Type::Body))
    , check_(new QToolButton)
    , best_(new FigureLabel(Type::Figure))
    , hottest_(new FigureLabel(Type::Figure)) {
    logs_->setMaximumWidth(32 * gridStep);
    check_->setToolTip(tr("See how the columns were read, and correct them"));
    lay(*rowIn(this, 2 * gridStep),
        {logs_, grow(summary_), check_, figure(tr("best pass"), best_), figure(tr("hottest motor"), hottest_)});
    connect(check_, &QToolButton::clicked, this, &ReviewHead::importWanted);
    connect(logs_, &QComboBox::activated, this, [this](int index) { review_.show(logs_->itemData(index).toInt()); });
    connect(&review, &ReviewDesk::logsChanged, this, &ReviewHead::fillLogs);
    connect(&review, &ReviewDesk::dataChanged, this, &ReviewHead::refresh);
    connect(&review.desk().units, &Units::changed, this, &ReviewHead::refresh);
    fillLogs();
    refresh();
}

QWidget* ReviewHead::figure(const QString& name, FigureLabel* label) const {
    auto* pair = new QWidget;
    lay(*columnIn(pair, 0),
        {Piece(new TextLabel(name, Type::Small, Tone::Soft), 0, Qt::AlignRight), Piece(label, 0, Qt::AlignRight)});
    return pair;
}

void ReviewHead::fillLogs() {
    const QSignalBlocker quiet(logs_);
    logs_->clear();
    for (const auto& log : review_.logs())
        logs_->addItem(QFileInfo(QString::fromStdString(log->source.path)).fileName(), log->id);
    if (const auto current = review_.data()) logs_->setCurrentIndex(logs_->findData(current->id));
    logs_->setVisible(review_.logs().size() > 1);
    refresh();
}

void ReviewHead::refresh() {
    const auto current = review_.data();
    if (!current) return;
    const QString file = QFileInfo(QString::fromStdString(current->source.path)).fileName();
    const QString summary = summaryOf(*current, review_.desk().bench.content().name);
    if (review_.logs().size() > 1)
        summary_->setText(QString(), summary);
    else
        summary_->setText(file, QStringLiteral(" · ") + summary);
    const int doubtful = doubtfulColumns(current->log->report);
    check_->setVisible(doubtful > 0);
    check_->setText(doubtful == 1 ? tr("Check 1 column") : tr("Check %1 columns").arg(doubtful));

    std::optional<double> best, most;
    for (const ReviewPass& pass : current->review->passes) {
        best = std::max(best, bestSpeed(pass));
        most = std::max(most, hottest(pass.motor));
    }
    const Units& units = review_.desk().units;
    best_->setFigure(units.figure(Dimension::Speed, best), units.symbol(Dimension::Speed));
    const UnitView heat = viewOf(Quantity::MotorTemperature, units).unit;
    hottest_->setFigure(most ? rw::figure(heat.shown(*most), 0) : QStringLiteral("–"), heat.symbol);
    best_->parentWidget()->setVisible(best.has_value());
    hottest_->parentWidget()->setVisible(most.has_value());
}

std::optional<CellsDispute> cellsDispute(const ReviewData& data) {
    if (!data.options.plan || !data.context.said.cells.empty()) return std::nullopt;
    CellsDispute dispute;
    dispute.planned = data.options.plan->pack.series;
    const auto& sessions = data.review->sessions;
    // Another pack beside those that the plan fits is an ordinary day; a plan that fits none of them is asked about.
    const bool fits = std::ranges::any_of(sessions, &ReviewSession::planFits);
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        const auto count = sessions[i].cellsByVoltage ? sessions[i].cellsByVoltage : sessions[i].cells;
        if (count && *count != dispute.planned && (sessions[i].cellsByVoltage || !fits)) dispute.sessions.push_back(i);
        dispute.byVoltage.push_back(count.value_or(dispute.planned));
    }
    return dispute.sessions.empty() ? std::nullopt : std::optional(dispute);
}

CellsQuestion::CellsQuestion(ReviewDesk& review)
    : review_(review)
    , sentence_(paragraph({}, Type::Body, Tone::Warn))
    , byVoltage_(button({}, this, [this] { answer(false); }))
    , asPlanned_(button({}, this, [this] { answer(true); })) {
    lay(*rowIn(this, gridStep), {grow(sentence_), byVoltage_, asPlanned_});
    connect(&review, &ReviewDesk::dataChanged, this, &CellsQuestion::refresh);
    refresh();
}

void CellsQuestion::answer(bool asPlanned) {
    const auto log = review_.data();
    const auto dispute = log ? cellsDispute(*log) : std::nullopt;
    if (!dispute) return;
    LogSaid said = log->context.said;
    said.cells = asPlanned ? std::vector{dispute->planned} : dispute->byVoltage;
    review_.setJudging(said);
}

void CellsQuestion::refresh() {
    const auto log = review_.data();
    const auto dispute = log ? cellsDispute(*log) : std::nullopt;
    setVisible(dispute.has_value());
    if (!dispute) return;
    const ReviewSession& first = log->review->sessions[dispute->sessions.front()];
    const int rests = dispute->byVoltage[dispute->sessions.front()];
    sentence_->setText(tr("Which pack was it? The plan has %1 cells; session %2 rests at %3 V, which says %4.")
                           .arg(dispute->planned)
                           .arg(rangesText(dispute->sessions))
                           .arg(figure(first.restingVoltage.value_or(0.0), 1))
                           .arg(rests));
    byVoltage_->setText(tr("%1 cells, as it rests").arg(rests));
    asPlanned_->setText(tr("%1 cells, as planned").arg(dispute->planned));
}

} // namespace rw
