#include "app/desktop/review/findings_panel.h"

#include "app/desktop/shared/units.h"
#include "app/desktop/shared/widgets.h"
#include "core/review/finding_kinds.h"

#include <QHash>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>
#include <numeric>

namespace rw {

namespace {

Tone toneOf(Severity severity) {
    return severity == Severity::Act ? Tone::Bad : severity == Severity::Watch ? Tone::Warn : Tone::Soft;
}

// Layouts ask every label for its height again whenever one is added: it is worked out once a width. A long list of
// findings would hold up the window otherwise.
class WrappedLabel : public TextLabel {
public:
    WrappedLabel(const QString& words, Type type, Tone tone)
        : TextLabel(words, type, tone) {
        setWordWrap(true);
        setAttribute(Qt::WA_TransparentForMouseEvents);
        QSizePolicy policy(QSizePolicy::Ignored, QSizePolicy::Minimum);
        policy.setHeightForWidth(true);
        setSizePolicy(policy);
    }
    [[nodiscard]] QSize sizeHint() const override { return {0, fontMetrics().height()}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }
    [[nodiscard]] int heightForWidth(int width) const override {
        const auto known = heights_.constFind(width);
        if (known != heights_.cend()) return *known;
        if (heights_.size() > mostWidths) heights_.clear();
        return *heights_.insert(width, TextLabel::heightForWidth(width));
    }

protected:
    void changeEvent(QEvent* event) override {
        heights_.clear();
        TextLabel::changeEvent(event);
    }

private:
    static constexpr int mostWidths = 8;
    mutable QHash<int, int> heights_;
};

constexpr std::size_t pageOfCards = 40;

void clear(QLayout& layout) {
    while (QLayoutItem* item = layout.takeAt(0)) {
        delete item->widget();
        delete item;
    }
}

// The severity in words, framed in its colour: never told by colour alone.
class Tag : public QWidget {
public:
    Tag(const QString& word, Tone tone)
        : word_(word)
        , tone_(tone) {
        setAttribute(Qt::WA_TransparentForMouseEvents);
        const QFontMetricsF metrics(rw::font(Type::SmallStrong));
        setFixedSize(static_cast<int>(metrics.horizontalAdvance(word)) + 15, static_cast<int>(metrics.height()) + 4);
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setPen(QPen(toneColour(Look::of(this), tone_), 1.0));
        painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 4.0, 4.0);
        painter.setFont(rw::font(Type::SmallStrong));
        painter.drawText(rect(), Qt::AlignCenter, word_);
    }

private:
    QString word_;
    Tone tone_;
};

} // namespace

QString rangesText(const std::vector<std::size_t>& indices) {
    QStringList parts;
    for (std::size_t i = 0; i < indices.size();) {
        std::size_t end = i;
        while (end + 1 < indices.size() && indices[end + 1] == indices[end] + 1)
            ++end;
        const QString first = QString::number(indices[i] + 1);
        parts << (end == i ? first : first + QStringLiteral("–") + QString::number(indices[end] + 1));
        i = end + 1;
    }
    return parts.join(QStringLiteral(", "));
}

QString placeOf(const ReviewData& current, const Finding& finding) {
    QStringList parts;
    if (finding.session && current.review->sessions.size() > 1)
        parts << FindingsPanel::tr("session %1").arg(*finding.session + 1);
    double zero = 0.0;
    if (finding.pass) {
        parts << FindingsPanel::tr("pass %1").arg(*finding.pass + 1);
        zero = current.review->passes[*finding.pass].start; // what happens in a pass counts from its throttle
    }
    const QString from = figure(finding.from - zero, 1);
    const QString to = figure(finding.to - zero, 1);
    const QString span = finding.from < zero ? FindingsPanel::tr("%1 to %2").arg(from, to) // no dash beside a minus
                                             : from + QStringLiteral("–") + to;
    parts << (from == to ? from : span) + QStringLiteral("\u00A0s");
    return parts.join(QStringLiteral(", "));
}

