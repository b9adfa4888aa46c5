#include "app/desktop/shell/house_style.h"

#include "plotting/look.h"

#include <QPainter>
#include <QPushButton>
#include <QStyleFactory>
#include <QStyleOption>
#include <QToolButton>

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

} // namespace

HouseStyle::HouseStyle()
    : QProxyStyle(QStyleFactory::create(QStringLiteral("Fusion"))) {}

void HouseStyle::drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                               const QWidget* widget) const {
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
