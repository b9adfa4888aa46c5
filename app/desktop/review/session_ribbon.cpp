#include "app/desktop/review/session_ribbon.h"

#include "app/desktop/review/review_charts.h"
#include "app/desktop/review/review_edit.h"
#include "plotting/look.h"

#include <QHelpEvent>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QToolTip>

#include <algorithm>
#include <cmath>

namespace rw {

constexpr double blockHeight = 26.0;
constexpr double gripReach = 5.0;

RibbonScale::RibbonScale(const std::vector<Range>& sessions, Range pixels) {
    if (sessions.empty()) return;
    constexpr double gapShare = 1.0 / 12.0;
    constexpr double leastGap = 12.0;
    double length = 0.0;
    for (const Range& session : sessions)
        length += std::max(1e-3, session.span());
    const auto gapCount = static_cast<double>(sessions.size() - 1);
    const double widestGap = std::clamp(gapShare * pixels.span(), leastGap,
                                        std::max(leastGap, 0.5 * pixels.span() / std::max(1.0, gapCount)));
    std::vector<double> gaps;
    double gapPixels = 0.0;
    for (std::size_t i = 1; i < sessions.size(); ++i) {
        const double natural = (sessions[i].from - sessions[i - 1].to) / length * pixels.span();
        gaps.push_back(std::clamp(natural, leastGap, widestGap));
        gapPixels += gaps.back();
    }
    const double perSecond = std::max(1.0, pixels.span() - gapPixels) / length;
    double at = pixels.from;
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        const double width = std::max(1e-3, sessions[i].span()) * perSecond;
        blocks_.push_back({at, at + width});
        knots_.push_back({sessions[i].from, at});
        knots_.push_back({std::max(sessions[i].to, sessions[i].from + 1e-3), at + width});
        at += width + (i < gaps.size() ? gaps[i] : 0.0);
    }
}

double RibbonScale::along(double at, double Knot::*from, double Knot::*to) const {
    if (knots_.empty()) return 0.0;
    if (at <= knots_.front().*from) return knots_.front().*to;
    for (std::size_t i = 1; i < knots_.size(); ++i) {
        const Knot &a = knots_[i - 1], &b = knots_[i];
        if (at > b.*from) continue;
        return b.*from <= a.*from ? b.*to : a.*to + (at - a.*from) / (b.*from - a.*from) * (b.*to - a.*to);
    }
    return knots_.back().*to;
}

std::optional<std::size_t> RibbonScale::blockAt(double pixel) const {
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
        if (blocks_[i].contains(pixel)) return i;
    }
    return std::nullopt;
}