FindingCard::FindingCard(const ReviewData& current, std::size_t finding, const Units& units)
    : finding_(finding) {
    const Finding& what = current.review->findings[finding];
    setFocusPolicy(Qt::StrongFocus);
    setCursor(Qt::PointingHandCursor);
    setAttribute(Qt::WA_Hover);
    const QString title = QString::fromUtf8(findingKind(what.id).title);
    const QString severity = QString::fromUtf8(severityName(what.severity));
    const QString seen = QString::fromUtf8(textOf(what.seen, units.choice()));
    setAccessibleName(severity + QStringLiteral(": ") + title + QStringLiteral(". ") + seen);
    setToolTip(tr("Threshold: %1").arg(QString::fromUtf8(textOf(what.threshold, units.choice())).toHtmlEscaped()));

    auto* head = new QHBoxLayout;
    head->addWidget(new WrappedLabel(title, Type::Strong, Tone::Ink), 1);
    head->addWidget(new Tag(severity, toneOf(what.severity)), 0, Qt::AlignTop);
    auto* column = laid(columnIn(this, 2, {gridStep, gridStep + 2, gridStep, gridStep + 2}),
                        {head, new WrappedLabel(placeOf(current, what), Type::Small, Tone::Soft),
                         new WrappedLabel(seen, Type::Body, Tone::Ink)});
    if (!what.meaning.empty())
        column->addWidget(new WrappedLabel(QString::fromStdString(what.meaning), Type::Small, Tone::Soft));
    if (!what.advice.empty())
        column->addWidget(new WrappedLabel(QString::fromStdString(what.advice), Type::Body, Tone::Accent));
}

void FindingCard::setShown(bool shown) {
    shown_ = shown;
    update();
}

void FindingCard::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton && rect().contains(event->position().toPoint())) emit activated(finding_);
}

void FindingCard::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter || event->key() == Qt::Key_Space) {
        emit activated(finding_);
    } else if (event->key() == Qt::Key_Down) {
        focusNextChild();
    } else if (event->key() == Qt::Key_Up) {
        focusPreviousChild();
    } else {
        QFrame::keyPressEvent(event);
    }
}

void FindingCard::paintEvent(QPaintEvent*) {
    const Look& look = Look::of(this);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    if (shown_ || underMouse()) {
        QColor wash = look.wash;
        wash.setAlphaF(shown_ ? 1.0F : 0.5F);
        fillRounded(painter, QRectF(rect()).adjusted(0.0, 2.0, 0.0, -3.0), 5.0, wash);
    }
    painter.setBrush(Qt::NoBrush);
    strokeLine(painter, QPen(look.rule, 1.0), QPointF(0.0, height() - 0.5), QPointF(width(), height() - 0.5));
    if (hasFocus()) {
        strokeLine(painter, QPen(look.accent, 2.0), QPointF(1.0, 4.0), QPointF(1.0, height() - 5.0));
    }
}

FindingsPanel::FindingsPanel(ReviewDesk& review)
    : review_(review)
    , heading_(new TextLabel(tr("What the log says"), Type::Heading))
    , cards_(new QVBoxLayout)
    , tail_(new QVBoxLayout)
    , more_(button({}, this, &FindingsPanel::showMore)) {
    auto* inside = new QWidget;
    for (QVBoxLayout* part : {cards_, tail_})
        part->setSpacing(0);
    lay(*columnIn(inside, 0, {0, 0, gridStep, 0}), {cards_, Piece(more_, 0, Qt::AlignLeft), tail_, slack(1)});
    more_->hide();
    auto* scroll = scrolled(inside);
    lay(*columnIn(this, gridStep / 2), {heading_, grow(scroll)});
    once(pace_, 0, this, &FindingsPanel::addSome);
    connect(&review, &ReviewDesk::dataChanged, this, &FindingsPanel::refresh);
    connect(&review.desk().units, &Units::changed, this, &FindingsPanel::refresh);
    connect(&review, &ReviewDesk::findingShown, this, [this, scroll](int finding) {
        for (FindingCard* card : cards()) {
            const bool here = static_cast<int>(card->finding()) == finding;
            card->setShown(here);
            if (here) scroll->ensureWidgetVisible(card);
        }
    });
    refresh();
}

