#include "app/desktop/plan/tab_groups.h"

#include "app/desktop/shared/widgets.h"
#include "plotting/look.h"

#include <QAccessible>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>

#include <algorithm>

namespace rw {

namespace {

constexpr double tabGap = 2.0 * gridStep, usualGap = 4.0 * gridStep, leastGap = 2.5 * gridStep;
constexpr double underline = 2.0;

QFontMetricsF measured(Type type) { return QFontMetricsF(font(type)); }

double textWidth(const QString& title) { return measured(Type::Strong).horizontalAdvance(title); }

} // namespace

TabGroupBar::TabGroupBar() {
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void TabGroupBar::add(const QString& group, const QString& title) {
    tabs_.push_back({group, title});
    tellReaders();
    updateGeometry();
}

bool TabGroupBar::beginsGroup(std::size_t index) const {
    return index > 0 && tabs_[index].group != tabs_[index - 1].group;
}

double TabGroupBar::widthWith(double gap) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < tabs_.size(); ++i)
        sum += textWidth(tabs_[i].title) + (i == 0 ? 0.0 : beginsGroup(i) ? gap : tabGap);
    return sum;
}

double TabGroupBar::gapBetweenGroups() const {
    const double spare = width() - widthWith(0.0);
    const auto groups = static_cast<double>(std::max<std::size_t>(
        1, static_cast<std::size_t>(std::count_if(
               tabs_.begin(), tabs_.end(), [&, i = std::size_t{0}](const Tab&) mutable { return beginsGroup(i++); }))));
    return std::clamp(spare / groups, leastGap, usualGap);
}

bool TabGroupBar::captions() const { return width() >= widthWith(leastGap); }

QRectF TabGroupBar::tabRect(int index) const {
    const double gap = gapBetweenGroups();
    double x = 0.0;
    for (std::size_t i = 0; i < tabs_.size(); ++i) {
        if (i > 0) x += beginsGroup(i) ? gap : tabGap;
        const double width = textWidth(tabs_[i].title);
        if (static_cast<int>(i) == index) {
            const double height = measured(Type::Body).height() + gridStep;
            return {x, this->height() - height, width, height};
        }
        x += width;
    }
    return {};
}

QSize TabGroupBar::sizeHint() const {
    const double height = measured(Type::Small).height() + measured(Type::Body).height() + 1.5 * gridStep;
    return {static_cast<int>(widthWith(usualGap)) + 1, static_cast<int>(height)};
}

QSize TabGroupBar::minimumSizeHint() const { return {static_cast<int>(widthWith(leastGap)) + 1, sizeHint().height()}; }

void TabGroupBar::setCurrent(int index) {
    if (index < 0 || index >= count() || index == current_) return;
    current_ = index;
    tellReaders();
    update();
    emit currentChanged(index);
}

// Group and tab are the control's name: a reader says them on every step.
void TabGroupBar::tellReaders() {
    if (tabs_.empty()) return;
    const Tab& tab = tabs_[static_cast<std::size_t>(current_)];
    setAccessibleName(tr("%1: %2, tab %3 of %4").arg(tab.group, tab.title).arg(current_ + 1).arg(count()));
    QAccessibleEvent event(this, QAccessible::NameChanged);
    QAccessible::updateAccessibility(&event);
}

void TabGroupBar::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Look& look = Look::of(this);
    strokeLine(painter, QPen(look.rule, 1.0), QPointF(0.0, height() - 0.5), QPointF(width(), height() - 0.5));
    const QString open = tabs_.empty() ? QString() : tabs_[static_cast<std::size_t>(current_)].group;
    for (std::size_t i = 0; i < tabs_.size(); ++i) {
        const QRectF rect = tabRect(static_cast<int>(i));
        if (captions() && (i == 0 || beginsGroup(i))) {
            const bool accented = tabs_[i].group == open;
            setInk(painter, accented ? Type::SmallStrong : Type::Small, accented ? look.accent : look.soft);
            const double height = measured(Type::Small).height();
            painter.drawText(QRectF(rect.left(), 0.0, width() - rect.left(), height), Qt::AlignLeft | Qt::AlignVCenter,
                             tabs_[i].group);
        }
        const bool chosen = static_cast<int>(i) == current_;
        setInk(painter, chosen ? Type::Strong : Type::Body, chosen ? look.ink : look.soft);
        painter.drawText(rect.adjusted(0.0, 0.0, 4.0, -gridStep / 2.0), Qt::AlignLeft | Qt::AlignVCenter,
                         tabs_[i].title);
        if (!chosen) continue;
        painter.fillRect(QRectF(rect.left(), rect.bottom() - underline, rect.width(), underline), look.accent);
        if (hasFocus()) {
            painter.setPen(QPen(look.accent, 1.0));
            painter.drawRoundedRect(rect.adjusted(-4.5, 0.5, 4.5, -underline - 1.5), 3.0, 3.0);
        }
    }
}

void TabGroupBar::mousePressEvent(QMouseEvent* event) {
    for (int i = 0; i < count(); ++i)
        if (tabRect(i).adjusted(-tabGap / 2.0, -gridStep, tabGap / 2.0, 0.0).contains(event->position())) setCurrent(i);
}

void TabGroupBar::keyPressEvent(QKeyEvent* event) {
    const bool mirrored = layoutDirection() == Qt::RightToLeft;
    switch (event->key()) {
    case Qt::Key_Left:
        return setCurrent(current_ + (mirrored ? 1 : -1));
    case Qt::Key_Right:
        return setCurrent(current_ + (mirrored ? -1 : 1));
    case Qt::Key_Home:
        return setCurrent(0);
    case Qt::Key_End:
        return setCurrent(count() - 1);
    default:
        QWidget::keyPressEvent(event);
    }
}

TabGroups::TabGroups()
    : bar_(new TabGroupBar)
    , pages_(new QStackedWidget) {
    lay(*columnIn(this, 0), {bar_, grow(pages_)});
    connect(bar_, &TabGroupBar::currentChanged, this, [this](int index) {
        pages_->setCurrentIndex(index);
        emit currentChanged(index);
    });
}

void TabGroups::addPanel(const QString& group, const QString& title, QWidget* panel) {
    pages_->addWidget(panel);
    bar_->add(group, title);
}

void TabGroups::setCurrentWidget(QWidget* panel) { bar_->setCurrent(pages_->indexOf(panel)); }

} // namespace rw
