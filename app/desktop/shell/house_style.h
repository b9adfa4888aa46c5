// Fusion with what neither palette nor style sheet can say: a focus that is seen on every control, check boxes that
// stand out from either ground, and dialog buttons that are words alone.
#pragma once

#include <QProxyStyle>

namespace rw {

class HouseStyle : public QProxyStyle {
public:
    HouseStyle();
    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override;
    int styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                  QStyleHintReturn* returned) const override;
};

} // namespace rw