QList<FindingCard*> FindingsPanel::cards() const { return findChildren<FindingCard*>(); }

void FindingsPanel::refresh() {
    pace_.stop();
    more_->hide();
    clear(*cards_);
    clear(*tail_);
    const auto current = review_.data();
    if (!current) return;
    const std::vector<Finding>& findings = current->review->findings;
    order_.resize(findings.size());
    std::iota(order_.begin(), order_.end(), 0U);
    std::ranges::stable_sort(order_, std::greater(), [&](std::size_t one) { return findings[one].severity; });
    heading_->setText(findings.empty() ? tr("What the log says") : tr("What the log says · %1").arg(findings.size()));
    next_ = 0;
    page_ = pageOfCards;
    pace_.start(); // lanes and tables are painted first
}

void FindingsPanel::addSome() {
    constexpr std::size_t atOnce = 4;
    const auto current = review_.data();
    if (!current) return;
    if (next_ == 0) addTail(*current->review);
    const std::size_t wanted = std::min(page_, order_.size());
    for (std::size_t added = 0; added < atOnce && next_ < wanted; ++added) {
        auto* card = new FindingCard(*current, order_[next_++], review_.desk().units);
        connect(card, &FindingCard::activated, &review_, &ReviewDesk::goToFinding);
        cards_->addWidget(card);
    }
    if (next_ < wanted) return pace_.start();
    const std::size_t left = order_.size() - next_;
    more_->setVisible(left > 0);
    more_->setText(tr("Show %1 of %2 more").arg(std::min(left, pageOfCards)).arg(left));
}

void FindingsPanel::addTail(const LogReview& review) {
    if (review.findings.empty())
        tail_->addWidget(new WrappedLabel(
            tr("Nothing stands out: everything that could be judged is within its limits."), Type::Body, Tone::Ink));
    addNotJudged(review);
    addNotes(review);
}

void FindingsPanel::showMore() {
    page_ += pageOfCards;
    addSome();
}

// What holds for many sessions is said once.
void FindingsPanel::addNotJudged(const LogReview& review) {
    if (review.notJudged.empty()) return;
    lay(*tail_, {gap(2 * gridStep), new WrappedLabel(tr("Could not be judged"), Type::Strong, Tone::Ink)});
    std::vector<std::pair<const NotJudged*, std::vector<std::size_t>>> groups;
    for (const NotJudged& what : review.notJudged) {
        auto group = std::find_if(groups.begin(), groups.end(), [&](const auto& candidate) {
            return candidate.first->id == what.id && candidate.first->why == what.why &&
                   candidate.first->session.has_value() == what.session.has_value();
        });
        if (group == groups.end()) group = groups.insert(group, {&what, {}});
        if (what.session) group->second.push_back(*what.session);
    }
    for (const auto& [what, sessions] : groups) {
        QString place = QString::fromUtf8(findingKind(what->id).title);
        if (sessions.size() == 1) place += tr(", session %1").arg(sessions.front() + 1);
        if (sessions.size() > 1) place += tr(", sessions %1").arg(rangesText(sessions));
        lay(*tail_,
            {gap(gridStep / 2), new WrappedLabel(place + QStringLiteral(": ") + QString::fromStdString(what->why),
                                                 Type::Small, Tone::Soft)});
    }
}

void FindingsPanel::addNotes(const LogReview& review) {
    std::vector<std::string> notes = review_.data()->log->notes;
    notes.insert(notes.end(), review.notes.begin(), review.notes.end());
    if (notes.empty()) return;
    lay(*tail_, {gap(2 * gridStep), new WrappedLabel(tr("How it was read"), Type::Strong, Tone::Ink)});
    for (const std::string& note : notes) {
        lay(*tail_, {gap(gridStep / 2), new WrappedLabel(QString::fromStdString(note), Type::Small, Tone::Soft)});
    }
}

} // namespace rw
