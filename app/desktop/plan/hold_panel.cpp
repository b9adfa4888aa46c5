#include "app/desktop/plan/hold_panel.h"

#include "app/desktop/plan/plan_session.h"
#include "app/desktop/shared/plan_words.h"
#include "app/desktop/shared/widgets.h"

#include <QGridLayout>
#include <QPainter>

#include <algorithm>
#include <cmath>
#include <utility>

namespace rw {

namespace {

constexpr double tight = 0.1; // less than this left is marked, common practice of leaving a tenth

} // namespace

class MarginBar : public QWidget {
public:
    MarginBar() { setFixedHeight(5); }
    void setShare(double share) {
        share_ = share;
        update();
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setPen(Qt::NoPen);
        const Look& look = Look::of(this);
        painter.setBrush(look.rule);
        painter.drawRoundedRect(rect(), 2.0, 2.0);
        if (share_ < 0.0) return drawHatch(painter, rect(), look.bad);
        painter.setBrush(share_ < tight ? look.warn : look.accent);
        painter.drawRoundedRect(QRectF(0.0, 0.0, std::clamp(share_, 0.0, 1.0) * width(), height()), 2.0, 2.0);
    }

private:
    double share_ = 0.0;
};

MarginRow::MarginRow() {
    auto* grid = new QGridLayout(this);
    grid->setContentsMargins(0, gridStep, 0, gridStep + 2);
    grid->setHorizontalSpacing(gridStep);
    grid->setVerticalSpacing(3);
    title_ = new TextLabel(QString());
    left_ = new TextLabel(QString(), Type::Strong);
    value_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    allowed_ = new TextLabel(QString(), Type::Small, Tone::Soft);
    advice_ = paragraph({}, Type::Small, Tone::Bad);
    bar_ = new MarginBar;
    grid->addWidget(title_, 0, 0);
    grid->addWidget(left_, 0, 1, Qt::AlignRight);
    grid->addWidget(value_, 1, 0);
    grid->addWidget(allowed_, 1, 1, Qt::AlignRight);
    grid->addWidget(bar_, 2, 0, 1, 2);
    grid->addWidget(advice_, 3, 0, 1, 2);
    grid->setColumnStretch(0, 1);
}

void MarginRow::show(const Margin& margin, const Units& units) {
    const LimitTexts texts = limitTexts(margin, units);
    const Tone tone = margin.margin < 0.0 ? Tone::Bad : margin.margin < tight ? Tone::Warn : Tone::Ink;
    title_->setText(limitTitle(margin.limit));
    left_->setText(texts.left);
    left_->setTone(tone);
    value_->setText(texts.value);
    allowed_->setText(texts.allowed);
    bar_->setShare(margin.margin);
    advice_->tell(margin.margin < 0.0 ? limitAdvice(margin.limit) : QString());
    setAccessibleName(text());
    setVisible(true);
}

QString MarginRow::text() const {
    QString whole = title_->text() + QStringLiteral(": ") + left_->text() + QStringLiteral(", ") + value_->text() +
                    QStringLiteral(", ") + allowed_->text();
    if (!advice_->text().isEmpty()) whole += QStringLiteral(". ") + advice_->text();
    return whole;
}

void MarginRow::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.fillRect(QRect(0, height() - 1, width(), 1), Look::of(this).rule);
}

HoldPanel::HoldPanel(PlanSession& session)
    : session_(session)
    , worker_(this, [this](std::shared_ptr<const HoldAnswer> found, const QString&) {
        if (!found) return; // the session says what is wrong with the input
        answer_ = std::move(found);
        draw();
    }) {
    auto* outer = columnIn(this, gridStep / 2, {20, 2 * gridStep, 0, gridStep});
    sentence_ = tagged(paragraph({}, Type::Strong), "holdSentence");
    heldBack_ = tagged(paragraph({}, Type::Body), "heldBack");
    for (TextLabel* opening : {sentence_, heldBack_})
        opening->setContentsMargins(0, 0, 2 * gridStep, 0);
    problem_ = paragraph({}, Type::Body, Tone::Bad);
    repeats_ = paragraph();
    bound_ = paragraph({}, Type::Body, Tone::Soft);
    auto* caution = paragraph(cautionLine(), Type::Small, Tone::Soft);
    auto* inside = new QWidget;
    column_ = laid(columnIn(inside, 0, {0, 0, gridStep, 0}),
                   {problem_, gap(gridStep), repeats_, gap(gridStep), bound_, gap(gridStep), caution, slack()});
    auto* area = scrolled(inside, Qt::StrongFocus);
    area->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
    place_ = columnIn(nullptr, usualSpacing, {0, 0, 2 * gridStep, 0});
    lay(*outer, {new TextLabel(tr("Will it hold?"), Type::Heading), sentence_, heldBack_, grow(area), place_});
    connect(&session_, &PlanSession::outcomeChanged, this, &HoldPanel::answer);
    connect(&session_.desk().units, &Units::changed, this, &HoldPanel::draw);
    answer();
}

