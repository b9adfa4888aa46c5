#include "app/desktop/shell/house_style.h"

#include "plotting/look.h"

#include <QPainter>
#include <QPushButton>
#include <QStyleFactory>
#include <QStyleOption>
#include <QToolButton>

#include <algorithm>

namespace rw {

namespace {

void drawFocus(QPainter& painter, const QStyleOption& option) {
    constexpr double radius = 3.0;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(Look::of(option.palette).accent, 1.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), radius, radius);
    painter.restore();
}

// Fusion derives the frame of a check box from the ground, and it vanishes where both are light.
void drawCheck(QPainter& painter, const QStyleOption& option) {
    const Look& look = Look::of(option.palette);
    const bool enabled = option.state.testFlag(QStyle::State_Enabled);
    const bool ticked = option.state.testFlag(QStyle::State_On);
    const double side = std::min({option.rect.width(), option.rect.height(), 15});
    QRectF box(0.0, 0.0, side - 1.0, side - 1.0);
    box.moveCenter(QRectF(option.rect).center());
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(ticked && enabled ? look.accent : look.soft, 1.25));
    painter.setBrush(ticked && enabled ? look.accent : look.sheet);
    painter.drawRoundedRect(box, 2.5, 2.5);
    painter.setPen(QPen(enabled ? (look.dark ? look.ground : look.sheet) : look.soft, 1.75, Qt::SolidLine, Qt::RoundCap,
                        Qt::RoundJoin));
    painter.setBrush(Qt::NoBrush);
    const auto at = [&box](double x, double y) {
        return QPointF(box.left() + x * box.width(), box.top() + y * box.height());
    };
    if (ticked)
        painter.drawPolyline(QPolygonF({at(0.24, 0.54), at(0.43, 0.73), at(0.78, 0.30)}));
    else if (option.state.testFlag(QStyle::State_NoChange))
        painter.drawLine(at(0.25, 0.5), at(0.75, 0.5));
    painter.restore();
}

} // namespace

HouseStyle::HouseStyle()
    : QProxyStyle(QStyleFactory::create(QStringLiteral("Fusion"))) {}

void HouseStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                               const QWidget* widget) const {
    if (element == PE_IndicatorCheckBox || element == PE_IndicatorItemViewItemCheck)
        return drawCheck(*painter, *option);
    if (element != PE_FrameFocusRect) return QProxyStyle::drawPrimitive(element, option, painter, widget);
    // The style sheet colours the whole frame of a button: a second one inside it would be too much.
    const bool framed =
        qobject_cast<const QPushButton*>(widget) != nullptr || qobject_cast<const QToolButton*>(widget) != nullptr;
    if (!framed) drawFocus(*painter, *option);
}

void HouseStyle::drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                                    const QWidget* widget) const {
    QProxyStyle::drawComplexControl(control, option, painter, widget);
    const bool field = control == CC_ComboBox || control == CC_SpinBox;
    if (field && option->state.testFlag(State_HasFocus)) drawFocus(*painter, *option);
}

int HouseStyle::styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                          QStyleHintReturn* returned) const {
    if (hint == SH_DialogButtonBox_ButtonsHaveIcons) return 0;
    return QProxyStyle::styleHint(hint, option, widget, returned);
}

} // namespace rw
