#include "app/desktop/review/cells_question.h"

#include "app/desktop/review/findings_panel.h"
#include "app/desktop/shared/labels.h"

#include <QHBoxLayout>
#include <QPushButton>

#include <algorithm>

namespace rw {

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

CellsQuestion::CellsQuestion(ReviewDesk& review, QWidget* parent)
    : QWidget(parent)
    , review_(review)
    , sentence_(new TextLabel(QString(), Type::Body, Tone::Warn))
    , byVoltage_(new QPushButton)
    , asPlanned_(new QPushButton) {
    sentence_->setWordWrap(true);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(gridStep);
    row->addWidget(sentence_, 1);
    row->addWidget(byVoltage_);
    row->addWidget(asPlanned_);
    connect(byVoltage_, &QPushButton::clicked, this, [this] {
        if (const auto log = review_.data())
            if (const auto dispute = cellsDispute(*log)) answer(dispute->byVoltage);
    });
    connect(asPlanned_, &QPushButton::clicked, this, [this] {
        if (const auto log = review_.data())
            if (const auto dispute = cellsDispute(*log)) answer({dispute->planned});
    });
    connect(&review, &ReviewDesk::dataChanged, this, &CellsQuestion::refresh);
    refresh();
}

void CellsQuestion::answer(std::vector<int> cells) {
    LogSaid said = review_.data()->context.said;
    said.cells = std::move(cells);
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