SessionRibbon::SessionRibbon(ReviewDesk& review)
    : review_(review) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setAccessibleName(tr("Sessions and passes of the log"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    const auto redraw = [this] { update(); };
    connect(&review, &ReviewDesk::dataChanged, this, redraw);
    connect(&review, &ReviewDesk::passChosen, this, redraw);
    connect(&review.axis(), &AxisLink::rangeChanged, this, redraw);
    connect(&review.desk().units, &Units::changed, this, redraw);
}

QSize SessionRibbon::sizeHint() const { return {640, static_cast<int>(blockTop() + blockHeight + 28.0)}; }
double SessionRibbon::blockTop() const { return QFontMetricsF(rw::font(Type::SmallStrong)).height() + 6.0; }

RibbonScale SessionRibbon::scale() const {
    std::vector<Range> sessions;
    if (const auto current = review_.data()) {
        for (std::size_t i = 0; i < current->review->sessions.size(); ++i)
            sessions.push_back(current->spanOfSession(i));
    }
    return {sessions, {4.0, width() - 4.0}};
}

QRectF SessionRibbon::passRect(std::size_t pass, const RibbonScale& scale) const {
    const Range span = review_.data()->spanOfPass(pass);
    const double from = scale.pixelOf(span.from);
    const double wide = std::max(5.0, scale.pixelOf(span.to) - from);
    return {from, blockTop() + 5.0, wide, blockHeight - 10.0};
}

void SessionRibbon::paintSession(QPainter& painter, std::size_t session, const RibbonScale& scale) const {
    const Look& look = Look::of(this);
    const Range block = scale.blocks()[session];
    const QRectF rect(block.from, blockTop(), block.span(), blockHeight);
    const Range span = review_.data()->spanOfSession(session);
    const Range seen = review_.axis().range();
    const bool inView = seen.to > span.from && seen.from < span.to && review_.data()->review->sessions.size() > 1 &&
                        seen != review_.axis().bounds();
    painter.setPen(QPen(inView ? look.accent : look.rule, 1.0));
    painter.setBrush(look.wash);
    painter.drawRoundedRect(rect.adjusted(0.5, 0.5, -0.5, -0.5), 5.0, 5.0);
    painter.setBrush(Qt::NoBrush);

    const auto& blocks = scale.blocks();
    const double room = (session + 1 < blocks.size() ? blocks[session + 1].from - 8.0 : width()) - block.from;
    setInk(painter, Type::SmallStrong, look.ink);
    const QFontMetricsF metrics(painter.font());
    painter.drawText(
        QPointF(block.from, metrics.ascent() + 1.0),
        metrics.elidedText(sessionLabel(*review_.data(), session, review_.desk().units), Qt::ElideRight, room));
    if (session == 0) return;
    QPen gap(look.soft, 1.0);
    gap.setDashPattern({2.0, 4.0});
    painter.setPen(gap);
    const double middle = blockTop() + 0.5 * blockHeight;
    painter.drawLine(QPointF(blocks[session - 1].to + 3.0, middle), QPointF(block.from - 3.0, middle));
}

void SessionRibbon::paintPass(QPainter& painter, std::size_t pass, const RibbonScale& scale) const {
    const Look& look = Look::of(this);
    const bool chosen = review_.pass() == pass;
    const QRectF rect = passRect(pass, scale);
    fillRounded(painter, rect, 2.0, chosen ? look.accent : look.soft);
    painter.setBrush(Qt::NoBrush);
    if (chosen) { // handles: what can be dragged
        painter.setPen(QPen(look.ink, 2.0));
        for (const double x : {rect.left(), rect.right()}) {
            painter.drawLine(QPointF(x, blockTop() + 1.0), QPointF(x, blockTop() + blockHeight - 1.0));
        }
    }
    setInk(painter, chosen ? Type::SmallStrong : Type::Small, chosen ? look.accent : look.soft);
    const QFontMetricsF metrics(painter.font());
    const QString number = QString::number(pass + 1);
    // Numbers that would touch the one before are left out, the chosen one never.
    const bool crowded =
        pass > 0 && !chosen &&
        rect.center().x() - passRect(pass - 1, scale).center().x() < metrics.horizontalAdvance(number) + 8.0;
    if (crowded) return;
    painter.drawText(QPointF(rect.center().x() - 0.5 * metrics.horizontalAdvance(number),
                             blockTop() + blockHeight + 4.0 + metrics.ascent()),
                     number);
}

void SessionRibbon::paintSeen(QPainter& painter, const RibbonScale& scale) const {
    const Look& look = Look::of(this);
    const Range seen = review_.axis().range();
    if (seen == review_.axis().bounds()) return;
    const double from = scale.pixelOf(seen.from);
    const double to = std::max(from + 3.0, scale.pixelOf(seen.to));
    const double y = blockTop() + blockHeight + 2.5;
    strokeLine(painter, QPen(look.accent, 2.0, Qt::SolidLine, Qt::RoundCap), QPointF(from, y), QPointF(to, y));
}

void SessionRibbon::paintEvent(QPaintEvent*) {
    const auto current = review_.data();
    if (!current) return;
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const RibbonScale where = scale();
    for (std::size_t i = 0; i < current->review->sessions.size(); ++i)
        paintSession(painter, i, where);
    for (std::size_t i = 0; i < current->review->passes.size(); ++i)
        paintPass(painter, i, where);
    paintSeen(painter, where);
    const Look& look = Look::of(this);
    if (held_ && moved_) {
        painter.setPen(QPen(look.ink, 1.5));
        painter.drawLine(QPointF(heldAt_, blockTop() - 4.0), QPointF(heldAt_, blockTop() + blockHeight + 4.0));
    }
    if (hasFocus()) {
        strokeLine(painter, QPen(look.accent, 2.0), QPointF(1.0, blockTop()), QPointF(1.0, blockTop() + blockHeight));
    }
}

std::optional<SessionRibbon::Grip> SessionRibbon::gripAt(QPointF at) const {
    const auto current = review_.data();
    if (!current || at.y() < blockTop() - 2.0 || at.y() > blockTop() + blockHeight + 2.0) return std::nullopt;
    const RibbonScale where = scale();
    if (const auto pass = review_.pass()) {
        const QRectF rect = passRect(*pass, where);
        if (std::abs(at.x() - rect.left()) <= gripReach) return Grip{Grip::Kind::PassStart, *pass, rect.left()};
        if (std::abs(at.x() - rect.right()) <= gripReach) return Grip{Grip::Kind::PassEnd, *pass, rect.right()};
    }
    for (std::size_t i = 1; i < where.blocks().size(); ++i) {
        const double start = where.blocks()[i].from;
        const double end = where.blocks()[i - 1].to; // the end of one is the start of the next
        if (std::abs(at.x() - start) <= gripReach || std::abs(at.x() - end) <= gripReach) {
            return Grip{Grip::Kind::SessionStart, i, start};
        }
    }
    return std::nullopt;
}

std::optional<std::size_t> SessionRibbon::passAt(QPointF at) const {
    const auto current = review_.data();
    if (!current) return std::nullopt;
    const RibbonScale where = scale();
    for (std::size_t i = current->review->passes.size(); i-- > 0;) {
        if (passRect(i, where).adjusted(-3.0, -6.0, 3.0, 24.0).contains(at)) return i;
    }
    return std::nullopt;
}

void SessionRibbon::mouseMoveEvent(QMouseEvent* event) {
    const QPointF at = event->position();
    if (held_) {
        moved_ = moved_ || std::abs(at.x() - held_->pixel) > 3.0;
        heldAt_ = at.x();
        update();
        return;
    }
    if (gripAt(at))
        setCursor(Qt::SizeHorCursor);
    else if (passAt(at) || scale().blockAt(at.x()))
        setCursor(Qt::PointingHandCursor);
    else
        unsetCursor();
}

void SessionRibbon::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) return;
    held_ = gripAt(event->position());
    heldAt_ = event->position().x();
    moved_ = false;
}