void HoldPanel::take(QWidget* card) { place_->addWidget(card); }

QString HoldPanel::sentence() const { return sentence_->text(); }

// The rows are there at once; gears that would hold are looked for beside them.
void HoldPanel::answer() {
    const auto outcome = session_.outcome();
    if (outcome && session_.current())
        worker_.ask([outcome](std::stop_token stop) {
            return willItHold(outcome->input, outcome->result, {.stop = std::move(stop), .progress = {}, .threads = 0});
        });
    else
        worker_.cancel();
    if (!outcome) answer_.reset();
    draw();
}

void HoldPanel::draw() {
    const auto outcome = session_.outcome();
    sentence_->setText(answer_ ? holdSentence(*answer_, session_.units()) : QString());
    sentence_->setTone(answer_ && !answer_->holds() ? Tone::Bad : Tone::Ink);
    sentence_->setVisible(answer_ && session_.problem().isEmpty());
    heldBack_->setText(answer_ ? heldBackSentence(answer_->heldBack, session_.units()) : QString());
    heldBack_->setVisible(!heldBack_->text().isEmpty() && session_.problem().isEmpty());
    problem_->tell(session_.problem());
    const std::size_t count = outcome ? outcome->result.margins.size() : 0;
    while (rows_.size() < count) {
        rows_.push_back(new MarginRow);
        column_->insertWidget(static_cast<int>(rows_.size()), rows_.back());
    }
    for (std::size_t i = 0; i < rows_.size(); ++i) {
        if (i < count)
            rows_[i]->show(outcome->result.margins[i], session_.units());
        else
            rows_[i]->hide();
    }
    repeats_->setText(outcome ? repeatsText() : QString());
    bound_->setText(outcome ? boundText() : QString());
    setEnabled(session_.problem().isEmpty());
    emit answered();
}

QString HoldPanel::repeatsText() const {
    const PlanResult& result = session_.outcome()->result;
    const int gap = static_cast<int>(std::lround(session_.outcome()->input.drive.turn_around_s));
    QString first;
    if (result.passesUntilLimit == 0)
        first = tr("Not even the first pass stays within every limit.");
    else if (result.passesUntilLimit >= 20)
        first = tr("20 passes or more in a row, %1 apart, stay within the limits.").arg(waitText(gap));
    else if (result.passesUntilLimit == 1)
        first = tr("One pass, then wait: a second one %1 later goes over a limit.").arg(waitText(gap));
    else
        first = tr("%1 passes in a row, %2 apart, before a limit is passed.")
                    .arg(result.passesUntilLimit)
                    .arg(waitText(gap));
    if (!result.shortestWait_s)
        return first + u' ' + tr("Within an hour there is no wait that lets a second pass hold.");
    if (*result.shortestWait_s == 0) return first + u' ' + tr("A second pass needs no wait.");
    return first + u' ' + tr("Before a second pass wait at least %1.").arg(waitText(*result.shortestWait_s));
}

// What held the car back on the first pass, longest first.
QString HoldPanel::boundText() const {
    const PlanResult& result = session_.outcome()->result;
    if (result.passes.empty()) return {};
    const PassResult& pass = result.passes.front();
    if (!pass.completed) return tr("The pass is not completed: the car does not reach the end of the timed zone.");
    std::vector<std::pair<double, QString>> bound{{pass.bound.traction, tr("traction")},
                                                  {pass.bound.motorCurrent, tr("the motor current limit")},
                                                  {pass.bound.packCurrent, tr("the pack current limit")},
                                                  {pass.bound.cutoff, tr("the cutoff")}};
    std::erase_if(bound, [](const auto& part) { return part.first < 0.05; });
    if (bound.empty()) return tr("Nothing bound the pass: full throttle was full throttle.");
    std::sort(bound.begin(), bound.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    QStringList words;
    for (const auto& [seconds, name] : bound)
        words << tr("%1 for %2").arg(name, session_.units().text(Dimension::Time, seconds));
    return tr("What bound the pass: %1.").arg(words.join(QStringLiteral(", ")));
}

} // namespace rw