void SessionRibbon::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton || !review_.data()) return;
    const std::optional<Grip> grip = std::exchange(held_, std::nullopt);
    if (grip && moved_) {
        drop(*grip, event->position().x());
    } else if (const auto pass = passAt(event->position())) {
        review_.goToPass(*pass);
    } else if (const auto session = scale().blockAt(event->position().x())) {
        review_.goToSession(*session);
    }
    moved_ = false;
    update();
}

void SessionRibbon::drop(const Grip& grip, double pixel) {
    const auto current = review_.data();
    const std::uint32_t line = current->lineAt(scale().timeOf(pixel));
    if (grip.kind == Grip::Kind::SessionStart) {
        const std::uint32_t from = current->review->sessions[grip.index].startLine;
        review_.edit(tr("move session %1").arg(grip.index + 1), withMovedSession(review_.edits(), from, line));
        return;
    }
    const ReviewPass& pass = current->review->passes[grip.index];
    const LineSpan from{current->log->line[pass.startRow], current->log->line[pass.endRow]};
    LineSpan to = from;
    (grip.kind == Grip::Kind::PassStart ? to.first : to.last) = line;
    if (to.first >= to.last) return; // turned inside out: nothing is changed
    review_.edit(tr("move pass %1").arg(grip.index + 1), withMovedPass(review_.edits(), from, to));
}

void SessionRibbon::keyPressEvent(QKeyEvent* event) {
    const auto current = review_.data();
    const std::size_t count = current ? current->review->passes.size() : 0;
    const auto now = review_.pass();
    if (event->key() == Qt::Key_Home) return review_.axis().showAll();
    if (count > 0 && event->key() == Qt::Key_Right) return review_.goToPass(now ? std::min(*now + 1, count - 1) : 0);
    if (count > 0 && event->key() == Qt::Key_Left) return review_.goToPass(now && *now > 0 ? *now - 1 : 0);
    if (now && (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)) return review_.goToPass(*now);
    QWidget::keyPressEvent(event);
}

QString SessionRibbon::tipAt(QPointF at) const {
    const auto current = review_.data();
    if (!current) return {};
    const Units& units = review_.desk().units;
    if (gripAt(at)) return tr("Drag to correct where it begins or ends");
    if (const auto pass = passAt(at)) {
        const ReviewPass& p = current->review->passes[*pass];
        return tr("Pass %1, %2 s, from %3 s in session %4")
            .arg(*pass + 1)
            .arg(p.end - p.start, 0, 'f', 1)
            .arg(p.start, 0, 'f', 1)
            .arg(p.session + 1);
    }
    if (const auto session = scale().blockAt(at.x())) {
        const ReviewSession& s = current->review->sessions[*session];
        return tr("%1, %2 min, lines %3 to %4")
            .arg(sessionLabel(*current, *session, units))
            .arg(s.duration / 60.0, 0, 'f', 1)
            .arg(s.startLine)
            .arg(s.endLine);
    }
    return {};
}

bool SessionRibbon::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        const auto* help = static_cast<QHelpEvent*>(event);
        QToolTip::showText(help->globalPos(), tipAt(help->pos()), this);
        return true;
    }
    return QWidget::event(event);
}

} // namespace rw
